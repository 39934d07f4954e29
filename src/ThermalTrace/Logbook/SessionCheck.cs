using System.Globalization;
using ThermalTrace.Learning;
using ThermalTrace.Units;

namespace ThermalTrace.Logbook;

/// <summary>What a session must be before it is kept: a file from somewhere may claim anything.</summary>
internal static class SessionCheck
{
    private const int LongestText = 20_000; // no name or sentence is longer; what is, is no session

    /// <summary>Refuses what does not hang together.</summary>
    /// <param name="session">To be kept.</param>
    /// <param name="name">What messages call its file.</param>
    /// <exception cref="UnusableInputException">With what was found and what was expected.</exception>
    public static void Require(LogbookSession session, string name)
    {
        if (Complaint(session) is { } complaint)
        {
            throw new UnusableInputException($"{name}: {complaint}; debrief the session again");
        }
    }

    private static string? Complaint(LogbookSession session)
    {
        SessionEvidence e = session.Evidence;
        int n = e.Terms.Count, b = e.BallastsG.Count;
        if (string.IsNullOrWhiteSpace(session.Airframe.Name))
        {
            return "the airframe has no name; expected one, since it is by its name that the logbook knows an airframe";
        }
        if (session.Logs.Count == 0)
        {
            return "there is no log in it; expected at least one with its hash";
        }
        if (session.Logs.FirstOrDefault(l => l.Sha256.Length != 64 || !l.Sha256.All(char.IsAsciiHexDigitLower)) is { } odd)
        {
            return $"the log {odd.File} has the hash \"{odd.Sha256}\"; expected SHA-256 in 64 hexadecimal digits";
        }
        if (session.Logs.GroupBy(l => l.Sha256).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            return $"{string.Join(" and ", twice.Select(l => l.File))} are one and the same log, so its flights would count twice; keep one of them";
        }
        if (e.Date is { } date && !DateTime.TryParseExact(date, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out _))
        {
            return $"the day is \"{date}\"; expected year-month-day such as 2026-05-09";
        }
        if (e.Information.Count != 0 && e.Information.Count != n * n || e.Score.Count != 0 && e.Score.Count != n || e.Information.Count == 0 != (e.Score.Count == 0)
            || e.PriorMean.Count != n || e.PriorSd.Count != n || b > n)
        {
            return string.Create(CultureInfo.InvariantCulture, $"its evidence does not hang together: {n} terms, {e.Information.Count} numbers in their matrix, {e.Score.Count} scores, {e.PriorMean.Count} and {e.PriorSd.Count} priors, {b} ballasts");
        }
        if (e.Information.Concat(e.Score).Concat(e.PriorMean).Concat(e.PriorSd).Concat(e.BallastsG).Any(v => !double.IsFinite(v)) || !double.IsFinite(e.Rows) || !(e.Widening >= 1))
        {
            return "its evidence holds numbers that are none";
        }
        if (e.Climbs.FirstOrDefault(c => c.Flight < 0 || c.Flight >= e.Flights.Count) is { } lost)
        {
            return string.Create(CultureInfo.InvariantCulture, $"a climb belongs to flight {lost.Flight} of {e.Flights.Count}");
        }
        if (e.Flights.FirstOrDefault(f => session.Logs.All(l => l.File != f.Log)) is { } stray)
        {
            return $"a flight belongs to the log \"{stray.Log}\", which is not among its logs";
        }
        return Texts(session).Any(t => t.Length > LongestText) ? "a name or sentence in it is longer than 20,000 characters"
            : Texts(session).Any(t => t.Contains('\0', StringComparison.Ordinal) || HasLoneSurrogate(t)) ? "a name or sentence in it is not Unicode text" : null;
    }

    private static IEnumerable<string> Texts(LogbookSession s) =>
    [
        s.Airframe.Name, s.Airframe.Launch ?? "", s.Measure, s.Verdict, s.Why, s.Program, s.Reading?.Field ?? "",
        .. s.Logs.Select(l => l.File), .. s.Evidence.Terms, .. s.Evidence.Flights.Select(f => f.Log),
    ];

    // Such a text has no UTF-8, so it would not come back as it went in.
    private static bool HasLoneSurrogate(string text)
    {
        for (int i = 0; i < text.Length; i++)
        {
            if (char.IsSurrogate(text[i]) && !(char.IsHighSurrogate(text[i]) && i + 1 < text.Length && char.IsLowSurrogate(text[++i])))
            {
                return true;
            }
        }
        return false;
    }
}

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
        if (EvidenceCheck.Complaint(e) is { } complaint)
        {
            return complaint;
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

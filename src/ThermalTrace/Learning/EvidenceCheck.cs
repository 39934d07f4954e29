using System.Globalization;
using ThermalTrace.Polars;
using ThermalTrace.Units;

namespace ThermalTrace.Learning;

/// <summary>What evidence must be before it is added up: a file from somewhere may claim anything.</summary>
internal static class EvidenceCheck
{
    /// <summary>What does not hang together, in words; null where all does.</summary>
    public static string? Complaint(SessionEvidence e)
    {
        int n = e.Terms.Count, b = e.BallastsG.Count;
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
        return e.Climbs.FirstOrDefault(c => c.Flight < 0 || c.Flight >= e.Flights.Count) is { } lost
            ? string.Create(CultureInfo.InvariantCulture, $"a climb belongs to flight {lost.Flight} of {e.Flights.Count}")
            : null;
    }

    /// <summary>Refuses a session that cannot be added up.</summary>
    /// <exception cref="UnusableInputException">With what was found and what was expected.</exception>
    public static void Require(SeasonSession session)
    {
        SessionEvidence e = session.Evidence;
        if (e is { Format: SessionEvidence.CurrentFormat, Basis: null })
        {
            throw new UnusableInputException($"session {session.Id}: its evidence does not say what geometry it was gathered with; debrief the session again and add it anew");
        }
        if (e.Format != SessionEvidence.CurrentFormat)
        {
            throw new UnusableInputException($"session {session.Id}: its evidence is \"{e.Format}\", expected \"{SessionEvidence.CurrentFormat}\"; debrief the session again and add it anew");
        }
        string? complaint = Complaint(e);
        if (complaint is null && e.Information.Count > 0 && (e.Terms.Count < DragTerms.Common + e.BallastsG.Count || e.PriorSd.Any(sd => !(sd > 0))))
        {
            complaint = string.Create(CultureInfo.InvariantCulture, $"its evidence has {e.Terms.Count} terms for {e.BallastsG.Count} ballasts, expected at least {DragTerms.Common + e.BallastsG.Count}, each with a spread above 0");
        }
        if (complaint is not null)
        {
            throw new UnusableInputException($"session {session.Id}: {complaint}; debrief the session again and add it anew");
        }
    }
}

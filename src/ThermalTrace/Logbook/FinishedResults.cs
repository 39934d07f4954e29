using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace.Logbook;

/// <summary>Whether a session's finished results still are what a debrief of its folder would give.</summary>
public static class FinishedResults
{
    /// <summary>Why a debrief must be made again; null where its results may be taken.</summary>
    /// <param name="results">As read.</param>
    /// <param name="airframe">The folder's airframe as it is now.</param>
    /// <param name="logs">The folder's logs as they are now: name and SHA-256, lower case.</param>
    public static string? WhyStale(ResultsDocument results, Airframe airframe, IReadOnlyList<(string File, string Sha256)> logs)
    {
        ArgumentNullException.ThrowIfNull(results);
        ArgumentNullException.ThrowIfNull(airframe);
        if (results.Evidence is not { Format: SessionEvidence.CurrentFormat, Basis: not null })
        {
            return "they are an earlier program's";
        }
        Dictionary<string, string> then = results.Logs.DistinctBy(l => l.File).ToDictionary(l => l.File, l => l.Sha256.ToLowerInvariant(), StringComparer.Ordinal);
        if (logs.FirstOrDefault(l => !then.TryGetValue(l.File, out string? hash) || hash != l.Sha256).File is { } changed)
        {
            return then.ContainsKey(changed) ? $"{changed} was changed since" : $"{changed} is not in them";
        }
        if (then.Keys.FirstOrDefault(f => logs.All(l => l.File != f)) is { } gone)
        {
            return $"{gone} is no longer there";
        }
        AirframeEntry now = DocumentBuilder.Airframe(airframe), was = results.Airframe;
        bool same = now.Name == was.Name && now.Launch == was.Launch && Same(now.WingSpanMm, was.WingSpanMm) && Same(now.WingAreaDm2, was.WingAreaDm2)
            && Same(now.UnballastedMassG, was.UnballastedMassG) && Same(now.MaxFlyingMassG, was.MaxFlyingMassG);
        return same ? null : "the airframe was changed since";
    }

    // Documents are written rounded.
    private static bool Same(double? now, double? was) => now is { } a && was is { } b
        ? RoundedNumberConverter.Rounded(a).Equals(RoundedNumberConverter.Rounded(b)) : now is null && was is null;
}

using System.Globalization;
using ThermalTrace.Air;
using ThermalTrace.Decisions;
using ThermalTrace.Sessions;
using ThermalTrace.Tracks;

namespace ThermalTrace.Reports;

/// <summary>What in the session's own notes and sensors does not fit, in plain sentences for the document's limits.</summary>
internal static class Doubts
{
    /// <summary>Of residuals by speed as large as these: rarer is said. Phases told wrongly make small chances commoner than they should be.</summary>
    public const double MisfitChance = 0.00005;

    private const double AsWell = 2;           // log Bayes factor between two masses that cannot be told apart
    private const double LeastPitot = 0.015;   // of the factor: less is within any calibration

    /// <summary>The sentences, most important first; none where all fits.</summary>
    public static IReadOnlyList<string> Of(Session session, IReadOnlyList<FlownFlight> flights, Diagnosis diagnosis)
    {
        List<string> doubts = [];
        string File(int flight) => session.Logs[flights[flight].Flight.Track.Log].File;
        if (diagnosis.Doubt is { } doubt)
        {
            string who = doubt.WholeLog ? File(doubt.Flights[0]) : Text($"{File(doubt.Flights[0])} flight {flights[doubt.Flights[0]].Flight.Number}");
            // Two masses may fit about as well: the person who fitted the ballast knows which.
            string or = string.Concat(diagnosis.Ballasts.Where(b => b != doubt && b.LogFactor > doubt.LogFactor - AsWell && b.Flights.SequenceEqual(doubt.Flights)).Select(b => $" or {Grams(b.FliesLikeG)}"));
            doubts.Add($"{who} flies like {Grams(doubt.FliesLikeG)}{or}, not {Grams(doubt.NotedG)}: {Odds(doubt.LogFactor)} by its sink at each speed. "
                + $"Nothing was changed; every result for {Grams(doubt.NotedG)} still counts it. If the note is wrong, put it right in flights.csv and debrief again.");
        }
        if (diagnosis.Change is { } change)
        {
            string drag = string.Join(", ", change.Drag.Where(d => Math.Abs(d.Change) > 1.5 * d.StandardError)
                .Select(d => Text($"{Math.Abs(100 * d.Change):0} % {(d.Change > 0 ? "more" : "less")} drag at {d.AirspeedMps:0.0} m/s")));
            doubts.Add($"{Run(change.Flights, flights, File)} {(change.Flights.Count == 1 ? "flies" : "fly")} on a drag curve of {(change.Flights.Count == 1 ? "its" : "their")} own, {Odds(change.LogFactor)}"
                + (drag.Length > 0 ? $": {drag}, against the other flights" : "")
                + ". Was another camber flown, or something changed on the model? Note it in flights.csv under camber; until then the polars are a mixture of both.");
        }
        if (diagnosis.Residuals is { Probability: < MisfitChance } residuals)
        {
            Polars.SpeedResidual worst = residuals.BySpeed.MaxBy(s => Math.Abs(s.SinkMps) / Math.Max(s.StandardErrorMps, 1e-9))!;
            doubts.Add(Text($"The drag curve misfits: between {worst.LowMps:0.#} and {worst.HighMps:0.#} m/s the sink seen is {Math.Abs(worst.SinkMps):0.00} m/s {(worst.SinkMps > 0 ? "more" : "less")} than the curve's. Take the polar there with care."));
        }
        (int Log, BarometerDrift Drift)[] crept = [.. diagnosis.Drifts.Where(d => d.Drift.Corrected)];
        if (crept.Length > 0)
        {
            string logs = string.Join(", ", crept.Select(d => Text($"{session.Logs[d.Log].File} {Math.Abs(3600 * d.Drift.RateMps):0} m/h {(d.Drift.RateMps > 0 ? "up" : "down")} (give or take {PolarEntries.NormalFactor * 3600 * d.Drift.StandardErrorMps:0})")));
            double worst = crept.MaxBy(d => Math.Abs(d.Drift.RateMps)).Drift.RateMps;
            doubts.Add(Text($"The barometer crept against the satellite altitude: {logs}. Left in, {Math.Abs(3600 * worst):0} m/h would be {Math.Abs(worst):0.000} m/s of sink too {(worst > 0 ? "little" : "much")} in every glide. It was taken out."));
        }
        if (diagnosis.Pitot is { } pitot && Pitot(pitot) is { } sentence)
        {
            doubts.Add(sentence);
        }
        return doubts;
    }

    /// <summary>What the pitot was found to do; null where it is right as far as can be told.</summary>
    public static string? Pitot(PitotPool pitot)
    {
        double low = pitot.Factor - PolarEntries.NormalFactor * pitot.StandardError, high = pitot.Factor + PolarEntries.NormalFactor * pitot.StandardError;
        if (!(Math.Abs(pitot.Factor - 1) > LeastPitot) || (low < 1 && high > 1))
        {
            return null;
        }
        bool up = pitot.Factor > 1;
        (double least, double most) = up ? (low - 1, high - 1) : (1 - high, 1 - low);
        return Text($"The pitot reads {100 * Math.Abs(pitot.Factor - 1):0.#} % {(up ? "high" : "low")} ({100 * least:0.#} to {100 * most:0.#} %), found from turning flight in {pitot.Flights} {(pitot.Flights == 1 ? "flight" : "flights")}; airspeeds are corrected for it.");
    }

    private static string Run(IReadOnlyList<int> run, IReadOnlyList<FlownFlight> flights, Func<int, string> file) =>
        string.Join(", ", run.GroupBy(file).Select(log => Text($"{log.Key} {(log.Count() == 1 ? "flight" : "flights")} {string.Join(", ", log.Select(f => flights[f].Flight.Number))}")));

    private static string Odds(double logFactor) => logFactor > Math.Log(5000) ? "thousands of times likelier" : Text($"about {Round(Math.Exp(logFactor)):N0} times likelier");

    private static double Round(double value)
    {
        double unit = Math.Pow(10, Math.Floor(Math.Log10(value)));
        return Math.Round(value / unit) * unit;
    }

    private static string Grams(double ballastG) => Text($"{ballastG:0.#} g");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

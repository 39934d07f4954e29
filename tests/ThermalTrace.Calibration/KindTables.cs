using System.Globalization;
using System.Text;
using static ThermalTrace.Calibration.Figures;

namespace ThermalTrace.Calibration;

/// <summary>Results as Markdown, kind by kind, with standard errors.</summary>
internal static class KindTables
{
    /// <summary>How close the estimates came and how often their intervals held.</summary>
    public static string Write(IReadOnlyList<(string Kind, IReadOnlyList<SessionResult> Results)> kinds)
    {
        StringBuilder text = new();
        foreach ((string Title, (string Name, Func<IReadOnlyList<SessionResult>, string> Cell)[] Columns) in Tables)
        {
            text.Append(CultureInfo.InvariantCulture, $"### {Title}\n\n| kind | {string.Join(" | ", Columns.Select(c => c.Name))} |\n|{string.Concat(Enumerable.Repeat(" --- |", Columns.Length + 1))}\n");
            foreach ((string kind, IReadOnlyList<SessionResult> results) in kinds.Append(("all", [.. kinds.SelectMany(k => k.Results)])))
            {
                text.Append(CultureInfo.InvariantCulture, $"| {kind} | {string.Join(" | ", Columns.Select(c => c.Cell(results)))} |\n");
            }
            text.Append('\n');
        }
        return text.ToString();
    }

    private static readonly (string Title, (string Name, Func<IReadOnlyList<SessionResult>, string> Cell)[] Columns)[] Tables =
    [
        ("Sink polar",
        [
            ("sessions", r => Text(r.Count, "0")),
            ("error m/s", r => Rms(r.Select(s => s.Score.PolarErrorMps))),
            ("bound m/s", r => Rms(r.Select(s => s.Bound.PolarErrorMps))),
            ("ratio", r => Text(OverBound(r), "0.00")),
            ("predicted m/s", r => Text(Score.RootMeanSquare(r.Select(s => s.Score.PredictedErrorMps)), "0.0000")),
            ("bias m/s", r => Averaged(r.Select(s => s.Score.PolarBiasMps), "+0.0000;-0.0000")),
            ("bound's bias m/s", r => Averaged(r.Select(s => s.Bound.PolarBiasMps), "+0.0000;-0.0000")),
            ("coverage", r => Averaged(r.Select(s => s.Score.PolarCoverage))),
            ("bound's coverage", r => Averaged(r.Select(s => s.Bound.PolarCoverage))),
            ("width m/s", r => Text(Score.Mean(r.Select(s => s.Score.PolarWidthMps)), "0.000")),
            ("worse than predicted", r => Share(r.Select(WorseThanPredicted))),
            ("span", r => Text(Score.Mean(r.Select(s => s.Score.SpeedSpan)), "0.00")),
            ("lost", r => Text(r.Sum(s => s.Score.PolarsLost), "0")),
        ]),
        ("Best glide and least sink",
        [
            ("best glide error", r => Rms(r.SelectMany(s => s.Score.BestGlideErrors))),
            ("coverage", r => Clustered(r, s => s.Score.BestGlideInside)),
            ("least sink error", r => Rms(r.SelectMany(s => s.Score.MinSinkErrors))),
            ("coverage", r => Clustered(r, s => s.Score.MinSinkInside)),
        ]),
        ("Flights, wind and turbulence",
        [
            ("kinds", r => Averaged(r.Select(s => s.Score.Kinds), "0.0000")),
            ("climb F1", r => Text(ClimbF1(r), "0.0000")),
            ("flights over", r => Text(r.Sum(s => s.Score.FlightsOver), "+0;-0;0")),
            ("flights lost", r => Text(r.Sum(s => s.Score.FlightsLost), "0")),
            ("wind error median m/s", r => Text(Score.Median(r.SelectMany(s => s.Score.WindErrorsMps)), "0.000")),
            ("over its own", r => Text(Score.RootMeanSquare(r.SelectMany(s => s.Score.WindPulls)), "0.00")),
            ("launch height m", r => Text(Score.RootMeanSquare(r.SelectMany(s => s.Score.LaunchHeightErrorsM)), "0.0")),
            ("EDR log error", r => Rms(r.SelectMany(s => s.Score.EdrLogErrors))),
            ("EDR coverage", r => Clustered(r, s => s.Score.EdrInside)),
        ]),
        ("Decision",
        [
            ("loss m/s", r => Averaged(r.Select(s => s.Score.LossMps), "0.0000")),
            ("bound m/s", r => Averaged(r.Select(s => s.Bound.LossMps), "0.0000")),
            ("plain rule m/s", r => Averaged(r.Select(s => s.Score.PlainRuleLossMps), "0.0000")),
            ("clear", r => Share(r.Select(IsClear))),
            ("clear and right", r => Share(r.Where(s => IsClear(s) > 0).Select(s => s.Score.LossMps <= FeltMps ? 1.0 : 0))),
            ("clear where margin ≥ 0.02", r => Share(r.Where(s => s.Score.TrueMarginMps >= PlainMarginMps).Select(IsClear))),
            ("Brier", r => Averaged(r.Select(s => s.Score.Brier))),
            ("always 1/k", r => Text(Score.Mean(r.Select(s => s.Score.BrierEven)), "0.000")),
            ("round trip error m/s", r => Rms(r.SelectMany(s => s.Score.RoundTripErrorsMps))),
            ("coverage", r => Clustered(r, s => s.Score.RoundTripInside)),
        ]),
    ];

    /// <summary>As good as the best, and a margin that a debrief should see, m/s.</summary>
    public const double FeltMps = 0.01, PlainMarginMps = 0.02;

    /// <summary>1 where the verdict is clear.</summary>
    public static double IsClear(SessionResult result) => result.Score.Verdict == "clear" ? 1 : 0;

    /// <summary>Root mean square of the sink's error over that of the bound's, in the sessions that have both.</summary>
    public static double OverBound(IReadOnlyList<SessionResult> results)
    {
        SessionResult[] both = [.. results.Where(s => !double.IsNaN(s.Score.PolarErrorMps) && !double.IsNaN(s.Bound.PolarErrorMps))];
        return Score.RootMeanSquare(both.Select(s => s.Score.PolarErrorMps)) / Score.RootMeanSquare(both.Select(s => s.Bound.PolarErrorMps));
    }

    /// <summary>1 where the measurement is farther off than the prediction by more than half its own band's mean width.</summary>
    public static double WorseThanPredicted(SessionResult result) => double.IsNaN(result.Score.PolarErrorMps) ? double.NaN
        : result.Score.PolarErrorMps - result.Score.PredictedErrorMps > 0.5 * result.Score.PolarWidthMps ? 1 : 0;

    /// <summary>Twice the hits over twice the hits and all that was missed or false, over every look of every session.</summary>
    public static double ClimbF1(IReadOnlyList<SessionResult> results)
    {
        double hits = results.Sum(s => s.Score.ClimbHits), wrong = results.Sum(s => s.Score.ClimbMisses + s.Score.ClimbFalse);
        return hits + wrong > 0 ? 2 * hits / (2 * hits + wrong) : double.NaN;
    }
}

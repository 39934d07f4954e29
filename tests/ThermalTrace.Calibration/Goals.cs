using System.Globalization;
using System.Text;
using static ThermalTrace.Calibration.Figures;

namespace ThermalTrace.Calibration;

/// <summary>The goals and what was found.</summary>
internal static class Goals
{
    private sealed record Goal(string Figure, string Wanted, string Found, bool Met);

    /// <summary>As Markdown.</summary>
    public static string Write(IReadOnlyList<(string Kind, IReadOnlyList<SessionResult> Results)> kinds)
    {
        StringBuilder text = new("### Goals\n\n| figure | goal | found | met |\n| --- | --- | --- | --- |\n");
        foreach (Goal goal in Of(kinds))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {goal.Figure} | {goal.Wanted} | {goal.Found} | {(goal.Met ? "yes" : "no")} |\n");
        }
        return text.Append('\n').ToString();
    }

    private static IEnumerable<Goal> Of(IReadOnlyList<(string Kind, IReadOnlyList<SessionResult> Results)> kinds)
    {
        IReadOnlyList<SessionResult> all = [.. kinds.SelectMany(k => k.Results)];
        (string Kind, double Value)[] ByKind(Func<IReadOnlyList<SessionResult>, double> of) => [.. kinds.Select(k => (k.Kind, of(k.Results))).Where(k => !double.IsNaN(k.Item2)).OrderBy(k => k.Item2)];
        static string Range((string Kind, double Value)[] of, string format) => of.Length == 0 ? "–" : $"{Text(of[0].Value, format)} ({of[0].Kind}) to {Text(of[^1].Value, format)} ({of[^1].Kind})";
        static bool Within((string Kind, double Value)[] of, double low, double high) => of.Length > 0 && of[0].Value >= low && of[^1].Value <= high;

        (string Kind, double Value)[] ratios = ByKind(KindTables.OverBound);
        double middle = ratios.Length == 0 ? double.NaN : 0.5 * (ratios[(ratios.Length - 1) / 2].Value + ratios[ratios.Length / 2].Value);
        yield return new("sink error over the bound, median over kinds", "≤ 1.5", Text(middle, "0.00"), middle <= 1.5);
        yield return new("the same, worst kind", "≤ 3", ratios.Length == 0 ? "–" : $"{Text(ratios[^1].Value, "0.00")} ({ratios[^1].Kind})", ratios.Length > 0 && ratios[^1].Value <= 3);
        yield return new("worse than the prediction by more than its own interval", "≤ 10 %", Share(all.Select(KindTables.WorseThanPredicted)), Score.Mean(all.Select(KindTables.WorseThanPredicted)) <= 0.1);

        (string Kind, double Value)[] bands = ByKind(r => Score.Mean(r.Select(s => s.Score.PolarCoverage)));
        yield return new("90 % bands of sink holding the truth, every kind", "0.86–0.94", Range(bands, "0.000"), Within(bands, 0.86, 0.94));
        double glide = Score.RootMeanSquare(all.SelectMany(s => s.Score.BestGlideErrors)), least = Score.RootMeanSquare(all.SelectMany(s => s.Score.MinSinkErrors));
        yield return new("best glide ratio, least sink, relative error where flown", "≤ 5 %", $"{Text(100 * glide, "0.0")} %, {Text(100 * least, "0.0")} %", glide <= 0.05 && least <= 0.05);
        (string Kind, double Value)[] glides = ByKind(r => Score.Mean(r.SelectMany(s => s.Score.BestGlideInside))), sinks = ByKind(r => Score.Mean(r.SelectMany(s => s.Score.MinSinkInside)));
        yield return new("coverage of best glide ratio, every kind", "0.86–0.94", Range(glides, "0.000"), Within(glides, 0.86, 0.94));
        yield return new("coverage of least sink, every kind", "0.86–0.94", Range(sinks, "0.000"), Within(sinks, 0.86, 0.94));

        double wind = Score.Median(all.SelectMany(s => s.Score.WindErrorsMps)), pull = Score.RootMeanSquare(all.SelectMany(s => s.Score.WindPulls));
        yield return new("mean wind of a flight, vector error, median", "≤ 0.12 m/s", $"{Text(wind, "0.000")} m/s", wind <= 0.12);
        yield return new("that error over its own standard error", "0.8–1.2", Text(pull, "0.00"), pull is >= 0.8 and <= 1.2);
        double right = Score.Mean(all.Select(s => s.Score.Kinds)), climbs = KindTables.ClimbF1(all);
        yield return new("airborne time given its kind; climbs F1", "≥ 0.985; ≥ 0.98", $"{Text(right, "0.0000")}; {Text(climbs, "0.0000")}", right >= 0.985 && climbs >= 0.98);
        double edr = Score.RootMeanSquare(all.SelectMany(s => s.Score.EdrLogErrors)), holds = Score.Mean(all.SelectMany(s => s.Score.EdrInside));
        yield return new("turbulence, log error; coverage", "≤ 0.25; 0.84–0.96", $"{Text(edr, "0.000")}; {Text(holds, "0.000")}", edr <= 0.25 && holds is >= 0.84 and <= 0.96);

        double loss = Score.Mean(all.Select(s => s.Score.LossMps)), bound = Score.Mean(all.Select(s => s.Bound.LossMps)), plain = Score.Mean(all.Select(s => s.Score.PlainRuleLossMps));
        yield return new("loss of the ballast named, mean", $"≤ 0.008 m/s (or the bound, {Text(bound, "0.0000")}), below the plain rule's {Text(plain, "0.0000")}", Averaged(all.Select(s => s.Score.LossMps), "0.0000"), loss <= Math.Max(0.008, bound) && loss < plain);
        SessionResult[] clear = [.. all.Where(s => KindTables.IsClear(s) > 0)], plainly = [.. all.Where(s => s.Score.TrueMarginMps >= KindTables.PlainMarginMps)];
        double clearRight = Score.Mean(clear.Select(s => s.Score.LossMps <= KindTables.FeltMps ? 1.0 : 0)), clearOften = Score.Mean(plainly.Select(KindTables.IsClear));
        yield return new("when clear: best or within 0.01 m/s", "≥ 95 %", Share(clear.Select(s => s.Score.LossMps <= KindTables.FeltMps ? 1.0 : 0)), clearRight >= 0.95);
        yield return new("clear where the true margin is ≥ 0.02 m/s", "≥ 60 %", Share(plainly.Select(KindTables.IsClear)), clearOften >= 0.6);
        IReadOnlyList<Reliability.Fifth> fifths = Reliability.Of(all);
        yield return new("probability_best, each fifth", "within 0.07 or 2 standard errors", $"{fifths.Count(f => f.Holds)} of {fifths.Count} hold", fifths.All(f => f.Holds));
        double brier = Score.Mean(all.Select(s => s.Score.Brier)), even = Score.Mean(all.Select(s => s.Score.BrierEven));
        yield return new("Brier score", $"clearly below {Text(even, "0.000")}", Averaged(all.Select(s => s.Score.Brier)), brier < 0.8 * even);
    }
}

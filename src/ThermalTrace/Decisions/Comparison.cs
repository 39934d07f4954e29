using MathNet.Numerics.Distributions;
using ThermalTrace.Polars;

namespace ThermalTrace.Decisions;

/// <summary>A value and the bounds of its 90 % interval.</summary>
internal readonly record struct Band(double Value, double Low, double High)
{
    /// <summary>Mean and 5 % and 95 % points of draws; not-a-number draws are left out, NaN where none is left or a twentieth is not.</summary>
    public static Band Of(IEnumerable<double> draws)
    {
        List<double> sorted = [.. draws];
        int all = sorted.Count;
        sorted.RemoveAll(double.IsNaN);
        if (sorted.Count == 0 || sorted.Count < 0.95 * all)
        {
            return Unknown;
        }
        sorted.Sort();
        double At(double share)
        {
            double position = share * (sorted.Count - 1);
            int i = Math.Min((int)position, sorted.Count - 1), j = Math.Min(i + 1, sorted.Count - 1);
            return sorted[i] + (position - i) * (sorted[j] - sorted[i]);
        }
        double value = sorted.Average();
        return new Band(value, Math.Min(At(0.05), value), Math.Max(At(0.95), value));
    }

    /// <summary>Not known.</summary>
    public static readonly Band Unknown = new(double.NaN, double.NaN, double.NaN);

    /// <summary>True where there is a value.</summary>
    public bool IsKnown => !double.IsNaN(Value);
}

/// <summary>One option to choose from.</summary>
/// <param name="BallastG">g.</param>
/// <param name="MassKg">Flying mass, kg.</param>
/// <param name="Ballast">Index of its departure among the drag terms, or −1.</param>
/// <param name="Allowed">False above the airframe's limit: shown, and never suggested.</param>
internal sealed record Option(double BallastG, double MassKg, int Ballast, bool Allowed);

/// <summary>How an option fared over the draws.</summary>
internal sealed record OptionOutcome(Option Option, Band RoundTripMps, Band ClimbMps, double ReturnAirspeedMps, double? ReturnGlideRatio,
    Band LaunchHeightM, Band StillAirS, double? ProbabilityBest)
{
    /// <summary>The draws behind <see cref="RoundTripMps"/>.</summary>
    public IReadOnlyList<double> RoundTripDrawsMps { get; init; } = [];
    /// <summary>The draws behind <see cref="StillAirS"/>.</summary>
    public IReadOnlyList<double> StillAirDrawsS { get; init; } = [];
}

/// <summary>What is compared and how it came out.</summary>
/// <param name="RoundTrip">True for net climb after coming home, false for time aloft in still air.</param>
/// <param name="Wind">m/s.</param>
/// <param name="Lift">Core, m/s.</param>
/// <param name="Radius">m.</param>
/// <param name="Outcomes">Same order as the options.</param>
/// <param name="Best">Index of the best, or −1.</param>
/// <param name="Verdict">clear, leaning, no_difference or unknown.</param>
/// <param name="Certainty">Probability that the best is best or as good as.</param>
/// <param name="Rival">The option hardest to tell from the best, or −1.</param>
/// <param name="Edr">Turbulence that was taken; NaN where not known.</param>
internal sealed record ComparisonOutcome(bool RoundTrip, double Wind, Band Lift, Band Radius, IReadOnlyList<OptionOutcome> Outcomes, int Best,
    string Verdict, double Certainty, int Rival, double Edr);

/// <summary>
/// Ranks the options in every draw of everything that is uncertain: polar, wind, lift, its radius, what centring loses, launch
/// height. docs/models/decision.md.
/// </summary>
internal static class Comparison
{
    /// <summary>Less than this nobody feels, m/s.</summary>
    public const double FeltMps = 0.01;

    /// <summary>Draws that are looked at.</summary>
    public const int Most = 600;

    /// <summary>Compares.</summary>
    /// <param name="options">The options in draws of the drag terms.</param>
    /// <param name="air">The air of each draw.</param>
    /// <param name="launches">Launch heights; null where there was none.</param>
    /// <param name="seed">Seed.</param>
    public static ComparisonOutcome Run(DrawnOptions options, IDrawnAir air, LaunchHeights? launches, int seed)
    {
        System.Random random = new(seed);
        bool lifted = air.Lifted;
        int n = options.Options.Count, count = options.Draws;
        double[][] trips = Rows(n, count), rates = Rows(n, count), times = Rows(n, count), heights = Rows(n, count);
        double[] cores = new double[count], radii = new double[count];
        for (int d = 0; d < count; d++)
        {
            double wind = air.DrawWindMps(random);
            double[]? launch = launches?.Draw(random);
            DrawnLift? lift = lifted ? air.DrawLift(random, options.Coefficients(d)) : null;
            if (lift is not null)
            {
                (cores[d], radii[d]) = (lift.CoreMps, lift.Lift.RadiusM);
            }
            for (int k = 0; k < n; k++)
            {
                SinkCurve curve = options.Level(k, d);
                rates[k][d] = lift is not null ? options.Climb(k, d, lift.Lift).At(lift.CoreMps).ClimbMps : double.NaN;
                trips[k][d] = lifted && !double.IsNaN(wind) ? RoundTrip.For(curve, rates[k][d], wind, 0)?.ClimbMps ?? double.NaN : double.NaN;
                heights[k][d] = launch is null ? double.NaN : LaunchHeights.HeightM(launch, options.MassRatio(k), double.IsNaN(wind) ? 0 : wind);
                times[k][d] = heights[k][d] / curve.LeastSink().SinkMps;
            }
        }
        double[][] measure = lifted ? trips : times;
        double[] felt = [.. Enumerable.Range(0, count).Select(d => lifted ? FeltMps : FeltMps * times.Average(t => t[d]) * times.Average(t => t[d]) / Math.Max(heights.Average(h => h[d]), 1))];
        (int best, string verdict, double certainty, int rival, double?[] shares) = Judge(measure, felt, [.. options.Options.Select(o => o.Allowed)]);

        List<OptionOutcome> outcomes = [];
        for (int k = 0; k < n; k++)
        {
            Band climb = Band.Of(rates[k]);
            RoundTripResult? home = climb.IsKnown && !double.IsNaN(air.WindMps)
                ? RoundTrip.For(options.MeanLevel(k), climb.Value, air.WindMps, 0)
                : null;
            outcomes.Add(new OptionOutcome(options.Options[k], home is null ? Band.Unknown : Band.Of(trips[k]), climb, home?.ReturnAirspeedMps ?? double.NaN,
                home?.ReturnGlideRatio, Band.Of(heights[k]), Band.Of(times[k]), shares[k])
            { RoundTripDrawsMps = trips[k], StillAirDrawsS = times[k] });
        }
        return new ComparisonOutcome(lifted, air.WindMps, lifted ? Band.Of(cores) : Band.Unknown, lifted ? Band.Of(radii) : Band.Unknown, outcomes, best, verdict, certainty, rival, air.Edr);
    }

    /// <summary>Lift at the core of some climbs, time-weighted, with its interval; unknown without climbs.</summary>
    public static Band LiftOf(IReadOnlyList<(FlownClimb Climb, double MassKg, int Ballast)> climbs, double bareMassKg, CurveMaker maker, double[][] draws, double edr)
    {
        const int looks = 200;
        if (climbs.Count == 0)
        {
            return Band.Unknown;
        }
        System.Random random = new(1);
        WorkedClimbs worked = WorkedClimbs.Of(climbs, bareMassKg, maker);
        double[] cores = new double[looks];
        for (int d = 0; d < looks; d++)
        {
            cores[d] = worked.CoreMps(draws[d * draws.Length / looks], worked.DrawLift(random, edr));
        }
        return Band.Of(cores);
    }

    /// <summary>Ranks options by a measure over draws.</summary>
    /// <param name="all">By option and draw; NaN ranks last.</param>
    /// <param name="felt">Of every draw, the least difference that anybody feels.</param>
    /// <param name="allowed">False for options that are shown and never suggested.</param>
    public static (int Best, string Verdict, double Certainty, int Rival, double?[] Shares) Judge(double[][] all, double[] felt, bool[] allowed)
    {
        double?[] everyone = new double?[all.Length];
        int[] place = [.. Enumerable.Range(0, all.Length).Where(k => allowed[k])];
        (int best, string verdict, double certainty, int rival, double?[] shares) = Judge([.. place.Select(k => all[k])], felt);
        for (int p = 0; p < place.Length; p++)
        {
            everyone[place[p]] = shares[p];
        }
        return (best < 0 ? -1 : place[best], verdict, certainty, rival < 0 ? -1 : place[rival], everyone);
    }

    private static (int Best, string Verdict, double Certainty, int Rival, double?[] Shares) Judge(double[][] measure, double[] felt)
    {
        int n = measure.Length, count = felt.Length;
        double?[] shares = new double?[n];
        // A draw in which some option is not known at all (wind beyond its polar) ranks it last.
        double Value(int k, int d) => double.IsNaN(measure[k][d]) ? -1e9 : measure[k][d];
        if (n == 0 || measure.All(m => m.All(double.IsNaN)))
        {
            return (-1, "unknown", double.NaN, -1, shares);
        }
        double[] means = [.. Enumerable.Range(0, n).Select(k => Enumerable.Range(0, count).Average(d => Value(k, d)))];
        int best = Array.IndexOf(means, means.Max());
        int[] wins = new int[n];
        int asGood = 0, allAlike = 0;
        int[] close = new int[n];
        for (int d = 0; d < count; d++)
        {
            double top = double.NegativeInfinity, bottom = double.PositiveInfinity;
            int winner = 0;
            for (int k = 0; k < n; k++)
            {
                double value = Value(k, d);
                if (value > top)
                {
                    (top, winner) = (value, k);
                }
                bottom = Math.Min(bottom, value);
                close[k] += value > Value(best, d) - felt[d] ? 1 : 0;
            }
            wins[winner]++;
            asGood += Value(best, d) >= top - felt[d] ? 1 : 0;
            allAlike += top - bottom <= felt[d] ? 1 : 0;
        }
        for (int k = 0; k < n; k++)
        {
            shares[k] = (double)wins[k] / count;
        }
        int rival = n < 2 ? -1 : Enumerable.Range(0, n).Where(k => k != best).OrderByDescending(k => close[k]).ThenBy(k => k).First();
        double certainty = (double)asGood / count;
        string verdict = n < 2 ? "unknown" : (double)allAlike / count >= 0.9 ? "no_difference" : certainty >= 0.9 ? "clear" : "leaning";
        return (best, verdict, certainty, rival, shares);
    }

    private static double[][] Rows(int n, int count) => [.. Enumerable.Range(0, n).Select(_ => new double[count])];
}

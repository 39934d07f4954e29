using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Ballast;

/// <summary>What a flying mass does to the model; bands of 90 %, level flight in air of sea-level density, wings clean.</summary>
/// <param name="BallastG">g.</param>
/// <param name="FlyingMassG">g.</param>
/// <param name="SpeedRatio">Speeds over those of the bare model, √(m/m0): exact for the stall, better known than any of the speeds.</param>
/// <param name="StallMps">m/s.</param>
/// <param name="MinSinkAirspeedMps">Speed of least sink, m/s.</param>
/// <param name="BestGlideAirspeedMps">Speed of best glide, m/s.</param>
/// <param name="TurnRadiusM">Of a circle at <see cref="MassEffects.TurnBankDeg"/> at the lift coefficient of least sink, m.</param>
/// <param name="LaunchHeightM">Mean of throws in a calm, m; unknown where the model is not thrown.</param>
/// <param name="LaunchHeightRatio">Over that of the bare model.</param>
internal sealed record MassEffect(double BallastG, double FlyingMassG, double SpeedRatio, Band StallMps, Band MinSinkAirspeedMps, Band BestGlideAirspeedMps,
    Band TurnRadiusM, Band LaunchHeightM, Band LaunchHeightRatio);

/// <summary>Mass against speeds, circles and throws. docs/models/mass-effects.md.</summary>
internal static class MassEffects
{
    /// <summary>Largest lift coefficient of a whole clean wing with a thin section at Reynolds numbers of 50 000 to 200 000: usual, and 90 %. Common practice, no source.</summary>
    public const double UsualMaxCl = Planform.SlowestCl, LeastMaxCl = 0.90, MostMaxCl = 1.25;

    /// <summary>Bank of the circle, degrees.</summary>
    public const double TurnBankDeg = 30;

    private const int Draws = 500;

    /// <summary>The effects of each ballast, in the order given. The draws are the same for all, so that what differs between two ballasts is the mass.</summary>
    /// <param name="model">The season's, or the prediction where nothing was flown.</param>
    /// <param name="ballastsG">g, 0 for the bare model.</param>
    /// <param name="seed">Seed of every draw.</param>
    public static IReadOnlyList<MassEffect> Of(SeasonModel model, IReadOnlyList<double> ballastsG, int seed)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(ballastsG);
        double bareG = model.Airframe.UnballastedMassG;
        // A ballast's own departure makes all drag more or less and moves no speed: left out, one set of draws holds for any list of ballasts.
        Option[] options = [.. ballastsG.Select(b => new Option(b, (bareG + b) / 1000, -1, true))];
        if (options.Length == 0)
        {
            return [];
        }
        (CurveMaker maker, double[][] draws) = model.Curves(options, seed, Draws);
        double[] central = model.Drag.Central(options, maker.Terms);
        double[][] throws = Throws(model, seed);
        return [.. options.Select(option => Of(option, bareG, maker, central, draws, throws))];
    }

    private static MassEffect Of(Option option, double bareG, CurveMaker maker, double[] central, double[][] draws, double[][] throws)
    {
        double massG = option.MassKg * 1000, ratio = massG / bareG;
        double[] speeds = maker.Speeds(option.MassKg);
        double[][][] factors = maker.Factors(speeds, option.MassKg, option.Ballast);
        double[][] sinks = [.. draws.Select(d => CurveMaker.Sinks(factors, speeds, d))];
        double[] middle = CurveMaker.Sinks(factors, speeds, central);
        double[] slow = [.. sinks.Select(s => MinSinkAirspeedMps(speeds, s))];
        double slowMiddle = MinSinkAirspeedMps(speeds, middle);
        return new MassEffect(option.BallastG, massG, Math.Sqrt(ratio),
            new Band(StallMps(maker.Planform, UsualMaxCl, option.MassKg), StallMps(maker.Planform, MostMaxCl, option.MassKg), StallMps(maker.Planform, LeastMaxCl, option.MassKg)),
            About(slowMiddle, slow),
            About(BestGlideAirspeedMps(speeds, middle), sinks.Select(s => BestGlideAirspeedMps(speeds, s))),
            About(TurnRadiusAtSameClM(slowMiddle, TurnBankDeg), slow.Select(v => TurnRadiusAtSameClM(v, TurnBankDeg))),
            Band.Of(throws.Select(t => LaunchHeights.HeightM(t, ratio, 0))),
            Band.Of(throws.Select(t => LaunchHeights.HeightM(t, ratio, 0) / LaunchHeights.HeightM(t, 1, 0))));
    }

    /// <summary>Draws of a throw's coefficients; none where the height is pulled or chosen and mass alone does not tell it.</summary>
    private static double[][] Throws(SeasonModel model, int seed)
    {
        if (model.Airframe.Launch is not (LaunchKind.Discus or LaunchKind.Hand))
        {
            return [];
        }
        LaunchHeights heights = UsualLaunch.For(model, null).Heights;
        System.Random random = new(seed);
        return [.. Enumerable.Range(0, Draws).Select(_ => heights.Draw(random))];
    }

    /// <summary>V = √(2 m g/(ρ S CL)) at the largest lift coefficient, m/s.</summary>
    internal static double StallMps(Planform planform, double maxCl, double massKg) => planform.AirspeedMps(maxCl, massKg);

    /// <summary>R = V²/(g tan φ), m, for the speed in the circle.</summary>
    internal static double TurnRadiusM(double airspeedMps, double bankDeg) =>
        airspeedMps * airspeedMps / (PhysicalConstants.StandardGravityMps2 * Math.Tan(double.DegreesToRadians(bankDeg)));

    /// <summary>Radius of a circle flown at the lift coefficient of a level speed, m: in it the speed is higher by cos^-1/2.</summary>
    internal static double TurnRadiusAtSameClM(double levelMps, double bankDeg) =>
        TurnRadiusM(levelMps / Math.Sqrt(Math.Cos(double.DegreesToRadians(bankDeg))), bankDeg);

    /// <summary>Where sink is least, between the points of the table.</summary>
    internal static double MinSinkAirspeedMps(double[] speedsMps, double[] sinksMps) => Vertex(speedsMps, sinksMps, Array.IndexOf(sinksMps, sinksMps.Min()));

    /// <summary>Where height lost over distance flown is least.</summary>
    internal static double BestGlideAirspeedMps(double[] speedsMps, double[] sinksMps) => MinSinkAirspeedMps(speedsMps, [.. sinksMps.Select((s, i) => s / speedsMps[i])]);

    /// <summary>Of the parabola through the least of a table and its neighbours: a heavier model must not come out slower by a step of the table.</summary>
    private static double Vertex(double[] x, double[] y, int least)
    {
        if (least == 0 || least == x.Length - 1)
        {
            return x[least];
        }
        double before = y[least - 1] - y[least], after = y[least + 1] - y[least], bend = before + after;
        return bend > 0 ? x[least] + 0.5 * (x[least + 1] - x[least]) * (before - after) / bend : x[least];
    }

    private static Band About(double value, IEnumerable<double> draws)
    {
        Band band = Band.Of(draws);
        return new Band(value, Math.Min(band.Low, value), Math.Max(band.High, value));
    }
}

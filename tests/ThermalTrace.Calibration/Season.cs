using ThermalTrace.Simulation;

namespace ThermalTrace.Calibration;

/// <summary>
/// A pilot's seasons with one airframe: days drawn from the seed, ballast put in when it blows, as pilots do.
/// </summary>
/// <param name="Preset">The model.</param>
/// <param name="Seed">Draws airframe and days.</param>
internal sealed record Season(string Preset, long Seed)
{
    private const double AirframeSpread = 0.08;

    /// <summary>Different sizes and launches in turn.</summary>
    public static Season Number(int n, long firstSeed)
    {
        string[] presets = ["discus-1500", "electric-2000", "winch-3000", "discus-1000", "electric-3600", "bungee-2500"];
        return new Season(presets[n % presets.Length], firstSeed + 1000L * n);
    }

    /// <summary>The airframe's true worth.</summary>
    public TrueAirframe Truth => TrueAirframe.Of(Base);

    private SimulationOptions Base => new() { Preset = Preset, Seed = Seed, AirframeSeed = Seed, AirframeSpread = AirframeSpread };

    /// <summary>Day n of the season, from 0.</summary>
    /// <param name="n">Which.</param>
    /// <param name="wear">By how much the model drags more than it did new.</param>
    public SimulationOptions Day(int n, double wear = 0)
    {
        System.Random random = new((int)(Seed * 31 + n));
        IReadOnlyList<double> all = TrueAirframe.Of(Base).BallastsG;
        double wind = 9 * random.NextDouble(), lift = 0.6 + 2.9 * random.NextDouble();
        double edr = Math.Min((0.02 + 0.018 * wind + 0.01 * lift) * Math.Exp(0.3 * Normal(random)), 0.4);
        // Little in calm air, much in wind, and now and then the whole range.
        double fill = wind / 9 + 0.15 * Normal(random);
        double[] carried = random.NextDouble() < 0.2 ? [.. all] : fill < 0.5 ? [all[0], all[1]] : [all[^2], all[^1]];
        return Base with
        {
            Seed = Seed + 1 + n,
            Day = 3 * n,
            Flights = 6 + random.Next(5),
            BallastsG = carried,
            WindMps = wind,
            Edr = edr,
            LiftMps = lift,
            ThermalRadiusM = 15 * Math.Exp(0.15 * Normal(random)),
            TestShare = 0.25,
            RateHz = 2,
            Order = BallastOrder.ThereAndBack,
            Wear = wear,
        };
    }

    private static double Normal(System.Random random) => MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1);
}

using ThermalTrace.Polars;
using ThermalTrace.Units;

namespace ThermalTrace.Decisions;

/// <summary>What one draw says of the lift and of how well it is worked.</summary>
/// <param name="RadiusM">Where it has fallen to 1/e.</param>
/// <param name="SearchLoss">Share of the core that is lost by finding it and by uneven circles, whatever the mass.</param>
/// <param name="GustLoss">Share that turbulence loses by throwing the model off the core, at the airframe's bare wing loading.</param>
/// <param name="LoadingPower">How much less that is at a higher wing loading.</param>
/// <param name="Shortfall">By what the lift met in the climbs flown falls short of the best circle's, as the logarithm of the ratio.</param>
internal sealed record Lift(double RadiusM, double SearchLoss, double GustLoss, double LoadingPower, double Shortfall)
{
    /// <summary>η at a mass.</summary>
    public double Centring(double massRatio) => Math.Max(1 - SearchLoss - GustLoss * Math.Pow(massRatio, -LoadingPower), 0.1);
}

/// <summary>Best climb of one mass over the lift's core, in one draw: <c>c = max over circles of gain w0 − sink</c>, convex in w0.</summary>
/// <param name="Gains">Of every circle, what it keeps of the core: η exp(−(r/rt)²).</param>
/// <param name="SinksMps">Of every circle.</param>
internal sealed record ClimbCurve(double[] Gains, double[] SinksMps)
{
    /// <summary>Best climb, m/s, and what its circle keeps of the core.</summary>
    public (double ClimbMps, double Gain) At(double coreMps)
    {
        double best = double.NegativeInfinity, gain = 0;
        for (int i = 0; i < Gains.Length; i++)
        {
            double climb = Gains[i] * coreMps - SinksMps[i];
            if (climb > best)
            {
                (best, gain) = (climb, Gains[i]);
            }
        }
        return (best, gain);
    }
}

/// <summary>
/// Climb of one mass: <c>c = max over V, φ of η w0 exp(−(r/rt)²) − s(V, 1/cos φ)</c>, r = V²/(g tan φ), on a grid of speeds
/// and banks whose drag factors are computed once. docs/models/climb.md.
/// </summary>
internal sealed class ClimbModel
{
    private static readonly double[] BanksDeg = [10, 15, 20, 25, 30, 35, 40, 45, 50];
    private const int Speeds = 24;

    private readonly double[] _speedsMps;
    private readonly double[] _radiusM;
    private readonly double[][][] _factors;
    private readonly double _massRatio;

    /// <summary>Prepares the grid.</summary>
    /// <param name="maker">Curves.</param>
    /// <param name="massKg">Flying mass.</param>
    /// <param name="bareMassKg">The bare airframe's.</param>
    /// <param name="ballast">Index of the ballast's departure among the drag terms, or −1.</param>
    public ClimbModel(CurveMaker maker, double massKg, double bareMassKg, int ballast)
    {
        _massRatio = massKg / bareMassKg;
        _speedsMps = new double[BanksDeg.Length * Speeds];
        _radiusM = new double[_speedsMps.Length];
        double[][][][] factors = new double[BanksDeg.Length][][][];
        for (int b = 0; b < BanksDeg.Length; b++)
        {
            double bank = BanksDeg[b] * Math.PI / 180;
            double n = 1 / Math.Cos(bank);
            double slow = maker.Planform.AirspeedMps(Planform.SlowestCl, massKg) * Math.Sqrt(n);
            for (int i = 0; i < Speeds; i++)
            {
                double v = slow * (1 + 0.7 * i / (Speeds - 1));
                _speedsMps[b * Speeds + i] = v;
                _radiusM[b * Speeds + i] = v * v / (PhysicalConstants.StandardGravityMps2 * Math.Tan(bank));
            }
            factors[b] = maker.Factors(_speedsMps[(b * Speeds)..((b + 1) * Speeds)], massKg, ballast, n);
        }
        _factors = [.. Enumerable.Range(0, factors[0].Length).Select(c => factors.SelectMany(f => f[c]).ToArray())];
    }

    /// <summary>Sink in every circle, m/s, at sea-level density.</summary>
    /// <param name="coefficients">Of the drag terms.</param>
    public double[] Sinks(ReadOnlySpan<double> coefficients) => CurveMaker.Sinks(_factors, _speedsMps, coefficients);

    /// <summary>Best climb over the core, for a draw.</summary>
    /// <param name="coefficients">Of the drag terms.</param>
    /// <param name="lift">The lift.</param>
    public ClimbCurve For(ReadOnlySpan<double> coefficients, Lift lift) => WithSinks(Sinks(coefficients), lift);

    /// <summary>Best climb over the core where the circles' sinks are known.</summary>
    /// <param name="sinksMps">Of every circle, as <see cref="Sinks"/> has them.</param>
    /// <param name="lift">The lift.</param>
    public ClimbCurve WithSinks(double[] sinksMps, Lift lift)
    {
        double centring = lift.Centring(_massRatio);
        double[] gains = new double[_radiusM.Length];
        for (int i = 0; i < gains.Length; i++)
        {
            double inside = _radiusM[i] / lift.RadiusM;
            gains[i] = centring * Math.Exp(-inside * inside);
        }
        return new ClimbCurve(gains, sinksMps);
    }
}

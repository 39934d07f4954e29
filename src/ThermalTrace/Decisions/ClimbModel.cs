using ThermalTrace.Polars;
using ThermalTrace.Units;

namespace ThermalTrace.Decisions;

/// <summary>What one draw says of the lift.</summary>
/// <param name="CoreMps">w0, vertical speed of the air at the core.</param>
/// <param name="RadiusM">Where it has fallen to 1/e.</param>
/// <param name="CentringLoss">Share of the core that centring loses at the airframe's bare wing loading.</param>
/// <param name="LoadingPower">How much less that is at a higher wing loading.</param>
internal sealed record Lift(double CoreMps, double RadiusM, double CentringLoss, double LoadingPower)
{
    /// <summary>η at a mass.</summary>
    public double Centring(double massRatio) => 1 - Math.Min(CentringLoss * Math.Pow(massRatio, -LoadingPower), 0.9);
}

/// <summary>
/// Climb of one mass: <c>c = max over V, φ of η w0 exp(−(r/rt)²) − s(V, 1/cos φ)</c>, r = V²/(g tan φ), on a grid of speeds
/// and banks whose drag factors are computed once. docs/models/climb.md.
/// </summary>
internal sealed class ClimbModel
{
    private static readonly double[] BanksDeg = [10, 15, 20, 25, 30, 35, 40, 45, 50];
    private const int Speeds = 24;

    private readonly double[][] _speedsMps;
    private readonly double[][] _radiusM;
    private readonly double[][][][] _factors;

    public ClimbModel(CurveMaker maker, double massKg, int ballast)
    {
        _speedsMps = new double[BanksDeg.Length][];
        _radiusM = new double[BanksDeg.Length][];
        _factors = new double[BanksDeg.Length][][][];
        for (int b = 0; b < BanksDeg.Length; b++)
        {
            double bank = BanksDeg[b] * Math.PI / 180;
            double n = 1 / Math.Cos(bank);
            double slow = maker.Planform.AirspeedMps(Planform.SlowestCl, massKg) * Math.Sqrt(n);
            _speedsMps[b] = new double[Speeds];
            _radiusM[b] = new double[Speeds];
            for (int i = 0; i < Speeds; i++)
            {
                double v = slow * (1 + 0.7 * i / (Speeds - 1));
                _speedsMps[b][i] = v;
                _radiusM[b][i] = v * v / (PhysicalConstants.StandardGravityMps2 * Math.Tan(bank));
            }
            _factors[b] = maker.Factors(_speedsMps[b], massKg, ballast, n);
        }
    }

    /// <summary>Best climb in a lift, m/s.</summary>
    /// <param name="coefficients">A draw of the drag terms.</param>
    /// <param name="lift">The lift.</param>
    /// <param name="massRatio">Flying mass over the bare airframe's.</param>
    public double ClimbMps(ReadOnlySpan<double> coefficients, Lift lift, double massRatio)
    {
        double best = double.NegativeInfinity, core = lift.Centring(massRatio) * lift.CoreMps;
        for (int b = 0; b < _factors.Length; b++)
        {
            double[] sinks = CurveMaker.Sinks(_factors[b], _speedsMps[b], coefficients);
            for (int i = 0; i < Speeds; i++)
            {
                double inside = _radiusM[b][i] / lift.RadiusM;
                best = Math.Max(best, core * Math.Exp(-inside * inside) - sinks[i]);
            }
        }
        return best;
    }
}

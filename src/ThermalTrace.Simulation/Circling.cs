using ThermalTrace.Units;

namespace ThermalTrace.Simulation;

/// <summary>How a model is flown in lift, and what that is worth.</summary>
/// <param name="AirspeedMps">Held in the circle.</param>
/// <param name="BankRad">Of the circle.</param>
/// <param name="ClimbMps">Mean rate of climb, with the centring loss.</param>
internal sealed record Circling(double AirspeedMps, double BankRad, double ClimbMps)
{
    private const double Gravity = PhysicalConstants.StandardGravityMps2;

    /// <summary>Share of the lift that is left after finding the core and uneven circles; mean over many simulated climbs.</summary>
    private const double HandlingShare = 0.89;

    public double RadiusM => AirspeedMps * AirspeedMps / (Gravity * Math.Tan(BankRad));

    /// <summary>
    /// How far from the core a pilot's circle wanders: standard deviation on each axis as a share of the thermal's
    /// radius. Rough air and a low speed of flight make it worse.
    /// </summary>
    public static double CentringShare(double edr, Model model) =>
        Math.Min(0.65, 0.18 + 6 * edr / model.MinSinkAirspeedMps);

    /// <summary>
    /// The best circle. A circle of radius r about a point that is off the core by a normal error of deviation s meets
    /// on average w0 exp(-r²/(R² + 2 s²)) / (1 + 2 s²/R²).
    /// </summary>
    public static Circling Best(Model model, double liftMps, double thermalRadiusM, double edr)
    {
        double share = CentringShare(edr, model);
        double spread = 1 + 2 * share * share;
        Circling best = new(model.MinSinkAirspeedMps, 0.6, double.NegativeInfinity);
        for (int b = 12; b <= 42; b++)
        {
            double bank = b * Math.PI / 180;
            double loadFactor = 1 / Math.Cos(bank);
            for (int i = 0; i <= 30; i++)
            {
                double v = model.SlowestMps * Math.Sqrt(loadFactor) * (1.06 + i * 0.015);
                double r = v * v / (Gravity * Math.Tan(bank));
                double lift = HandlingShare * liftMps * Math.Exp(-r * r / (thermalRadiusM * thermalRadiusM * spread)) / spread;
                double climb = lift - model.SinkMps(v, loadFactor);
                best = climb > best.ClimbMps ? new Circling(v, bank, climb) : best;
            }
        }
        return best;
    }
}

/// <summary>The contract's round-trip climb from the true polar.</summary>
internal static class RoundTrip
{
    /// <summary>Rate of gain over working lift downwind and gliding back, or holding station, and the airspeed of the return; m/s.</summary>
    public static (double ClimbMps, double ReturnAirspeedMps) Of(Model model, double climbMps, double windMps)
    {
        double fastest = 3 * model.SlowestMps;
        double cost = double.PositiveInfinity;
        double holding = double.PositiveInfinity;
        double airspeed = double.NaN;
        for (double v = model.SlowestMps; v <= fastest; v += 0.02)
        {
            double sink = model.SinkMps(v);
            if ((climbMps + sink) / v < cost)
            {
                (cost, airspeed) = ((climbMps + sink) / v, v);
            }
            if (v >= windMps)
            {
                holding = Math.Min(holding, sink);
            }
        }
        return (Math.Max(climbMps - windMps * cost, -holding), airspeed);
    }
}

using ThermalTrace.Units;

namespace ThermalTrace.Phases;

/// <summary>
/// A first look at what the airframe loses, good enough to tell lift and brakes from a change of speed: the two terms of a
/// parabolic drag curve, fitted to straight and level stretches of the track itself. The real estimate is made later, in
/// Polars. docs/models/phases.md.
/// </summary>
/// <param name="Parasite">a of sink = a·V³ + b·n²/V, s²/m².</param>
/// <param name="Induced">b, m²/s².</param>
/// <param name="UsualAirspeedMps">Median airspeed in the air; NaN without position.</param>
/// <param name="UsualSinkMps">Where the airspeed is not known.</param>
/// <param name="SpreadMps">Robust standard deviation of energy rate about the fit.</param>
internal sealed record RoughPolar(double Parasite, double Induced, double UsualAirspeedMps, double UsualSinkMps, double SpreadMps)
{
    private const double PriorS = 30; // of gliding: how much the usual sink counts against what the track shows
    private const double LookS = 2;   // neighbours within this time say the same

    /// <summary>Sink through still air, m/s, positive down.</summary>
    public double SinkMps(double airspeedMps, double turnRadps)
    {
        if (double.IsNaN(airspeedMps))
        {
            return UsualSinkMps;
        }
        // Beyond these the two terms are not to be trusted.
        double v = Math.Clamp(airspeedMps, 0.6 * UsualAirspeedMps, 2.2 * UsualAirspeedMps);
        double pull = double.IsNaN(turnRadps) ? 0 : Math.Min(v * Math.Abs(turnRadps) / PhysicalConstants.StandardGravityMps2, 1);
        return Parasite * v * v * v + Induced * (1 + pull * pull) / v;
    }

    /// <summary>Fits; arrays hold a value for each grid point, NaN where not known.</summary>
    public static RoughPolar Fit(double[] energyMps, double[] turnRadps, double[] airspeedMps, bool[] airborne, double[] heightM, double stepS)
    {
        List<double> sinks = [], speeds = [];
        for (int i = 0; i < energyMps.Length; i++)
        {
            if (airborne[i] && energyMps[i] < 0 && heightM[i] > 10)
            {
                sinks.Add(-energyMps[i]);
            }
            if (!double.IsNaN(airspeedMps[i]))
            {
                speeds.Add(airspeedMps[i]);
            }
        }
        double usualSink = sinks.Count > 20 ? Math.Clamp(Median(sinks), 0.25, 1.5) : 0.5;
        double usualSpeed = speeds.Count > 20 ? Median(speeds) : double.NaN;
        if (double.IsNaN(usualSpeed))
        {
            return new RoughPolar(0, 0, double.NaN, usualSink, 0.45);
        }
        // Before anything is seen: both terms alike at the usual speed, as at the best glide.
        double cube = usualSpeed * usualSpeed * usualSpeed;
        RoughPolar polar = new(0.5 * usualSink / cube, 0.5 * usualSink * usualSpeed, usualSpeed, usualSink, 0.45);
        for (int iteration = 0; iteration < 8; iteration++)
        {
            polar = Improve(polar, energyMps, turnRadps, airspeedMps, airborne, heightM, stepS);
        }
        return polar;
    }

    private static RoughPolar Improve(RoughPolar before, double[] energyMps, double[] turnRadps, double[] airspeedMps, bool[] airborne, double[] heightM, double stepS)
    {
        double v0 = before.UsualAirspeedMps, sink0 = before.UsualSinkMps;
        // In shares of the usual sink at the usual speed, so that both unknowns are near one half.
        double prior = PriorS / LookS;
        double s11 = prior, s12 = 0, s22 = prior, y1 = 0.5 * prior, y2 = 0.5 * prior, departures = 0, weights = 1e-9;
        for (int i = 0; i < energyMps.Length; i++)
        {
            if (!airborne[i] || double.IsNaN(airspeedMps[i]) || !(heightM[i] > 10) || !(Math.Abs(turnRadps[i]) < 0.2) || !(airspeedMps[i] < 2.2 * v0))
            {
                continue;
            }
            double v = Math.Max(airspeedMps[i], 0.6 * v0) / v0;
            double x1 = v * v * v, x2 = 1 / v, y = -energyMps[i] / sink0;
            double residual = -energyMps[i] - before.SinkMps(airspeedMps[i], 0);
            // Lift makes sink look small more often than brakes make it look large.
            double width = residual < 0 ? before.SpreadMps : 2 * before.SpreadMps;
            double weight = 1 / (1 + residual * residual / (width * width));
            departures += weight * Math.Min(Math.Abs(residual), 2);
            weights += weight;
            weight *= weight * stepS / LookS;
            s11 += weight * x1 * x1;
            s12 += weight * x1 * x2;
            s22 += weight * x2 * x2;
            y1 += weight * x1 * y;
            y2 += weight * x2 * y;
        }
        double determinant = s11 * s22 - s12 * s12;
        double a = Math.Clamp((y1 * s22 - y2 * s12) / determinant, 0.1, 2), b = Math.Clamp((y2 * s11 - y1 * s12) / determinant, 0.1, 2);
        double spread = Math.Clamp(1.6 * departures / weights, 0.3, 0.9);
        return before with { Parasite = a * sink0 / (v0 * v0 * v0), Induced = b * sink0 * v0, SpreadMps = weights > 20 ? spread : 0.45 };
    }

    private static double Median(List<double> values)
    {
        values.Sort();
        return values[values.Count / 2];
    }
}

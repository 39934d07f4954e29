using ThermalTrace.Units;

namespace ThermalTrace.Polars;

/// <summary>Level flight, sea-level density: sink over airspeed for one mass and one set of coefficients.</summary>
/// <param name="AirspeedMps">Rising.</param>
/// <param name="SinkMps">Same length.</param>
internal sealed record SinkCurve(double[] AirspeedMps, double[] SinkMps)
{
    /// <summary>Sink between the table's points, linear; held at its ends.</summary>
    public double At(double airspeedMps)
    {
        double[] v = AirspeedMps;
        double position = (airspeedMps - v[0]) / (v[^1] - v[0]) * (v.Length - 1);
        int i = (int)Math.Clamp(position, 0, v.Length - 2);
        double weight = Math.Clamp(position - i, 0, 1);
        return SinkMps[i] + weight * (SinkMps[i + 1] - SinkMps[i]);
    }

    /// <summary>Where sink is least.</summary>
    public (double AirspeedMps, double SinkMps) LeastSink()
    {
        int i = Array.IndexOf(SinkMps, SinkMps.Min());
        return (AirspeedMps[i], SinkMps[i]);
    }

    /// <summary>Where the glide ratio over the ground is best against a head wind; null where the curve does not reach beyond the wind.</summary>
    public (double AirspeedMps, double Ratio)? BestGlide(double headwindMps)
    {
        double best = 0, at = double.NaN;
        for (int i = 0; i < AirspeedMps.Length; i++)
        {
            double ratio = (AirspeedMps[i] - headwindMps) / SinkMps[i];
            if (ratio > best)
            {
                (best, at) = (ratio, AirspeedMps[i]);
            }
        }
        return best > 0 ? (at, best) : null;
    }
}

/// <summary>Turns coefficients into curves. docs/models/drag.md.</summary>
/// <param name="Terms">The terms.</param>
/// <param name="Planform">Geometry.</param>
/// <param name="Cambers">Number of camber settings: the curve is their lower envelope.</param>
internal sealed record CurveMaker(DragTerms Terms, Planform Planform, int Cambers)
{
    public const int Points = 161;
    private const double LeastFriction = 0.004; // 2 · 1.328/√Re of both sides at a Reynolds number of 440,000 (Blasius): larger than of any of these models

    /// <summary>Speeds of the curve, m/s: from the slowest to the fastest lift coefficient, evenly.</summary>
    public double[] Speeds(double massKg)
    {
        double slow = Planform.AirspeedMps(Planform.SlowestCl, massKg), fast = Planform.AirspeedMps(Planform.FastestCl, massKg);
        double[] speeds = new double[Points];
        for (int i = 0; i < Points; i++)
        {
            speeds[i] = slow + (fast - slow) * i / (Points - 1);
        }
        return speeds;
    }

    /// <summary>Rows of factors, one a speed and camber: sink is their product with the coefficients. Computed once for many draws.</summary>
    public double[][][] Factors(double[] speedsMps, double massKg, int ballast, double loadFactor = 1)
    {
        double[][][] factors = new double[Math.Max(Cambers, 1)][][];
        for (int c = 0; c < factors.Length; c++)
        {
            factors[c] = new double[speedsMps.Length][];
            for (int i = 0; i < speedsMps.Length; i++)
            {
                double v = speedsMps[i];
                double cl = Planform.Cl(v, loadFactor, massKg, PhysicalConstants.SeaLevelDensityKgM3);
                double re = Planform.ReynoldsRatio(v, PhysicalConstants.SeaLevelDensityKgM3, PhysicalConstants.SeaLevelTemperatureK);
                double[] row = new double[Terms.Count];
                Terms.Fill(cl, re, ballast, c, row);
                for (int j = 0; j < row.Length; j++)
                {
                    row[j] *= v * loadFactor / cl;
                }
                // The air's own mean sink is in every glide alike; no fit can tell it from drag, so it is taken off by its prior alone.
                row[DragTerms.AirSink] = -1;
                factors[c][i] = row;
            }
        }
        return factors;
    }

    /// <summary>
    /// Sink at each speed for one set of coefficients: the least over camber settings, never below what physics allows, the induced
    /// drag of an ideal wing and the friction of a laminar plate. Where nothing was flown a straight extrapolation would go there.
    /// </summary>
    public static double[] Sinks(double[][][] factors, double[] speedsMps, ReadOnlySpan<double> coefficients)
    {
        double[] sinks = new double[speedsMps.Length];
        for (int i = 0; i < sinks.Length; i++)
        {
            double least = double.PositiveInfinity;
            for (int c = 0; c < factors.Length; c++)
            {
                double sum = 0;
                double[] row = factors[c][i];
                for (int j = 0; j < row.Length; j++)
                {
                    sum += row[j] * coefficients[j];
                }
                least = Math.Min(least, Math.Max(sum, row[DragTerms.Induced] + LeastFriction * row[DragTerms.Cd0]));
            }
            sinks[i] = least;
        }
        return sinks;
    }
}

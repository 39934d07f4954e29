using ThermalTrace.Units;

namespace ThermalTrace.Air;

/// <summary>
/// What a model's turning through the air tells, air left out: where it circles and how hard it turns. The polar is fitted where the
/// model does not circle. Phases would be the wrong guide for that: they know climbs by their rise, so the glides they leave
/// are those in air that sinks.
/// </summary>
internal static class Turning
{
    private const double CircleRad = 4.2;       // two thirds of a circle one way: turning round for the way home is half of one
    private const double WindowPerMps = 1.45;   // seconds for each m/s of airspeed: a circle takes 2πV/(g tan φ), at 24° of bank that
    private const double LocalShare = 0.35;     // of the window's mean rate: less is the straight flight before or after the circle
    private const double GapS = 4;              // straight flight shorter than this within circling is recentring

    /// <summary>Load factor along a flight: tan(bank) = V ω / g, ω over 1.6 s.</summary>
    /// <param name="airspeedMps">Grid of the flight; NaN where not known.</param>
    /// <param name="headingRad">Direction through the air; NaN where not known.</param>
    /// <param name="stepS">Grid step, s.</param>
    public static double[] LoadFactors(double[] airspeedMps, double[] headingRad, double stepS)
    {
        int half = Math.Max(1, (int)Math.Round(0.8 / stepS));
        double[] factors = new double[headingRad.Length];
        for (int k = 0; k < factors.Length; k++)
        {
            int a = Math.Max(k - half, 0), b = Math.Min(k + half, headingRad.Length - 1);
            double turn = a == b ? double.NaN : Math.IEEERemainder(headingRad[b] - headingRad[a], 2 * Math.PI) / ((b - a) * stepS);
            double tangent = Math.Min(Math.Abs(airspeedMps[k] * turn) / PhysicalConstants.StandardGravityMps2, 1.7);
            factors[k] = double.IsNaN(tangent) ? 1 : Math.Sqrt(1 + tangent * tangent);
        }
        return factors;
    }

    /// <summary>True where the model circles: about a circle's time it has turned on and on one way.</summary>
    /// <param name="airspeedMps">Grid of the flight; NaN where not known.</param>
    /// <param name="headingRad">Direction through the air; NaN where not known.</param>
    /// <param name="stepS">Grid step, s.</param>
    /// <param name="leastTurnedRad">Stretches of circling that turn less than this in all do not count.</param>
    public static bool[] Circles(double[] airspeedMps, double[] headingRad, double stepS, double leastTurnedRad = 0)
    {
        int n = headingRad.Length;
        bool[] circling = new bool[n];
        double mean = airspeedMps.Where(v => !double.IsNaN(v)).DefaultIfEmpty(8).Average();
        int window = Math.Max(2, (int)Math.Round(WindowPerMps * mean / stepS)), local = Math.Max(1, (int)Math.Round(1 / stepS));
        double[] turned = new double[n];
        for (int k = 1; k < n; k++)
        {
            double change = Math.IEEERemainder(headingRad[k] - headingRad[k - 1], 2 * Math.PI);
            turned[k] = turned[k - 1] + (double.IsNaN(change) ? 0 : change);
        }
        for (int k = 0; k + window < n; k++)
        {
            double whole = turned[k + window] - turned[k];
            if (!(Math.Abs(whole) >= CircleRad))
            {
                continue;
            }
            double least = LocalShare * Math.Abs(whole) / window;
            for (int i = k; i <= k + window; i++)
            {
                int a = Math.Max(i - local, 0), b = Math.Min(i + local, n - 1);
                circling[i] |= (turned[b] - turned[a]) * Math.Sign(whole) >= least * (b - a);
            }
        }
        int gap = (int)Math.Round(GapS / stepS), last = -1;
        for (int i = 0; i < n; i++)
        {
            if (!circling[i])
            {
                continue;
            }
            if (last >= 0 && i - last > 1 && i - last <= gap)
            {
                Array.Fill(circling, true, last + 1, i - last - 1);
            }
            last = i;
        }
        for (int from = 0; from < n; from++)
        {
            int to = from;
            while (to < n && circling[to])
            {
                to++;
            }
            if (to > from)
            {
                if (Math.Abs(turned[to - 1] - turned[from]) < leastTurnedRad)
                {
                    Array.Fill(circling, false, from, to - from);
                }
                from = to;
            }
        }
        return circling;
    }
}

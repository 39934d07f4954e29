using ThermalTrace.Phases;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Air;

/// <summary>Eddy dissipation rate to the power 1/3, m^(2/3)/s, with its 90 % interval; NaN where it cannot be told.</summary>
internal sealed record Turbulence(double Edr, double Low, double High)
{
    /// <summary>Nothing to go by.</summary>
    public static readonly Turbulence Unknown = new(double.NaN, double.NaN, double.NaN);

    /// <summary>True where there is a value.</summary>
    public bool IsKnown => Edr > 0;
}

/// <summary>
/// Turbulence from what it does to the energy of a gliding model. Over separations that model and sensors follow, the
/// vertical air motion has a structure function of (4/3) C2 (ε r)^(2/3) (Kolmogorov; Pope 2000, s. 6.2, C2 = 2.0); means
/// over neighbouring intervals differ by a known share of it, and the sensors' white noise adds a part that falls with the
/// interval's square, so both are told apart. docs/models/turbulence.md.
/// </summary>
internal static class TurbulenceEstimator
{
    private const double C2 = 2.0;
    private const double Transverse = 4.0 / 3;
    private const double ModelSpread = 0.12;     // of ln EDR: C2 is 2.0 to 2.2 and the air near the ground is not isotropic
    private const double ShortestReachM = 4, LongestReachM = 28;

    /// <summary>
    /// Share of the structure function over one interval that the difference between means over two neighbouring intervals has, for a
    /// two-thirds law: (2^(p+2) − 4)/((p+1)(p+2)), p = 2/3.
    /// </summary>
    internal static double MeansShare { get; } = (Math.Pow(2, 8.0 / 3) - 4) / (5.0 / 3 * (8.0 / 3));

    /// <summary>Longitudinal structure function, m²/s².</summary>
    internal static double LongitudinalM2ps2(double edr, double separationM) => C2 * Math.Pow(edr * edr * edr * separationM, 2.0 / 3);

    /// <summary>Estimates from one flight's glides; airspeed may be null, then height stands in for energy height and a speed for the path.</summary>
    public static Turbulence Estimate(Flight flight, FlightAir? air, double usualAirspeedMps)
    {
        Track track = flight.Track;
        double speedSum = 0;
        int speedCount = 0;
        List<(double T, double MeanSquare, double Independent)> points = [];
        List<int> spans = Spans(track.StepS, usualAirspeedMps);
        double[] energy = new double[flight.End - flight.First];
        bool[] use = new bool[energy.Length];
        foreach (Segment segment in flight.Segments)
        {
            if (segment.Kind != PhaseKind.Glide)
            {
                continue;
            }
            for (int i = segment.First + (int)(3 / track.StepS); i < segment.End - (int)(3 / track.StepS); i++)
            {
                int k = i - flight.First;
                double v = air is null ? usualAirspeedMps : air.AirspeedMps[k];
                energy[k] = track.AltitudeM[i] + (air is null ? 0 : v * v / (2 * PhysicalConstants.StandardGravityMps2));
                use[k] = !double.IsNaN(energy[k]);
                if (use[k])
                {
                    speedSum += v;
                    speedCount++;
                }
            }
        }
        if (speedCount * track.StepS < 20)
        {
            return Turbulence.Unknown;
        }
        double speed = speedSum / speedCount;
        foreach (int span in spans)
        {
            double t = span * track.StepS;
            List<double> squares = [];
            for (int k = span; k + span < energy.Length; k++)
            {
                if (use[k - span] && use[k] && use[k + span])
                {
                    double difference = (energy[k + span] - 2 * energy[k] + energy[k - span]) / t;
                    squares.Add(difference * difference);
                }
            }
            double independent = squares.Count * track.StepS / (2 * t);
            if (independent >= 5)
            {
                points.Add((t, TrimmedMean(squares), independent));
            }
        }
        if (points.Count < 2)
        {
            return Turbulence.Unknown;
        }
        // mean square = a T^(2/3) + b / T²: weighted least squares with b held at or above 0, weights by relative error.
        (double a, double b) = Solve(points);
        if (!(a > 0))
        {
            a = points.Min(p => p.MeanSquare / Math.Pow(p.T, 2.0 / 3)) * 0.5;
        }
        double edr = Math.Sqrt(a / (Transverse * C2 * MeansShare * Math.Pow(speed, 2.0 / 3)));
        double share = points.Average(p => a * Math.Pow(p.T, 2.0 / 3) / (a * Math.Pow(p.T, 2.0 / 3) + Math.Max(b, 0) / (p.T * p.T)));
        double error = Math.Sqrt(0.5 / points.Max(p => p.Independent)) / Math.Max(share, 0.05);
        double spread = 1.645 * Math.Sqrt(error * error + ModelSpread * ModelSpread);
        return new Turbulence(edr, edr * Math.Exp(-spread), edr * Math.Exp(spread));
    }

    private static List<int> Spans(double stepS, double speed)
    {
        List<int> spans = [];
        int last = 0;
        for (double reach = ShortestReachM; reach <= LongestReachM; reach *= 1.35)
        {
            int span = Math.Max(1, (int)Math.Round(reach / speed / stepS));
            if (span != last)
            {
                spans.Add(span);
            }
            last = span;
        }
        return spans;
    }

    /// <summary>Mean without the largest fiftieth, which a spike or a thermal's edge may own; put back to scale as for a normal.</summary>
    private static double TrimmedMean(List<double> squares)
    {
        squares.Sort();
        int keep = Math.Max(1, squares.Count - squares.Count / 50);
        double sum = 0;
        for (int i = 0; i < keep; i++)
        {
            sum += squares[i];
        }
        // Of squares of a normal, the lowest 98 % hold P(χ²₃ < 5.4119) = 0.8560 of the sum, each 0.8735 of the mean.
        return sum / keep / (squares.Count >= 50 ? 0.8735 : 1);
    }

    private static (double A, double B) Solve(List<(double T, double MeanSquare, double Independent)> points)
    {
        double aa = 0, ab = 0, bb = 0, ya = 0, yb = 0;
        foreach ((double t, double y, double n) in points)
        {
            double weight = n / (y * y);
            double fa = Math.Pow(t, 2.0 / 3), fb = 1 / (t * t);
            aa += weight * fa * fa;
            ab += weight * fa * fb;
            bb += weight * fb * fb;
            ya += weight * fa * y;
            yb += weight * fb * y;
        }
        double determinant = aa * bb - ab * ab;
        double b = determinant > 1e-12 * aa * bb ? (aa * yb - ab * ya) / determinant : 0;
        return b > 0 ? ((bb * ya - ab * yb) / determinant, b) : (ya / aa, 0);
    }
}

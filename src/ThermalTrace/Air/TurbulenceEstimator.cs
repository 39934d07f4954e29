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
/// interval's square, so both are told apart. Near the ground the largest eddies are hardly longer than the separations:
/// the law bends over at an outer length that is fitted with it. docs/models/turbulence.md.
/// </summary>
internal static class TurbulenceEstimator
{
    private const double C2 = 2.0;
    private const double Transverse = 4.0 / 3;
    private const double ModelSpread = 0.12;     // of ln EDR: C2 is 2.0 to 2.2 and the air near the ground is not isotropic
    private const double NoiseMisfit = 0.15, NoiseSpread = 0.5;
    private const double ShortestReachM = 2.5, LongestReachM = 30;
    private const double UsualOuterM = 20, OuterSpread = 0.45; // of its logarithm; about half the height where models fly

    /// <summary>Longitudinal structure function, m²/s².</summary>
    internal static double LongitudinalM2ps2(double edr, double separationM) => C2 * Math.Pow(edr * edr * edr * separationM, 2.0 / 3);

    /// <summary>Estimates from one flight's glides; airspeed may be null, then height stands in for energy height and a speed for the path.</summary>
    public static Turbulence Estimate(Flight flight, FlightAir? air, double usualAirspeedMps)
    {
        Track track = flight.Track;
        // The slope of positions wanders as turbulence does: squared into energy it would drown it. Height alone is the better witness then.
        air = track.Ground is { VelocityLogged: true } ? air : null;
        double speedSum = 0, velocityNoise = 0;
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
                double v = air is null ? usualAirspeedMps : air.InertialSpeedMps[k];
                energy[k] = track.AltitudeM[i] + (air is null ? 0 : v * v / (2 * PhysicalConstants.StandardGravityMps2));
                use[k] = !double.IsNaN(energy[k]);
                if (use[k])
                {
                    speedSum += v;
                    velocityNoise += air is null ? 0 : v * v * track.Ground!.VarianceM2ps2[i];
                    speedCount++;
                }
            }
        }
        if (speedCount * track.StepS < 20)
        {
            return Turbulence.Unknown;
        }
        double speed = speedSum / speedCount;
        SensorNoise sensors = new(track.AltitudeNoiseM * track.AltitudeNoiseM,
            velocityNoise / speedCount / (PhysicalConstants.StandardGravityMps2 * PhysicalConstants.StandardGravityMps2));
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
        // mean square = a M(T; L) + b N(T): for each outer length L weighted least squares with a and b held at or above 0.
        Fit best = new(double.NaN, double.NaN, double.PositiveInfinity, 0);
        List<Fit> fits = [];
        for (double outer = 4; outer < 150; outer *= 1.3)
        {
            Fit fit = Solve(points, speed, outer, sensors);
            fits.Add(fit);
            best = fit.Cost < best.Cost ? fit : best;
        }
        double edr = Math.Sqrt(best.A / (Transverse * C2));
        // What other outer lengths would say, each by its likelihood, is part of the uncertainty.
        double weights = 0, spreadSum = 0;
        foreach (Fit fit in fits.Where(f => f.A > 0))
        {
            double weight = Math.Exp(-0.5 * (fit.Cost - best.Cost));
            double apart = 0.5 * Math.Log(fit.A / best.A);
            weights += weight;
            spreadSum += weight * (apart * apart + fit.RelativeVariance);
        }
        // Sensors' noise is not quite white: where it is most of what is seen, a share of it may be taken for air.
        double reachT = 10 / speed;
        double noiseError = 0.5 * NoiseMisfit * best.B * sensors.MeanSquare(reachT) / (best.A * MeansDifference(10, UsualOuterM));
        double spread = 1.645 * Math.Sqrt(spreadSum / weights + ModelSpread * ModelSpread + Math.Min(noiseError * noiseError, 1));
        return new Turbulence(edr, edr * Math.Exp(-spread), edr * Math.Exp(spread));
    }

    /// <summary>What the sensors alone would show.</summary>
    /// <param name="White">Variance of the altitude's white noise, m².</param>
    /// <param name="Smoothed">Variance of energy height from the smoothed velocity's error, m²; it lasts about as long as the smoothing.</param>
    private sealed record SensorNoise(double White, double Smoothed)
    {
        private const double SmoothingS = 0.6; // of velocity: what the receiver's noise is averaged over
        private const double LeastM2 = 0.01 * 0.01;

        /// <summary>Mean square difference of means over neighbouring intervals of t seconds.</summary>
        public double MeanSquare(double t)
        {
            double keep = Math.Exp(-t / SmoothingS);
            return (6 * Math.Max(White, LeastM2) + Smoothed * (6 - 8 * keep + 2 * keep * keep)) / (t * t);
        }
    }

    /// <param name="A">(4/3) C2 ε^(2/3), m^(4/3)/s².</param>
    /// <param name="B">The sensors' noise over what it was taken to be; about 1.</param>
    /// <param name="Cost">Weighted squares, the outer length's prior included.</param>
    /// <param name="RelativeVariance">Variance of ln EDR at this outer length.</param>
    private sealed record Fit(double A, double B, double Cost, double RelativeVariance);

    /// <summary>Separation law that bends over at an outer length: r^(2/3) (1 + (r/L)²)^(−1/3), m^(2/3).</summary>
    private static double Bent(double separationM, double outerM)
    {
        double u = separationM / outerM;
        return Math.Pow(separationM * separationM / (1 + u * u), 1.0 / 3);
    }

    /// <summary>
    /// Mean square difference of means over neighbouring intervals for <see cref="Bent"/> of unit strength: the mean
    /// separation law across the intervals less that within one, by Simpson's rule.
    /// </summary>
    internal static double MeansDifference(double reachM, double outerM)
    {
        const int n = 48;
        double sum = 0;
        for (int i = 0; i <= 2 * n; i++)
        {
            double u = (double)i / n;
            double across = u < 1 ? u : 2 - u, within = u < 1 ? 2 * (1 - u) : 0;
            double simpson = i is 0 or 2 * n || i == n ? 1 : (i % n) % 2 == 1 ? 4 : 2;
            // At u = 1 two panels meet: the point counts once for each.
            simpson = i == n ? 2 : simpson;
            sum += simpson * (across - within) * Bent(u * reachM, outerM);
        }
        return sum / (3.0 * n);
    }

    private static List<int> Spans(double stepS, double speed)
    {
        List<int> spans = [];
        int last = 0;
        for (double reach = ShortestReachM; reach <= LongestReachM; reach *= 1.3)
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

    private static Fit Solve(List<(double T, double MeanSquare, double Independent)> points, double speed, double outer, SensorNoise sensors)
    {
        double aa = 0, ab = 0, bb = 0, ya = 0, yb = 0, yy = 0;
        foreach ((double t, double y, double n) in points)
        {
            double weight = 0.5 * n / (y * y); // a mean of n squares of normals has a relative variance of 2/n
            double fa = MeansDifference(speed * t, outer), fb = sensors.MeanSquare(t);
            aa += weight * fa * fa;
            ab += weight * fa * fb;
            bb += weight * fb * fb;
            ya += weight * fa * y;
            yb += weight * fb * y;
            yy += weight * y * y;
        }
        // The noise is roughly known beforehand: within a factor of the order of a half.
        double prior = 1 / (NoiseSpread * NoiseSpread);
        bb += prior;
        yb += prior;
        yy += prior;
        double determinant = aa * bb - ab * ab;
        double a = determinant > 1e-12 * aa * bb ? (bb * ya - ab * yb) / determinant : ya / aa;
        double b = determinant > 1e-12 * aa * bb ? (aa * yb - ab * ya) / determinant : 0;
        if (!(b > 0))
        {
            (a, b) = (ya / aa, 0);
        }
        double least = 0.02 * ya / aa; // air as still as a fiftieth of what was seen cannot be told from none
        if (!(a > least))
        {
            a = least;
            b = Math.Max((yb - ab * a) / bb, 0);
        }
        double cost = yy - 2 * (a * ya + b * yb) + a * a * aa + 2 * a * b * ab + b * b * bb;
        double apart = Math.Log(outer / UsualOuterM) / OuterSpread;
        double variance = determinant > 1e-12 * aa * bb && b > 0 ? bb / determinant : 1 / aa;
        return new Fit(a, b, cost + apart * apart, 0.25 * variance / (a * a));
    }
}

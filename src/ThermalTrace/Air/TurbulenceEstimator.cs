using ThermalTrace.Phases;

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
/// Turbulence from what it does to the energy of a gliding model: the likelihood of the power spectra of all glides
/// (Whittle's), the sensors' noise common to all flights of the session, the flights' turbulence alike to a degree that is
/// learned with it. docs/models/turbulence.md.
/// </summary>
internal static class TurbulenceEstimator
{
    private const double ModelSpread = 0.12;       // of ln EDR: C2 is 2.0 to 2.2 and the air near the ground is not isotropic
    private const double OverlapShare = 0.47;      // what an ordinate of half overlapping tapered windows counts for
    private const double UsualLog = -2.3, UsualSpread = 0.7; // of ln EDR of sessions: 0.1, a third to three times
    private const double NoiseMisfit = 0.1;
    private const double Outlying = 4;             // times what is expected: less than a fiftieth of ordinates

    private const int Grid = 96;
    private const double GridStep = 0.05, GridStart = -4.8;
    private static readonly double[] Spreads = [0.1, 0.15, 0.2, 0.3, 0.45];
    private static readonly double[] SpreadOdds = [0.5, 1, 1, 0.5, 0.2];
    private static readonly double[] Misfits = [-1.5, 0, 1.5];
    private static readonly double[] MisfitOdds = [0.3, 1, 0.3];

    /// <summary>Longitudinal structure function, m²/s².</summary>
    internal static double LongitudinalM2ps2(double edr, double separationM) => TurbulenceSpectrum.C2 * Math.Pow(edr * edr * edr * separationM, 2.0 / 3);

    /// <summary>Every flight of a session; unknown for all where no glide of any flight could be used.</summary>
    /// <param name="flights">The flights.</param>
    /// <param name="air">Their air; null entries, or none at all, leave height to stand for energy height and a usual speed for the path.</param>
    /// <param name="usualAirspeedMps">For each flight.</param>
    public static IReadOnlyList<Turbulence> Estimate(IReadOnlyList<Flight> flights, IReadOnlyList<FlightAir?> air, IReadOnlyList<double> usualAirspeedMps)
    {
        Dictionary<double, double?> lags = flights.GroupBy(f => f.Track.StepS).ToDictionary(g => g.Key, g => TurbulenceWindows.VarioLagS(g));
        TurbulenceWindows[] windows = [.. flights.Select((f, k) => TurbulenceWindows.Of(f, air.Count > k ? air[k] : null, usualAirspeedMps[k],
            f.Track.VarioMps is null ? null : lags[f.Track.StepS]))];
        if (windows.All(w => w.Windows.Count == 0))
        {
            return [.. flights.Select(_ => Turbulence.Unknown)];
        }
        double[][][] likelihoods = [.. Misfits.Select(_ => new double[flights.Count][])];
        foreach (IGrouping<TurbulenceSource, int> alike in Enumerable.Range(0, flights.Count).GroupBy(k => windows[k].Source))
        {
            int[] members = [.. alike];
            double[] noise = NoiseOf([.. members.Select(k => windows[k])]);
            for (int m = 0; m < Misfits.Length; m++)
            {
                double factor = 1 + NoiseMisfit * Misfits[m];
                foreach (int k in members)
                {
                    likelihoods[m][k] = LogLikelihood(windows[k], noise, factor);
                }
            }
        }
        return Together(likelihoods);
    }

    /// <summary>
    /// Strengths of the noises of flights that share their sensors, by Fisher scoring of the Whittle likelihood with each
    /// flight's own turbulence beside them.
    /// </summary>
    public static Action<string>? Log;
    private static double[] NoiseOf(TurbulenceWindows[] flights)
    {
        TurbulenceSource source = flights[0].Source;
        double[] prior = source.Energy ? [source.Vario ? 0.0025 : 0.01, 0.005, 0.0036] : [source.Vario ? 0.0025 : 0.01, 0.0009, 0];
        int n = source.Energy ? 3 : 2;
        double[] noise = [.. prior], air = [.. flights.Select(_ => 0.01)];
        double[] parts = new double[3];
        for (int round = 0; round < 25; round++)
        {
            // Normal equations with an arrow's shape: each flight's own unknown is eliminated as it comes.
            double[,] matrix = new double[3, 3];
            double[] right = new double[3], own = new double[flights.Length];
            double[][] shares = [.. flights.Select(_ => new double[3])];
            for (int i = 0; i < n; i++)
            {
                // Each is known beforehand to a factor of the order of one.
                matrix[i, i] = 1 / (prior[i] * prior[i]);
                right[i] = 1 / prior[i];
            }
            for (int k = 0; k < flights.Length; k++)
            {
                double aa = 0, ay = 0;
                double[] an = shares[k];
                foreach (Ordinate[] window in flights[k].Windows)
                {
                    foreach (Ordinate o in window)
                    {
                        (parts[0], parts[1], parts[2]) = (o.Sensor, o.Quick, o.Slow);
                        double expected = air[k] * o.Air + Noise(o, noise);
                        double weight = OverlapShare / (expected * expected), power = Math.Min(o.Power, Outlying * expected);
                        aa += weight * o.Air * o.Air;
                        ay += weight * o.Air * power;
                        for (int i = 0; i < n; i++)
                        {
                            an[i] += weight * o.Air * parts[i];
                            right[i] += weight * parts[i] * power;
                            for (int j = 0; j < n; j++)
                            {
                                matrix[i, j] += weight * parts[i] * parts[j];
                            }
                        }
                    }
                }
                for (int i = 0; i < n && aa > 0; i++)
                {
                    right[i] -= an[i] * ay / aa;
                    for (int j = 0; j < n; j++)
                    {
                        matrix[i, j] -= an[i] * an[j] / aa;
                    }
                }
                for (int i = 0; i < n && aa > 0; i++)
                {
                    an[i] /= aa;
                }
                own[k] = aa > 0 ? ay / aa : air[k];
            }
            // Coordinates in turn keep every strength above zero.
            double[] next = [.. noise];
            for (int turn = 0; turn < 30; turn++)
            {
                for (int i = 0; i < n; i++)
                {
                    double rest = right[i];
                    for (int j = 0; j < n; j++)
                    {
                        rest -= j == i ? 0 : matrix[i, j] * next[j];
                    }
                    next[i] = Math.Max(rest / matrix[i, i], 1e-3 * prior[i]);
                }
            }
            for (int i = 0; i < n; i++)
            {
                noise[i] = Math.Clamp(next[i], 0.3 * noise[i], 3 * noise[i]);
            }
            for (int k = 0; k < flights.Length; k++)
            {
                double found = own[k] - shares[k][0] * noise[0] - shares[k][1] * noise[1] - shares[k][2] * noise[2];
                air[k] = Math.Clamp(found, Math.Max(0.3 * air[k], 1e-4), Math.Max(3 * air[k], 1e-4));
            }
        }
        Log?.Invoke($"{source} windows {flights.Sum(f => f.Windows.Count)} noise {noise[0]:e2} {noise[1]:e2} {noise[2]:e2} air {string.Join(" ", air.Take(6).Select(a => Math.Sqrt(a).ToString("f3")))}");
        return noise;
    }

    private static double Noise(in Ordinate o, double[] strengths) => strengths[0] * o.Sensor + strengths[1] * o.Quick + strengths[2] * o.Slow;

    /// <summary>Over the grid of ln EDR; what lies far out counts by its logarithm only.</summary>
    private static double[] LogLikelihood(TurbulenceWindows flight, double[] strengths, double factor)
    {
        double[] likelihood = new double[Grid];
        foreach (Ordinate o in flight.Windows.SelectMany(w => w))
        {
            double noise = factor * Noise(o, strengths);
            for (int g = 0; g < Grid; g++)
            {
                double expected = Square(Strength(g)) * o.Air + noise, ratio = o.Power / expected;
                likelihood[g] -= OverlapShare * (Math.Log(expected) + (ratio < Outlying ? ratio : Outlying * (1 + Math.Log(ratio / Outlying))));
            }
        }
        return likelihood;
    }

    private static double Strength(int g) => EdrGrid[g];

    private static readonly double[] EdrGrid = [.. Enumerable.Range(0, Grid).Select(g => Math.Exp(GridStart + GridStep * g))];

    /// <summary>
    /// All flights' posteriors: each a normal about the session's in ln EDR, whose middle and spread, and how far the noise
    /// is misjudged, are unknown too and summed over.
    /// </summary>
    private static IReadOnlyList<Turbulence> Together(double[][][] likelihoods)
    {
        int flights = likelihoods[0].Length;
        double[][] highest = [.. likelihoods.Select(l => l.Select(f => f.Max()).ToArray())];
        double[][][] plain = [.. likelihoods.Select((l, m) => l.Select((f, k) => f.Select(v => Math.Exp(v - highest[m][k])).ToArray()).ToArray())];
        double[,,] odds = new double[Misfits.Length, Spreads.Length, Grid];
        double best = double.NegativeInfinity;
        double[][] kernels = [.. Spreads.Select(Kernel)];
        for (int m = 0; m < Misfits.Length; m++)
        {
            for (int s = 0; s < Spreads.Length; s++)
            {
                for (int c = 0; c < Grid; c++)
                {
                    double sum = Math.Log(MisfitOdds[m] * SpreadOdds[s]) - 0.5 * Square((GridStart + GridStep * c - UsualLog) / UsualSpread);
                    for (int k = 0; k < flights; k++)
                    {
                        double evidence = 0;
                        for (int g = 0; g < Grid; g++)
                        {
                            evidence += plain[m][k][g] * kernels[s][Math.Abs(g - c)];
                        }
                        sum += Math.Log(Math.Max(evidence, 1e-300)) + highest[m][k];
                    }
                    odds[m, s, c] = sum;
                    best = Math.Max(best, sum);
                }
            }
        }
        double[][] posterior = [.. Enumerable.Range(0, flights).Select(_ => new double[Grid])];
        for (int m = 0; m < Misfits.Length; m++)
        {
            for (int s = 0; s < Spreads.Length; s++)
            {
                for (int c = 0; c < Grid; c++)
                {
                    double weight = Math.Exp(odds[m, s, c] - best);
                    if (weight < 1e-6)
                    {
                        continue;
                    }
                    for (int k = 0; k < flights; k++)
                    {
                        double evidence = 0;
                        for (int g = 0; g < Grid; g++)
                        {
                            evidence += plain[m][k][g] * kernels[s][Math.Abs(g - c)];
                        }
                        for (int g = 0; g < Grid; g++)
                        {
                            posterior[k][g] += weight * plain[m][k][g] * kernels[s][Math.Abs(g - c)] / Math.Max(evidence, 1e-300);
                        }
                    }
                }
            }
        }
        return [.. posterior.Select(Interval)];
    }

    private static double[] Kernel(double spread)
    {
        double[] kernel = [.. Enumerable.Range(0, Grid).Select(g => Math.Exp(-0.5 * Square(GridStep * g / spread)))];
        double total = kernel.Sum() * 2 - kernel[0];
        return [.. kernel.Select(v => v / total)];
    }

    private static Turbulence Interval(double[] posterior)
    {
        double total = 0, mean = 0, square = 0;
        for (int g = 0; g < Grid; g++)
        {
            double x = GridStart + GridStep * g;
            total += posterior[g];
            mean += posterior[g] * x;
            square += posterior[g] * x * x;
        }
        mean /= total;
        double spread = 1.645 * Math.Sqrt(Math.Max(square / total - mean * mean, 0) + ModelSpread * ModelSpread);
        return new Turbulence(Math.Exp(mean), Math.Exp(mean - spread), Math.Exp(mean + spread));
    }

    private static double Square(double x) => x * x;
}

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
    // Of ln EDR: C2 is 2.0 to 2.2, air near the ground is not isotropic, lags of wing and sensors; where height stands alone,
    // what path and pilot make of gusts besides. Common practice, no source.
    private const double ModelSpread = 0.24, HeightModelSpread = 0.28;
    private const double UsualLog = -2.3, UsualSpread = 0.7; // of ln EDR of sessions: 0.1, a third to three times

    // Air varies from place to place by an eighth; besides, some windows hold a thermal's edge, a push on the stick or a spike,
    // which only ever add to it. Common practice, no source.
    private const double LocalSpread = 0.12, Disturbed = 0.08, DisturbedBy = 0.5;

    private const int Grid = 60, Below = 5, Above = 25;
    private const double GridStep = 0.08, GridStart = -4.8;
    private static readonly double[] Spreads = [0.12, 0.2, 0.35];
    private static readonly double[] SpreadOdds = [1, 1, 0.4];

    /// <summary>Longitudinal structure function, m²/s².</summary>
    internal static double LongitudinalM2ps2(double edr, double separationM) => TurbulenceSpectrum.C2 * Math.Pow(edr * edr * edr * separationM, 2.0 / 3);

    /// <summary>
    /// Every flight of a session. One without a glide that could be used has what the others tell of it; where none has
    /// one all are unknown.
    /// </summary>
    /// <param name="flights">The flights.</param>
    /// <param name="air">Their air; null entries, or none at all, leave height to stand for energy height and a usual speed for the path.</param>
    /// <param name="usualAirspeedMps">For each flight.</param>
    public static IReadOnlyList<Turbulence> Estimate(IReadOnlyList<Flight> flights, IReadOnlyList<FlightAir?> air, IReadOnlyList<double> usualAirspeedMps)
    {
        Dictionary<double, double?> lags = flights.GroupBy(f => f.Track.StepS).ToDictionary(g => g.Key, g => TurbulenceWindows.VarioLagS(g));
        double turned = TurbulenceWindows.StraightRad(flights, air);
        TurbulenceWindows[] windows = [.. flights.Select((f, k) => TurbulenceWindows.Of(f, air.Count > k ? air[k] : null, usualAirspeedMps[k],
            f.Track.VarioMps is null ? null : lags[f.Track.StepS], turned))];
        Turbulence[] found = [.. flights.Select(_ => Turbulence.Unknown)];
        foreach (IGrouping<TurbulenceSource, int> alike in Enumerable.Range(0, flights.Count).GroupBy(k => windows[k].Source))
        {
            int[] members = [.. alike];
            if (members.All(k => windows[k].Windows.Count == 0))
            {
                continue;
            }
            IReadOnlyList<TurbulenceNoise> noises = TurbulenceNoise.Candidates([.. members.Select(k => windows[k])]);
            double[][][] likelihoods = [.. noises.Select(n => members.Select(k => LogLikelihood(windows[k], n)).ToArray())];
            IReadOnlyList<Turbulence> together = Together(likelihoods, [.. noises.Select(n => n.LogPrior)], alike.Key.Energy ? ModelSpread : HeightModelSpread);
            for (int i = 0; i < members.Length; i++)
            {
                found[members[i]] = together[i];
            }
        }
        return found;
    }

    /// <summary>Over the grid of ln EDR: each window's own turbulence departs from the flight's as <see cref="Departures"/> says.</summary>
    private static double[] LogLikelihood(TurbulenceWindows flight, TurbulenceNoise noise)
    {
        double[] likelihood = new double[Grid], own = new double[Grid];
        foreach (Ordinate[] window in flight.Windows)
        {
            TurbulenceNoise.LogLikelihood(window, noise, StrengthGrid, own);
            double highest = own.Max();
            for (int g = 0; g < Grid; g++)
            {
                own[g] = Math.Exp(own[g] - highest);
            }
            for (int g = 0; g < Grid; g++)
            {
                double sum = 0;
                for (int d = -Below; d <= Above; d++)
                {
                    sum += Departures[d + Below] * own[Math.Clamp(g + d, 0, Grid - 1)];
                }
                likelihood[g] += highest + Math.Log(Math.Max(sum, 1e-300));
            }
        }
        return likelihood;
    }

    /// <summary>ε^(2/3) along the grid.</summary>
    private static readonly double[] StrengthGrid = [.. Enumerable.Range(0, Grid).Select(g => Math.Exp(2 * (GridStart + GridStep * g)))];

    /// <summary>
    /// All flights' posteriors: each a normal about the session's in ln EDR, whose middle and spread are unknown too and
    /// summed over, as are the noises tried.
    /// </summary>
    private static IReadOnlyList<Turbulence> Together(double[][][] likelihoods, double[] logPriors, double modelSpread)
    {
        int flights = likelihoods[0].Length;
        double[][] highest = [.. likelihoods.Select(l => l.Select(f => f.Max()).ToArray())];
        double[][][] plain = [.. likelihoods.Select((l, m) => l.Select((f, k) => f.Select(v => Math.Exp(v - highest[m][k])).ToArray()).ToArray())];
        double[,,] odds = new double[likelihoods.Length, Spreads.Length, Grid];
        double best = double.NegativeInfinity;
        double[][] kernels = [.. Spreads.Select(Kernel)];
        for (int m = 0; m < likelihoods.Length; m++)
        {
            for (int s = 0; s < Spreads.Length; s++)
            {
                for (int c = 0; c < Grid; c++)
                {
                    double sum = logPriors[m] + Math.Log(SpreadOdds[s]) - 0.5 * Square((GridStart + GridStep * c - UsualLog) / UsualSpread);
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
        for (int m = 0; m < likelihoods.Length; m++)
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
        return [.. posterior.Select(p => Interval(p, modelSpread))];
    }

    private static readonly double[] Departures = DepartureOdds();

    private static double[] DepartureOdds()
    {
        double[] air = [.. Enumerable.Range(-Below, Below + Above + 1).Select(d => Math.Exp(-0.5 * Square(GridStep * d / LocalSpread)))];
        double[] more = [.. Enumerable.Range(-Below, Below + Above + 1).Select(d => d < 0 ? 0 : Math.Exp(-GridStep * d / DisturbedBy))];
        (double all, double added) = (air.Sum(), more.Sum());
        return [.. air.Zip(more, (a, m) => (1 - Disturbed) * a / all + Disturbed * m / added)];
    }

    private static double[] Kernel(double spread)
    {
        double[] kernel = [.. Enumerable.Range(0, Grid).Select(g => Math.Exp(-0.5 * Square(GridStep * g / spread)))];
        double total = kernel.Sum() * 2 - kernel[0];
        return [.. kernel.Select(v => v / total)];
    }

    private static Turbulence Interval(double[] posterior, double modelSpread)
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
        double spread = 1.645 * Math.Sqrt(Math.Max(square / total - mean * mean, 0) + modelSpread * modelSpread);
        return new Turbulence(Math.Exp(mean), Math.Exp(mean - spread), Math.Exp(mean + spread));
    }

    private static double Square(double x) => x * x;
}

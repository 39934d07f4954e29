using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;
using ThermalTrace.Numerics;

namespace ThermalTrace.Polars;

/// <summary>The airframe's drag as one session tells it.</summary>
/// <param name="Terms">What the coefficients mean.</param>
/// <param name="Mean">Posterior mean of the coefficients.</param>
/// <param name="Draws">Posterior draws, one a row, hyperparameters' uncertainty included.</param>
/// <param name="Noise">Hyperparameters at the mode.</param>
/// <param name="EffectiveGlides">Independent pieces of air, by ballast.</param>
/// <param name="Information">Likelihood's information over the terms at the mode (prior not in it).</param>
/// <param name="Score">Its vector: information times estimate.</param>
/// <param name="Rows">Rows behind it.</param>
internal sealed record PolarEstimate(DragTerms Terms, Vector<double> Mean, double[][] Draws, AirNoise Noise,
    IReadOnlyList<double> EffectiveGlides, Matrix<double> Information, Vector<double> Score, int Rows);

/// <summary>
/// Generalised least squares for the drag terms with everything else integrated out: wind errors flight by flight in
/// closed form, the air's and sensors' hyperparameters by their own posterior. docs/models/polar.md.
/// </summary>
internal static class PolarFit
{
    private const int EnoughRows = 20_000;
    private const int HyperDraws = 24, DrawsOfEach = 84;
    internal static readonly AirNoise Usual = new(0.35, 3.0, 0.12, 60, 0.12); // where the search begins; common practice, no source
    private static readonly double[] Spread = [0.7, 0.5, 0.7, 0.6, 0.6];     // log-normal prior about it

    /// <summary>Fits; null where no flight has a glide with airspeed.</summary>
    /// <param name="flights">Flights with known mass.</param>
    /// <param name="terms">Terms with their prior.</param>
    /// <param name="planform">Geometry.</param>
    /// <param name="seed">Seed of the draws.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <param name="changed">Every account of the air that is tried, as it is to be used: to see what a part of it is good for.</param>
    public static PolarEstimate? Fit(IReadOnlyList<GlideFlight> flights, DragTerms terms, Planform planform, int seed, CancellationToken cancel,
        Func<AirNoise, AirNoise>? changed = null)
    {
        AirNoise NoiseAt(Vector<double> u) => changed is null ? PolarFit.NoiseAt(u) : changed(PolarFit.NoiseAt(u));
        Vector<double> about = terms.PriorMean;
        double[] start = new double[5];
        List<(EnergyRows Rows, int Ballast)> rows = [];
        for (int round = 0; round < 2; round++)
        {
            rows = [];
            foreach (GlideFlight flight in flights)
            {
                cancel.ThrowIfCancellationRequested();
                if (GlideRows.Build(flight, terms, planform, about) is { } built)
                {
                    rows.Add((built, flight.Ballast));
                }
            }
            if (rows.Count == 0)
            {
                return null;
            }
            // The air's few habits are known well from a part of a very long log; an ordinary session is searched whole.
            int every = Math.Max(1, rows.Sum(r => r.Rows.TimeS.Length) / EnoughRows);
            List<(EnergyRows Rows, int Ballast)> some = [.. rows.Where((_, k) => k % every == 0)];
            double Cost(Vector<double> u)
            {
                cancel.ThrowIfCancellationRequested();
                return Solve(some, terms, NoiseAt(u)).Cost + 0.5 * u.DotProduct(u);
            }
            start = SimplexSearch.Minimise(Cost, start, 0.5, 0.001, round == 0 ? 200 : 150).ToArray();
            about = Solve(rows, terms, NoiseAt(Vector<double>.Build.DenseOfArray(start))).Mean;
        }
        Solution mode = Solve(rows, terms, NoiseAt(Vector<double>.Build.DenseOfArray(start)));
        (Vector<double> mean, double[][] draws) = Draw(rows, terms, start, NoiseAt, seed, cancel);
        AirNoise noise = NoiseAt(Vector<double>.Build.DenseOfArray(start));
        double[] effective = new double[terms.Ballasts];
        double quick = noise.QuickMps * noise.QuickMps, slow = noise.SlowMps * noise.SlowMps;
        double memory = 2 * (quick * noise.QuickS + slow * noise.SlowS) / (quick + slow);
        foreach ((EnergyRows r, int ballast) in rows)
        {
            effective[ballast] += r.TimeS.Length / memory;
        }
        return new PolarEstimate(terms, mean, draws, noise, effective, mode.Information, mode.Score, rows.Sum(r => r.Rows.TimeS.Length));
    }

    private sealed record Solution(double Cost, Vector<double> Mean, Cholesky<double> Precision, Matrix<double> Information, Vector<double> Score);

    private static AirNoise NoiseAt(Vector<double> u)
    {
        double At(int i, double usual) => usual * Math.Exp(Spread[i] * Math.Clamp(u[i], -5, 5));
        return new AirNoise(At(0, Usual.QuickMps), At(1, Usual.QuickS), At(2, Usual.SlowMps), At(3, Usual.SlowS), At(4, Usual.NoiseM));
    }

    /// <summary>Posterior of the terms at given hyperparameters, and minus the log of their marginal likelihood.</summary>
    private static Solution Solve(List<(EnergyRows Rows, int Ballast)> flights, DragTerms terms, AirNoise noise)
    {
        int count = terms.Count;
        Matrix<double> information = Matrix<double>.Build.Dense(count, count);
        Vector<double> score = Vector<double>.Build.Dense(count);
        double square = 0, logs = 0;
        foreach ((EnergyRows rows, _) in flights)
        {
            (double ofSquare, double ofLogs) = FlightEvidence.Add(rows, noise, information, score);
            square += ofSquare;
            logs += ofLogs;
        }
        Matrix<double> precision = information + terms.PriorPrecision;
        precision = (precision + precision.Transpose()) * 0.5;
        Cholesky<double> factor = precision.Cholesky();
        Vector<double> shifted = score - information * terms.PriorMean;
        Vector<double> departure = factor.Solve(shifted);
        double residual = square - 2 * terms.PriorMean.DotProduct(score) + terms.PriorMean.DotProduct(information * terms.PriorMean)
            - shifted.DotProduct(departure);
        double cost = 0.5 * (residual + logs + factor.DeterminantLn);
        return new Solution(cost, terms.PriorMean + departure, factor, information, score);
    }

    /// <summary>
    /// Draws hyperparameters from the Laplace approximation at their mode, weighs them by their true posterior, and draws
    /// terms given each: the air's own uncertainty widens the bands as it should.
    /// </summary>
    private static (Vector<double> Mean, double[][] Draws) Draw(List<(EnergyRows Rows, int Ballast)> rows, DragTerms terms, double[] mode,
        Func<Vector<double>, AirNoise> noiseAt, int seed, CancellationToken cancel)
    {
        const int n = 5;
        double Cost(double[] u)
        {
            cancel.ThrowIfCancellationRequested();
            Vector<double> vector = Vector<double>.Build.DenseOfArray(u);
            return Solve(rows, terms, noiseAt(vector)).Cost + 0.5 * vector.DotProduct(vector);
        }
        Matrix<double> hessian = Matrix<double>.Build.Dense(n, n);
        const double h = 0.15;
        double centre = Cost(mode);
        double[,] plus = new double[n, 2];
        for (int i = 0; i < n; i++)
        {
            for (int side = 0; side < 2; side++)
            {
                double[] u = (double[])mode.Clone();
                u[i] += side == 0 ? h : -h;
                plus[i, side] = Cost(u);
            }
            hessian[i, i] = (plus[i, 0] + plus[i, 1] - 2 * centre) / (h * h);
        }
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < i; j++)
            {
                double[] u = (double[])mode.Clone();
                u[i] += h;
                u[j] += h;
                hessian[i, j] = (Cost(u) - plus[i, 0] - plus[j, 0] + centre) / (h * h);
                hessian[j, i] = hessian[i, j];
            }
        }
        // Where the likelihood says less than the prior, the prior's width is the least there is.
        Evd<double> spectrum = hessian.Evd(Symmetricity.Symmetric);
        Vector<double> widths = spectrum.EigenValues.Map(z => z.Real).Map(l => 1 / Math.Sqrt(Math.Max(l, 0.5)));
        System.Random random = new(seed);
        List<(double LogWeight, Solution Solution)> samples = [];
        Vector<double> z = Vector<double>.Build.Dense(n);
        for (int s = 0; s < HyperDraws; s++)
        {
            // In pairs about the mode, so that what the few samples have of luck cancels to first order.
            z = s % 2 == 1 ? -z : Vector<double>.Build.Dense(n, _ => MathNet.Numerics.Distributions.Normal.Sample(random, 0, 1));
            Vector<double> u = Vector<double>.Build.DenseOfArray(mode) + spectrum.EigenVectors * z.PointwiseMultiply(widths);
            cancel.ThrowIfCancellationRequested();
            Solution solution = Solve(rows, terms, noiseAt(u));
            double weight = -(solution.Cost + 0.5 * u.DotProduct(u)) + 0.5 * z.DotProduct(z);
            samples.Add((weight, solution));
        }
        double top = samples.Max(s => s.LogWeight);
        // Weights are tempered: twenty-four samples cannot carry a weight that one of them dominates.
        double[] weights = [.. samples.Select(s => Math.Exp(0.5 * (s.LogWeight - top)))];
        double total = weights.Sum();
        List<double[]> draws = [];
        Vector<double> mean = Vector<double>.Build.Dense(terms.Count);
        for (int s = 0; s < HyperDraws; s++)
        {
            Solution solution = samples[s].Solution;
            mean += solution.Mean * (weights[s] / total);
            int number = (int)Math.Round(HyperDraws * DrawsOfEach * weights[s] / total);
            Matrix<double> upper = solution.Precision.Factor.Transpose();
            // A stream for each sample: one draw more or less of one must not change those of all that follow.
            System.Random own = new(seed + 7919 * (s + 1));
            for (int d = 0; d < number; d++)
            {
                Vector<double> normal = Vector<double>.Build.Dense(terms.Count, _ => MathNet.Numerics.Distributions.Normal.Sample(own, 0, 1));
                draws.Add((solution.Mean + BackSubstitute(upper, normal)).ToArray());
            }
        }
        return (mean, [.. draws]);
    }

    private static Vector<double> BackSubstitute(Matrix<double> upper, Vector<double> right)
    {
        int n = right.Count;
        Vector<double> x = Vector<double>.Build.Dense(n);
        for (int i = n - 1; i >= 0; i--)
        {
            double sum = right[i];
            for (int j = i + 1; j < n; j++)
            {
                sum -= upper[i, j] * x[j];
            }
            x[i] = sum / upper[i, i];
        }
        return x;
    }
}

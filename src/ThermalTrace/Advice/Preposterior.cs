using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;

namespace ThermalTrace.Advice;

/// <summary>
/// What a decision between options would lose, and what looking first would save, where the options' values are Gaussian.
/// docs/models/plan.md eq. 4 to 6.
/// </summary>
internal static class Preposterior
{
    private const int Pairs = 4000;  // of draws, each with its opposite
    private const int Outcomes = 160, Worlds = 300;

    /// <summary>
    /// Expected gain by choosing between two options after the lead's mean has moved, over choosing now:
    /// <c>τ φ(μ/τ) − μ Φ(−μ/τ)</c>. With τ the whole spread it is what the choice now loses on average against knowing.
    /// </summary>
    /// <param name="leadMps">μ, not negative.</param>
    /// <param name="spreadMps">τ.</param>
    public static double Gain(double leadMps, double spreadMps)
    {
        if (!(spreadMps > 0))
        {
            return 0;
        }
        double u = leadMps / spreadMps;
        return Math.Max(0, spreadMps * Normal.PDF(0, 1, u) - leadMps * Normal.CDF(0, 1, -u));
    }

    /// <summary>The same for any number of options: expected greatest of values that move together, less the greatest now.</summary>
    /// <param name="means">Values now.</param>
    /// <param name="covariance">Of their moves.</param>
    /// <param name="seed">Seed.</param>
    public static double Gain(double[] means, Matrix<double> covariance, int seed)
    {
        int n = means.Length;
        if (n < 2)
        {
            return 0;
        }
        int best = Array.IndexOf(means, means.Max());
        if (n == 2)
        {
            return Gain(means[best] - means[1 - best], Math.Sqrt(Math.Max(covariance[0, 0] + covariance[1, 1] - 2 * covariance[0, 1], 0)));
        }
        Matrix<double> root = Root(covariance);
        System.Random random = new(seed);
        double sum = 0;
        for (int d = 0; d < Pairs; d++)
        {
            Vector<double> move = root * Standard(random, n);
            double up = double.NegativeInfinity, down = double.NegativeInfinity;
            for (int k = 0; k < n; k++)
            {
                up = Math.Max(up, means[k] - means[best] + move[k] - move[best]);
                down = Math.Max(down, means[k] - means[best] - move[k] + move[best]);
            }
            sum += up + down;
        }
        return sum / (2 * Pairs);
    }

    /// <summary>The verdict as things stand.</summary>
    /// <param name="means">Values.</param>
    /// <param name="covariance">Of what glides could settle and have not yet.</param>
    /// <param name="rest">By option, draws of what glides cannot settle, about zero.</param>
    /// <param name="seed">Seed.</param>
    public static string Verdict(double[] means, Matrix<double> covariance, double[][] rest, int seed) => Verdict(means, Root(covariance), rest, new System.Random(seed));

    /// <summary>Chance that the verdict will be settled (clear, or no difference that anybody feels) once the glides are flown.</summary>
    /// <param name="means">Values now.</param>
    /// <param name="moves">Covariance of the values' moves by the glides.</param>
    /// <param name="left">Covariance of what glides could settle and will not have.</param>
    /// <param name="rest">As above.</param>
    /// <param name="seed">Seed.</param>
    public static (double Clear, double NoDifference) ChanceSettled(double[] means, Matrix<double> moves, Matrix<double> left, double[][] rest, int seed)
    {
        Matrix<double> move = Root(moves), stay = Root(left);
        System.Random random = new(seed);
        int clear = 0, alike = 0;
        for (int o = 0; o < Outcomes; o++)
        {
            Vector<double> then = Vector<double>.Build.DenseOfArray(means) + move * Standard(random, means.Length);
            string verdict = Verdict(then.ToArray(), stay, rest, random);
            clear += verdict == "clear" ? 1 : 0;
            alike += verdict == "no_difference" ? 1 : 0;
        }
        return ((double)clear / Outcomes, (double)alike / Outcomes);
    }

    private static string Verdict(double[] means, Matrix<double> root, double[][] rest, System.Random random)
    {
        int n = means.Length, draws = rest[0].Length;
        double[][] values = [.. Enumerable.Range(0, n).Select(_ => new double[Worlds])];
        for (int w = 0; w < Worlds; w++)
        {
            Vector<double> x = root * Standard(random, n);
            for (int k = 0; k < n; k++)
            {
                values[k][w] = means[k] + x[k] + rest[k][w % draws];
            }
        }
        return Comparison.Judge(values, [.. Enumerable.Repeat(Comparison.FeltMps, Worlds)], [.. Enumerable.Repeat(true, n)]).Verdict;
    }

    private static Vector<double> Standard(System.Random random, int n) => Vector<double>.Build.Dense(n, _ => Normal.Sample(random, 0, 1));

    /// <summary>Symmetric root: options whose values move as one make the matrix singular, which has no Cholesky factor.</summary>
    private static Matrix<double> Root(Matrix<double> covariance)
    {
        MathNet.Numerics.LinearAlgebra.Factorization.Evd<double> evd = ((covariance + covariance.Transpose()) * 0.5).Evd(Symmetricity.Symmetric);
        Matrix<double> vectors = evd.EigenVectors;
        return vectors * Matrix<double>.Build.DenseOfDiagonalVector(evd.EigenValues.Map(z => Math.Sqrt(Math.Max(z.Real, 0)))) * vectors.Transpose();
    }
}

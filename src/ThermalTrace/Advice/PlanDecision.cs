using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;

namespace ThermalTrace.Advice;

/// <summary>
/// The choice between options in one scene, with the round-trip climb taken as linear in the drag terms over their own spread.
/// docs/models/plan.md eq. 3.
/// </summary>
internal sealed class PlanDecision
{
    private readonly Matrix<double> _slopes; // option by term, terms scaled so that their covariance now is the unit matrix

    private PlanDecision(PlanScene scene, int[] options, double[] meansMps, Matrix<double> slopes, double[][] rest)
    {
        (Scene, Options, MeansMps, _slopes, Rest) = (scene, options, meansMps, slopes, rest);
        Best = Array.IndexOf(meansMps, meansMps.Max());
        Matrix<double> all = slopes * slopes.Transpose();
        // The one that is hardest to tell from the best is the one whose choice would matter most.
        Rival = Enumerable.Range(0, options.Length).Where(k => k != Best).DefaultIfEmpty(-1)
            .MaxBy(k => k < 0 ? 0 : Preposterior.Gain(meansMps[Best] - meansMps[k], Math.Sqrt(Difference(all, k) + RestVariance(k))));
    }

    /// <summary>The air.</summary>
    public PlanScene Scene { get; }

    /// <summary>Options that can come home in it, as indices of the plan's options.</summary>
    public int[] Options { get; }

    /// <summary>Expected round-trip climb of each, m/s.</summary>
    public double[] MeansMps { get; }

    /// <summary>By option, draws of what glides cannot settle: lift, its radius, centring, wind; about zero, m/s.</summary>
    public double[][] Rest { get; }

    /// <summary>Index in <see cref="Options"/> of the best.</summary>
    public int Best { get; }

    /// <summary>Index of the one hardest to tell from it; −1 where there is none.</summary>
    public int Rival { get; }

    /// <summary>Works the scene out.</summary>
    /// <param name="scene">The air.</param>
    /// <param name="air">Its draws.</param>
    /// <param name="drawn">Options at the mean of the drag terms, then one step up and one down along each direction.</param>
    public static PlanDecision Of(PlanScene scene, IReadOnlyList<PlanScene.Air> air, DrawnOptions drawn)
    {
        int directions = (drawn.Draws - 1) / 2;
        List<int> options = [];
        List<double> means = [];
        List<double[]> slopes = [], rest = [];
        for (int k = 0; k < drawn.Options.Count; k++)
        {
            double[] middle = Trips(drawn, k, 0, air);
            if (middle.Any(double.IsNaN))
            {
                continue;
            }
            double mean = middle.Average();
            options.Add(k);
            means.Add(mean);
            rest.Add([.. middle.Select(r => r - mean)]);
            slopes.Add([.. Enumerable.Range(0, directions).Select(j => (Trips(drawn, k, 1 + 2 * j, air).Average() - Trips(drawn, k, 2 + 2 * j, air).Average()) / 2)]);
        }
        return options.Count == 0
            ? throw new Units.UnusableInputException(FormattableString.Invariant($"a wind of {scene.WindMps.High:0.#} m/s is faster than this model flies with any ballast; ask for less wind"))
            : new PlanDecision(scene, [.. options], [.. means], Matrix<double>.Build.DenseOfRows(slopes), [.. rest]);
    }

    private static double[] Trips(DrawnOptions drawn, int option, int draw, IReadOnlyList<PlanScene.Air> air) =>
        [.. air.Select(a => RoundTrip.For(drawn.Level(option, draw), drawn.Climb(option, draw, a.Lift).At(a.CoreMps).ClimbMps, a.WindMps, 0)?.ClimbMps ?? double.NaN)];

    /// <summary>Covariance of the options' values that drag makes, for a covariance of the scaled terms.</summary>
    public Matrix<double> Covariance(Matrix<double> terms) => _slopes * terms * _slopes.Transpose();

    /// <summary>Variance of the best's lead over another, as far as drag makes it.</summary>
    public double Difference(Matrix<double> values, int other) =>
        other < 0 ? 0 : Math.Max(values[Best, Best] + values[other, other] - 2 * values[Best, other], 0);

    /// <summary>Variance of that lead as far as lift, centring and wind make it.</summary>
    public double RestVariance(int other) => other < 0 ? 0 : Enumerable.Range(0, Rest[0].Length).Average(d => Math.Pow(Rest[Best][d] - Rest[other][d], 2));

    /// <summary>What choosing now loses on average against knowing the drag, less what it will lose after; the sum over rivals, and a little for narrowing alone.</summary>
    /// <param name="moves">Covariance of the scaled terms' moves.</param>
    public double Worth(Matrix<double> moves)
    {
        const double forItself = 1e-3; // where the choice is as good as made, plans still differ in how much they tell
        Matrix<double> values = Covariance(moves);
        double sum = 0;
        for (int k = 0; k < Options.Length; k++)
        {
            if (k != Best)
            {
                double spread = Math.Sqrt(Difference(values, k));
                sum += Preposterior.Gain(MeansMps[Best] - MeansMps[k], spread) + forItself * spread;
            }
        }
        return sum;
    }
}

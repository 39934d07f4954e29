using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace ThermalTrace.Numerics;

/// <summary>Nelder–Mead for costs of a few hyperparameters, where a rough minimum is enough and every look costs a filter run.</summary>
internal static class SimplexSearch
{
    /// <summary>
    /// The best point seen within about <paramref name="looks"/> evaluations. Running out of looks is no error: the
    /// costs this serves are flat at their minimum.
    /// </summary>
    public static Vector<double> Minimise(Func<Vector<double>, double> cost, double[] start, double step, double tolerance, int looks)
    {
        Vector<double> best = Vector<double>.Build.DenseOfArray(start);
        double least = double.PositiveInfinity;
        double Watched(Vector<double> x)
        {
            double value = cost(x);
            if (value < least)
            {
                (least, best) = (value, x.Clone());
            }
            return value;
        }
        try
        {
            NelderMeadSimplex.Minimum(ObjectiveFunction.Value(Watched), Vector<double>.Build.DenseOfArray(start),
                Vector<double>.Build.Dense(start.Length, step), tolerance, looks);
        }
        catch (MaximumIterationsException)
        {
            // best holds what was found
        }
        return best;
    }
}

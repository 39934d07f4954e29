using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Learning;

/// <summary>From a session on the model drags otherwise than before.</summary>
/// <param name="SessionId">The first session after the change.</param>
/// <param name="Since">Its day, yyyy-MM-dd; null where its logs have no date.</param>
/// <param name="Share">By how much more, as a share of drag, which is that of sink at the same speed.</param>
/// <param name="LogFactor">Natural logarithm of the Bayes factor against no change there.</param>
internal sealed record SeasonChange(string SessionId, string? Since, Band Share, double LogFactor);

/// <summary>
/// Finds changes of the airframe with time (a repair, dirt, another centre of gravity): one share of all drag, from one session
/// on. docs/models/season.md eq. 5.
/// </summary>
internal static class SeasonChanges
{
    private const int Most = 3;
    private const double Sure = 3; // a Bayes factor of 20 over all places together: a false alarm sends a pilot to look for a fault that is not there

    /// <summary>Indices of the first session after each change, rising, with what is known of it.</summary>
    /// <param name="prediction">The prior.</param>
    /// <param name="parts">In order of their days.</param>
    public static IReadOnlyList<(int From, Band Share, double LogFactor)> Find(Prediction prediction, IReadOnlyList<DragPool.Part> parts)
    {
        List<int> found = [];
        Dictionary<int, double> factors = [];
        while (found.Count < Most && parts.Count - found.Count > 1)
        {
            (int from, double factor) = Best(DragPool.Add(prediction, parts, found), parts, found);
            if (!(factor - Math.Log(parts.Count - 1) > Sure))
            {
                break;
            }
            found.Add(from);
            factors[from] = factor;
            found.Sort();
        }
        DragPool.Sum sum = DragPool.Add(prediction, parts, found);
        Matrix<double> covariance = sum.Precision.Inverse();
        Vector<double> mean = covariance * sum.Right;
        return [.. found.Select((from, c) =>
        {
            double value = mean[sum.Drag + c], half = 1.644854 * Math.Sqrt(covariance[sum.Drag + c, sum.Drag + c]);
            return (from, new Band(value, value - half, value + half), factors[from]);
        })];
    }

    private static (int From, double LogFactor) Best(DragPool.Sum sum, IReadOnlyList<DragPool.Part> parts, List<int> known)
    {
        int size = sum.Right.Count;
        Matrix<double> covariance = sum.Precision.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(size));
        Vector<double> mean = covariance * sum.Right;
        Vector<double> cross = Vector<double>.Build.Dense(size);
        double square = 0, score = 0, best = double.NegativeInfinity;
        int at = -1;
        for (int s = parts.Count - 1; s > 0; s--)
        {
            DragPool.Part part = parts[s];
            int own = part.Score.Count;
            Vector<double> all = DragPool.Part.AllDrag(own), informed = part.Information * all;
            for (int a = 0; a < own; a++)
            {
                int place = a < TunedDrag.Airframe ? a : TunedDrag.Airframe + IndexOf(sum.BallastsG, part.BallastsG[a - TunedDrag.Airframe]);
                cross[place] += informed[a];
            }
            double information = all.DotProduct(informed);
            for (int c = 0; c < known.Count; c++)
            {
                cross[sum.Drag + c] += s >= known[c] ? information : 0;
            }
            square += information;
            score += all.DotProduct(part.Score);
            double left = square - cross.DotProduct(covariance * cross) + 1 / (DragPool.ChangeShare * DragPool.ChangeShare), pull = score - cross.DotProduct(mean);
            double factor = 0.5 * pull * pull / left - 0.5 * Math.Log(left * DragPool.ChangeShare * DragPool.ChangeShare);
            if (!known.Contains(s) && factor > best)
            {
                (best, at) = (factor, s);
            }
        }
        return (at, best);
    }

    private static int IndexOf(IReadOnlyList<double> ballastsG, double ballastG)
    {
        int k = 0;
        while (Math.Abs(ballastsG[k] - ballastG) >= TunedDrag.SameBallastG)
        {
            k++;
        }
        return k;
    }
}

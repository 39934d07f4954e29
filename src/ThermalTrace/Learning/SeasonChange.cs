using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Learning;

/// <summary>From a session on the model drags otherwise than before.</summary>
/// <param name="SessionId">The first session after the change.</param>
/// <param name="Since">Its day, yyyy-MM-dd; null where its logs have no date.</param>
/// <param name="Share">By how much more, as a share of drag, which is that of sink at the same speed.</param>
/// <param name="LogFactor">Natural logarithm of the Bayes factor against no change, wherever it may be; of two found at once, that of both.</param>
internal sealed record SeasonChange(string SessionId, string? Since, Band Share, double LogFactor);

/// <summary>
/// Finds changes of the airframe with time (a repair, dirt, another centre of gravity): one share of all drag, from one session
/// on. docs/models/season.md eq. 5.
/// </summary>
internal static class SeasonChanges
{
    private const int Most = 3;
    private const int MostPaired = 600; // sessions, the latest, among which two changes are looked for at once: the work grows as their square
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
            (int[] from, double factor) = Best(DragPool.Add(prediction, parts, found), parts, found);
            if (!(factor > Sure))
            {
                break;
            }
            foreach (int place in from)
            {
                found.Add(place);
                factors[place] = factor;
            }
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

    /// <summary>What one more change would explain, for every session that it may begin with, given the changes known.</summary>
    /// <param name="Informed">Of a change from each session on: information on it, its part that hangs together with what else is unknown still in.</param>
    /// <param name="Cross">Of each, its information together with the pool's terms.</param>
    /// <param name="Solved">The pool's covariance times that.</param>
    /// <param name="Pull">Of each, the score that is left.</param>
    private sealed record Steps(double[] Informed, Vector<double>[] Cross, Vector<double>[] Solved, double[] Pull)
    {
        private const double Prior = 1 / (DragPool.ChangeShare * DragPool.ChangeShare);

        public static Steps Of(DragPool.Sum sum, IReadOnlyList<DragPool.Part> parts, List<int> known)
        {
            int size = sum.Right.Count;
            Matrix<double> covariance = sum.Precision.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(size));
            Vector<double> mean = covariance * sum.Right;
            Vector<double> cross = Vector<double>.Build.Dense(size);
            Steps steps = new(new double[parts.Count], new Vector<double>[parts.Count], new Vector<double>[parts.Count], new double[parts.Count]);
            double square = 0, score = 0;
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
                (steps.Informed[s], steps.Cross[s], steps.Solved[s], steps.Pull[s]) = (square, cross.Clone(), covariance * cross, score - cross.DotProduct(mean));
            }
            return steps;
        }

        /// <summary>Logarithm of the Bayes factor of one more change.</summary>
        public double Factor(int s)
        {
            double left = Left(s, s) + Prior;
            return 0.5 * Pull[s] * Pull[s] / left - 0.5 * Math.Log(left / Prior);
        }

        /// <summary>The same of two more at once.</summary>
        public double Factor(int s, int t)
        {
            double first = Left(s, s) + Prior, second = Left(t, t) + Prior, both = Left(s, t), determinant = first * second - both * both;
            double explained = (second * Pull[s] * Pull[s] - 2 * both * Pull[s] * Pull[t] + first * Pull[t] * Pull[t]) / determinant;
            return 0.5 * explained - 0.5 * Math.Log(determinant / (Prior * Prior));
        }

        private double Left(int s, int t) => Informed[Math.Max(s, t)] - Cross[s].DotProduct(Solved[t]);
    }

    /// <summary>The one more change, or the two more, that explain most, with the factor over all places together.</summary>
    private static (int[] From, double LogFactor) Best(DragPool.Sum sum, IReadOnlyList<DragPool.Part> parts, List<int> known)
    {
        Steps steps = Steps.Of(sum, parts, known);
        int[] places = [.. Enumerable.Range(1, parts.Count - 1).Where(s => !known.Contains(s))];
        int one = places.MaxBy(steps.Factor);
        (int[] From, double LogFactor) best = ([one], steps.Factor(one) - Math.Log(places.Length));
        // What went wrong and was put right again hides from a search for one change at a time: the days after it are like those before.
        int[] late = [.. places.TakeLast(MostPaired)];
        if (known.Count + 2 <= Most && late.Length > 1)
        {
            (int First, int Second) two = default;
            double factor = double.NegativeInfinity;
            for (int i = 0; i < late.Length; i++)
            {
                for (int k = i + 1; k < late.Length; k++)
                {
                    double pair = steps.Factor(late[i], late[k]);
                    if (pair > factor)
                    {
                        (factor, two) = (pair, (late[i], late[k]));
                    }
                }
            }
            factor -= Math.Log(late.Length * (late.Length - 1) / 2.0);
            if (factor > Math.Max(best.LogFactor, 0) + Sure)
            {
                best = ([two.First, two.Second], factor);
            }
        }
        return best;
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

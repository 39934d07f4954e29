using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Polars;

namespace ThermalTrace.Learning;

/// <summary>
/// Adds the drag evidence of sessions up. What belongs to a session alone (its air, its sensors, its camber settings, by what the
/// model flew better or worse that day) is integrated out of it first, so that sessions in turn and together give the same. docs/models/season.md eq. 1 to 3.
/// </summary>
internal static class DragPool
{
    private const double DayShare = 0.012; // of drag: dew, dirt, humidity, how the day's instruments read; common practice, no source

    /// <summary>One session as it is added up: information and score over the airframe's terms and its own ballasts'.</summary>
    /// <param name="BallastsG">Of the terms after the airframe's.</param>
    /// <param name="Information">Over those terms.</param>
    /// <param name="Score">Information times estimate.</param>
    internal sealed record Part(IReadOnlyList<double> BallastsG, Matrix<double> Information, Vector<double> Score);

    /// <summary>The airframe's drag from geometry and sessions.</summary>
    /// <param name="prediction">The prior.</param>
    /// <param name="parts">The sessions'.</param>
    public static TunedDrag Add(Prediction prediction, IReadOnlyList<Part> parts)
    {
        DragTerms prior = new(prediction, 1, 0, 0, 1);
        double[] ballasts = [.. Distinct(parts.SelectMany(p => p.BallastsG))];
        int size = TunedDrag.Airframe + ballasts.Length;
        Matrix<double> precision = Matrix<double>.Build.Dense(size, size);
        // The prior's terms of the airframe do not hang together with the others.
        precision.SetSubMatrix(0, 0, prior.PriorPrecision.SubMatrix(0, TunedDrag.Airframe, 0, TunedDrag.Airframe));
        for (int k = TunedDrag.Airframe; k < size; k++)
        {
            precision[k, k] = prior.PriorPrecision[DragTerms.Common, DragTerms.Common];
        }
        Vector<double> right = Vector<double>.Build.Dense(size);
        right.SetSubVector(0, TunedDrag.Airframe, precision.SubMatrix(0, TunedDrag.Airframe, 0, TunedDrag.Airframe) * prior.PriorMean.SubVector(0, TunedDrag.Airframe));
        int[] pieces = new int[ballasts.Length];
        foreach (Part part in parts)
        {
            int[] place = [.. Enumerable.Range(0, TunedDrag.Airframe), .. part.BallastsG.Select(b => TunedDrag.Airframe + Array.FindIndex(ballasts, a => Math.Abs(a - b) < TunedDrag.SameBallastG))];
            for (int a = 0; a < place.Length; a++)
            {
                right[place[a]] += part.Score[a];
                for (int b = 0; b < place.Length; b++)
                {
                    precision[place[a], place[b]] += part.Information[a, b];
                }
                if (a >= TunedDrag.Airframe && part.Information[a, a] > 0)
                {
                    pieces[place[a] - TunedDrag.Airframe]++;
                }
            }
        }
        precision = (precision + precision.Transpose()) * 0.5;
        Matrix<double> covariance = precision.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(size));
        return new TunedDrag(covariance * right, covariance, ballasts, pieces);
    }

    /// <summary>A session's part; null where it has none.</summary>
    /// <param name="evidence">Of the session.</param>
    /// <param name="prediction">Of the airframe as it is now.</param>
    public static Part? Of(SessionEvidence evidence, Prediction prediction)
    {
        if (evidence.Basis is not { } basis || evidence.Information.Count == 0)
        {
            return null;
        }
        int n = evidence.Terms.Count, ballasts = evidence.BallastsG.Count;
        Matrix<double> information = Matrix<double>.Build.Dense(n, n, (a, b) => evidence.Information[a * n + b]) / evidence.Widening;
        Vector<double> score = Vector<double>.Build.DenseOfEnumerable(evidence.Score) / evidence.Widening;
        int[] own = [.. Enumerable.Range(DragTerms.Gusts, DragTerms.Common - DragTerms.Gusts), .. Enumerable.Range(DragTerms.Common + ballasts, n - DragTerms.Common - ballasts)];
        int[] shared = [.. Enumerable.Range(0, TunedDrag.Airframe), .. Enumerable.Range(DragTerms.Common, ballasts)];
        int kept = shared.Length, all = kept + own.Length + 1;
        // Columns: what is shared, the session's own, and its share of drag: the sum of the discrepancy's nodes.
        Matrix<double> columns = Matrix<double>.Build.Dense(n, all);
        for (int a = 0; a < kept; a++)
        {
            columns[shared[a], a] = 1;
        }
        for (int a = 0; a < own.Length; a++)
        {
            columns[own[a], kept + a] = 1;
        }
        for (int node = 0; node < DragTerms.Nodes; node++)
        {
            columns[DragTerms.Physical + node, all - 1] = 1;
        }
        information = columns.TransposeThisAndMultiply(information) * columns;
        score = columns.TransposeThisAndMultiply(score);
        for (int a = 0; a < own.Length; a++)
        {
            double weight = 1 / Math.Pow(evidence.PriorSd[own[a]], 2);
            information[kept + a, kept + a] += weight;
            score[kept + a] += weight * evidence.PriorMean[own[a]];
        }
        information[all - 1, all - 1] += 1 / (DayShare * DayShare);
        Matrix<double> cross = information.SubMatrix(0, kept, kept, all - kept);
        Matrix<double> pivot = information.SubMatrix(kept, all - kept, kept, all - kept);
        MathNet.Numerics.LinearAlgebra.Factorization.Cholesky<double> factor = ((pivot + pivot.Transpose()) * 0.5).Cholesky();
        Matrix<double> reduced = information.SubMatrix(0, kept, 0, kept) - cross * factor.Solve(cross.Transpose());
        Vector<double> rest = score.SubVector(0, kept) - cross * factor.Solve(score.SubVector(kept, all - kept));
        Matrix<double>? change = BasisChange.From(basis, prediction, kept);
        return change is null ? new Part(evidence.BallastsG, reduced, rest)
            : new Part(evidence.BallastsG, change.TransposeThisAndMultiply(reduced) * change, change.TransposeThisAndMultiply(rest));
    }

    private static IEnumerable<double> Distinct(IEnumerable<double> ballastsG)
    {
        double last = double.NegativeInfinity;
        foreach (double b in ballastsG.Order())
        {
            if (b - last >= TunedDrag.SameBallastG)
            {
                yield return last = b;
            }
        }
    }
}

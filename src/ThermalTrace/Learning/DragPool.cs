using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Polars;

namespace ThermalTrace.Learning;

/// <summary>
/// Adds the drag evidence of sessions up. What belongs to a session alone (its air, its sensors, its camber settings, by what the
/// model flew better or worse that day) is integrated out of it first, so that sessions in turn and together give the same. docs/models/season.md eq. 1 to 3.
/// </summary>
internal static class DragPool
{
    // By what a session's account of the air leaves its drag curve off, as a share of drag, one standard deviation: what the day alone
    // brings (its wind's error, dew, dirt) and what all days share (winds that come out low for the same reasons, thermals the glides
    // lead through). Both change slowly along the curve. From seasons of simulations: docs/calibration.md.
    private const double DayShare = 0.02, DaySharePerWind = 0.01; // the second for each m/s of wind: airspeed is ground speed less a wind that is not quite known
    private const double LastingShare = 0.055;
    private const double ShareLength = 0.6; // in ln CL: such errors change slowly along the curve

    /// <summary>By how much an airframe's drag may change at once, as a share of it: a repair, a dented leading edge; common practice, no source.</summary>
    public const double ChangeShare = 0.08;

    /// <summary>One session as it is added up: information and score over the airframe's terms and its own ballasts'.</summary>
    /// <param name="BallastsG">Of the terms after the airframe's.</param>
    /// <param name="Information">Over those terms.</param>
    /// <param name="Score">Information times estimate.</param>
    internal sealed record Part(IReadOnlyList<double> BallastsG, Matrix<double> Information, Vector<double> Score)
    {
        /// <summary>One more share of all drag, as terms: every node of the discrepancy by 1.</summary>
        public static Vector<double> AllDrag(int size) => Vector<double>.Build.Dense(size, i => i is >= DragTerms.Physical and < DragTerms.Physical + DragTerms.Nodes ? 1 : 0);
    }

    /// <summary>Sessions added up: precision and right-hand side over the airframe's terms, every ballast ever flown and the changes.</summary>
    internal sealed record Sum(IReadOnlyList<double> BallastsG, Matrix<double> Precision, Vector<double> Right, IReadOnlyList<int> Pieces)
    {
        /// <summary>Terms before the changes.</summary>
        public int Drag => TunedDrag.Airframe + BallastsG.Count;
    }

    /// <summary>Adds up.</summary>
    /// <param name="prediction">The prior.</param>
    /// <param name="parts">The sessions', in order of their days.</param>
    /// <param name="changes">Indices of the sessions from which on the model drags otherwise than before; each has a term.</param>
    public static Sum Add(Prediction prediction, IReadOnlyList<Part> parts, IReadOnlyList<int> changes)
    {
        DragTerms prior = new(prediction, 1, 0, 0, 1);
        const int airframe = TunedDrag.Airframe;
        double[] ballasts = [.. Distinct(parts.SelectMany(p => p.BallastsG))];
        int drag = airframe + ballasts.Length, size = drag + changes.Count;
        Matrix<double> precision = Matrix<double>.Build.Dense(size, size);
        // The prior's terms of the airframe do not hang together with the others.
        precision.SetSubMatrix(0, 0, prior.PriorPrecision.SubMatrix(0, airframe, 0, airframe));
        for (int k = airframe; k < size; k++)
        {
            precision[k, k] = k < drag ? prior.PriorPrecision[DragTerms.Common, DragTerms.Common] : 1 / (ChangeShare * ChangeShare);
        }
        Vector<double> right = Vector<double>.Build.Dense(size);
        right.SetSubVector(0, airframe, precision.SubMatrix(0, airframe, 0, airframe) * prior.PriorMean.SubVector(0, airframe));
        int[] pieces = new int[ballasts.Length];
        for (int s = 0; s < parts.Count; s++)
        {
            Part part = parts[s];
            int own = airframe + part.BallastsG.Count;
            int[] place = [.. Enumerable.Range(0, airframe), .. part.BallastsG.Select(b => airframe + Array.FindIndex(ballasts, a => Math.Abs(a - b) < TunedDrag.SameBallastG)),
                .. Enumerable.Range(0, changes.Count).Where(c => s >= changes[c]).Select(c => drag + c)];
            Matrix<double> columns = Matrix<double>.Build.Dense(own, place.Length);
            for (int a = 0; a < place.Length; a++)
            {
                columns.SetColumn(a, a < own ? Vector<double>.Build.Dense(own, i => i == a ? 1 : 0) : Part.AllDrag(own));
            }
            Matrix<double> information = columns.TransposeThisAndMultiply(part.Information) * columns;
            Vector<double> score = columns.TransposeThisAndMultiply(part.Score);
            for (int a = 0; a < place.Length; a++)
            {
                right[place[a]] += score[a];
                for (int b = 0; b < place.Length; b++)
                {
                    precision[place[a], place[b]] += information[a, b];
                }
                if (a >= airframe && a < own && part.Information[a, a] > 0)
                {
                    pieces[place[a] - airframe]++;
                }
            }
        }
        return new Sum(ballasts, (precision + precision.Transpose()) * 0.5, right, pieces);
    }

    /// <summary>The airframe's drag as it is now, after all changes.</summary>
    /// <param name="sum">The sessions.</param>
    /// <param name="sessions">How many.</param>
    public static TunedDrag Now(Sum sum, int sessions)
    {
        int size = sum.Right.Count, drag = sum.Drag;
        Matrix<double> covariance = sum.Precision.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(size));
        Vector<double> mean = covariance * sum.Right;
        Matrix<double> now = Matrix<double>.Build.Dense(drag, size);
        for (int a = 0; a < size; a++)
        {
            now.SetColumn(a, a < drag ? Vector<double>.Build.Dense(drag, i => i == a ? 1 : 0) : Part.AllDrag(drag));
        }
        covariance = now * covariance * now.Transpose();
        if (sessions > 0)
        {
            // What lasts is in every session alike: no number of them takes it away.
            const int first = DragTerms.Physical, nodes = DragTerms.Nodes;
            covariance.SetSubMatrix(first, first, covariance.SubMatrix(first, nodes, first, nodes) + Shares(LastingShare));
        }
        return new TunedDrag(now * mean, covariance, sum.BallastsG, sum.Pieces);
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
        int kept = shared.Length, all = kept + own.Length + DragTerms.Nodes;
        // Columns: what is shared, the session's own, and by what its curve is off: the discrepancy's nodes once more.
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
            columns[DragTerms.Physical + node, kept + own.Length + node] = 1;
        }
        information = columns.TransposeThisAndMultiply(information) * columns;
        score = columns.TransposeThisAndMultiply(score);
        for (int a = 0; a < own.Length; a++)
        {
            double weight = 1 / Math.Pow(evidence.PriorSd[own[a]], 2);
            information[kept + a, kept + a] += weight;
            score[kept + a] += weight * evidence.PriorMean[own[a]];
        }
        Matrix<double> day = DayShares(evidence).Inverse();
        information.SetSubMatrix(kept + own.Length, kept + own.Length, information.SubMatrix(kept + own.Length, DragTerms.Nodes, kept + own.Length, DragTerms.Nodes) + day);
        Matrix<double> cross = information.SubMatrix(0, kept, kept, all - kept);
        Matrix<double> pivot = information.SubMatrix(kept, all - kept, kept, all - kept);
        MathNet.Numerics.LinearAlgebra.Factorization.Cholesky<double> factor = ((pivot + pivot.Transpose()) * 0.5).Cholesky();
        Matrix<double> reduced = information.SubMatrix(0, kept, 0, kept) - cross * factor.Solve(cross.Transpose());
        Vector<double> rest = score.SubVector(0, kept) - cross * factor.Solve(score.SubVector(kept, all - kept));
        Matrix<double>? change = BasisChange.From(basis, prediction, kept);
        return change is null ? new Part(evidence.BallastsG, reduced, rest)
            : new Part(evidence.BallastsG, change.TransposeThisAndMultiply(reduced) * change, change.TransposeThisAndMultiply(rest));
    }

    /// <summary>Covariance over the nodes of what a session's day alone brings.</summary>
    internal static Matrix<double> DayShares(SessionEvidence evidence) => Shares(DayShare + DaySharePerWind * WindMps(evidence));

    /// <summary>Mean wind of a session's flights, m/s; 0 where not known.</summary>
    private static double WindMps(SessionEvidence evidence) => evidence.Flights.Where(f => f.WindMps is not null).Select(f => f.WindMps!.Value).DefaultIfEmpty(0).Average();

    /// <summary>Covariance over the nodes of a share of drag that changes slowly along the curve.</summary>
    private static Matrix<double> Shares(double share) => Matrix<double>.Build.Dense(DragTerms.Nodes, DragTerms.Nodes, (a, b) =>
    {
        double apart = (DragTerms.NodeLnCl(a) - DragTerms.NodeLnCl(b)) / ShareLength;
        return share * share * (Math.Exp(-0.5 * apart * apart) + (a == b ? 1e-4 : 0));
    });

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

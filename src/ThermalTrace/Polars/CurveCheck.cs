using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace ThermalTrace.Polars;

/// <summary>Flights that fly on another drag curve than the rest.</summary>
/// <param name="Flights">Indices among the flights that were looked at.</param>
/// <param name="LogFactor">Natural logarithm of the Bayes factor against one curve for all.</param>
/// <param name="DragChange">Change of drag as a share, at each of <paramref name="LnCl"/>: mean and standard error.</param>
/// <param name="LnCl">Lift coefficients that those flights flew, slow to fast, as logarithms.</param>
internal sealed record CurveSuspicion(IReadOnlyList<int> Flights, double LogFactor, IReadOnlyList<(double Mean, double StandardError)> DragChange, IReadOnlyList<double> LnCl);

/// <summary>
/// Whether some flights in a row depart together from the curve of the others, as they would with a camber setting that
/// nobody noted: a smooth departure in ln CL, integrated out. docs/models/checks.md eq. 3.
/// </summary>
internal static class CurveCheck
{
    private const double DepartureShare = 0.12; // of drag, one standard deviation: a few degrees of flap
    private const double MotionMps = 0.05;      // of a flight's air as a whole, beyond what the fit's own air allows for
    private const int MostFlights = 40;         // ranges grow with the square of the flights; beyond, only whole runs of this length or less

    /// <summary>Every range of flights in a row, the likeliest first.</summary>
    /// <param name="flights">Flights in the order flown.</param>
    /// <param name="estimate">The fit.</param>
    /// <param name="planform">Geometry.</param>
    public static IReadOnlyList<CurveSuspicion> Look(IReadOnlyList<GlideFlight> flights, PolarEstimate estimate, Planform planform)
    {
        DragTerms terms = estimate.Terms;
        int size = terms.Count + 1, motion = terms.Count, nodes = DragTerms.Nodes, first = DragTerms.Physical;
        EnergyRows?[] rows = [.. flights.Select(f => GlideRows.Build(f, terms, planform, estimate.Mean))];
        FlightEvidence?[] each = [.. rows.Select(r => r is null ? null
            : FlightEvidence.Of(AddedColumns.With(r, (motion, AddedColumns.RisingAir(r))), estimate.Noise, size).Without(motion, 1 / (MotionMps * MotionMps)))];
        int count = each.Count(e => e is not null);
        if (count < 2)
        {
            return [];
        }
        KnownTerms known = KnownTerms.From(terms, FlightEvidence.Sum(each.OfType<FlightEvidence>(), size));
        Matrix<double> kernel = terms.PriorCovariance.SubMatrix(first, nodes, first, nodes);
        kernel *= DepartureShare * DepartureShare / kernel[0, 0];
        Cholesky<double> prior = kernel.Cholesky();
        Matrix<double> priorPrecision = prior.Solve(Matrix<double>.Build.DenseIdentity(nodes));
        List<(int From, int To, int Flights, double LogFactor, Vector<double> Mean, Cholesky<double> Precision)> found = [];
        for (int i = 0; i < each.Length; i++)
        {
            FlightEvidence sum = FlightEvidence.None(size);
            int inside = 0;
            for (int j = i; j < each.Length && j - i < MostFlights; j++)
            {
                if (each[j] is not { } flight)
                {
                    continue;
                }
                sum = sum.Plus(flight, 1);
                // More than half of the flights cannot be the exception: the same split is met as its other side.
                if (++inside > count / 2 || (inside * 2 == count && i > 0))
                {
                    break;
                }
                Matrix<double> across = sum.Information.SubMatrix(0, size, first, nodes);
                Matrix<double> precision = priorPrecision + sum.Information.SubMatrix(first, nodes, first, nodes) - across.TransposeThisAndMultiply(known.Factor.Solve(across));
                Cholesky<double> factor = ((precision + precision.Transpose()) * 0.5).Cholesky();
                Vector<double> residual = sum.Score.SubVector(first, nodes) - across.TransposeThisAndMultiply(known.Mean);
                Vector<double> mean = factor.Solve(residual);
                double log = 0.5 * (residual.DotProduct(mean) - factor.DeterminantLn - prior.DeterminantLn);
                found.Add((i, j, inside, log, mean, factor));
            }
        }
        return [.. found.OrderByDescending(f => f.LogFactor).Take(12).Select(f =>
        {
            double[] flown = [.. Enumerable.Range(f.From, f.To - f.From + 1).Where(k => rows[k] is not null).SelectMany(k => AddedColumns.LnCl(rows[k]!)).Where(x => !double.IsNaN(x)).Order()];
            double[] at = [flown[(int)(0.95 * (flown.Length - 1))], flown[flown.Length / 2], flown[(int)(0.05 * (flown.Length - 1))]];
            return new CurveSuspicion([.. Enumerable.Range(f.From, f.To - f.From + 1).Where(k => each[k] is not null)], f.LogFactor, [.. at.Select(x =>
            {
                Vector<double> weights = Hat(x);
                return (weights.DotProduct(f.Mean), Math.Sqrt(weights.DotProduct(f.Precision.Solve(weights))));
            })], at);
        })];
    }

    /// <summary>Shares of the two nodes about a lift coefficient.</summary>
    private static Vector<double> Hat(double lnCl)
    {
        Vector<double> weights = Vector<double>.Build.Dense(DragTerms.Nodes);
        double step = DragTerms.NodeLnCl(1) - DragTerms.NodeLnCl(0);
        double position = Math.Clamp((lnCl - DragTerms.NodeLnCl(0)) / step, 0, DragTerms.Nodes - 1 - 1e-9);
        int node = (int)position;
        (weights[node], weights[node + 1]) = (1 - (position - node), position - node);
        return weights;
    }
}

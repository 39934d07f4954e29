using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Polars;

namespace ThermalTrace.Learning;

/// <summary>
/// Evidence was gathered in terms of the geometry that <c>airframe.json</c> had then. Where it has been put right since, the old
/// terms are written as sums of the new ones that make the same drag force at the same speed and mass. docs/models/season.md eq. 4.
/// </summary>
internal static class BasisChange
{
    private const double Alike = 1e-5; // documents keep six digits of the basis: those of one geometry differ by up to 5e-6
    private const double Ridge = 1e-6;

    /// <summary>Old terms from new, one row an old term; null where nothing has changed. Terms beyond the airframe's (departures as shares of drag) stay as they are.</summary>
    /// <param name="old">As it was.</param>
    /// <param name="now">As it is.</param>
    /// <param name="size">Number of terms, the airframe's first.</param>
    public static Matrix<double>? From(DragBasis old, Prediction now, int size)
    {
        DragBasis basis = DragBasis.Of(now);
        if (Same(old, basis))
        {
            return null;
        }
        DragTerms before = new(new Prediction(old.Planform, old.Curve, now.Spread), 1, 0, 0, 1), after = new(now, 1, 0, 0, 1);
        const int a = TunedDrag.Airframe;
        List<double[]> left = [], right = [];
        double[] row = new double[before.Count], other = new double[after.Count];
        for (double cl = Planform.FastestCl; cl <= Planform.SlowestCl; cl *= 1.06)
        {
            // Reynolds number goes with speed, so with CL at one mass; other masses lie about that.
            foreach (double heavier in new[] { 0.9, 1.0, 1.2, 1.5 })
            {
                double ratio = Math.Sqrt(heavier * 0.6 / cl);
                before.Fill(cl, ratio, -1, 0, row);
                // The same force on another area is another coefficient; the same speed on another chord another Reynolds number.
                double areas = old.AreaM2 / basis.AreaM2;
                after.Fill(cl * areas, ratio * (old.ReferenceReynolds / old.ChordM) / (basis.ReferenceReynolds / basis.ChordM), -1, 0, other);
                double weight = 1 / old.Curve.Cd(cl, ratio, old.AspectRatio);
                left.Add([.. row.Take(a).Select(v => v * weight)]);
                right.Add([.. other.Take(a).Select(v => v * weight / areas)]);
            }
        }
        Matrix<double> b = Matrix<double>.Build.DenseOfRows(left), c = Matrix<double>.Build.DenseOfRows(right);
        // Many sums of old terms make one curve: of those, the one that changes each term least on its prior's scale.
        Matrix<double> scale = Matrix<double>.Build.DenseDiagonal(a, a, i => Math.Sqrt(before.PriorCovariance[i, i]));
        Matrix<double> scaled = b * scale;
        Matrix<double> normal = scaled.TransposeThisAndMultiply(scaled) + Ridge * Matrix<double>.Build.DenseIdentity(a);
        // A term that means the same in both starts as itself; the rest of the curve is made up by the others.
        Matrix<double> start = Matrix<double>.Build.DenseIdentity(a);
        Matrix<double> change = start + scale * normal.Cholesky().Solve(scaled.TransposeThisAndMultiply(c - b * start));
        Matrix<double> whole = Matrix<double>.Build.DenseIdentity(size);
        whole.SetSubMatrix(0, 0, change);
        return whole;
    }

    private static bool Same(DragBasis a, DragBasis b)
    {
        static bool Near(double x, double y) => Math.Abs(x - y) <= Alike * Math.Max(Math.Abs(x), Math.Abs(y));
        return Near(a.AreaM2, b.AreaM2) && Near(a.AspectRatio, b.AspectRatio) && Near(a.ChordM, b.ChordM) && Near(a.ReferenceReynolds, b.ReferenceReynolds)
            && Near(a.Cd0, b.Cd0) && Near(a.ReynoldsExponent, b.ReynoldsExponent) && Near(a.ProfileRise, b.ProfileRise) && Near(a.LeastDragCl, b.LeastDragCl)
            && Near(a.InverseSpanEfficiency, b.InverseSpanEfficiency) && Near(a.StallRise, b.StallRise);
    }
}

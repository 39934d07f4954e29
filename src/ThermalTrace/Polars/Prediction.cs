using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Polars;

/// <summary>
/// The polar before anything was flown: skin friction between a laminar and a turbulent flat plate, a form factor, tail and
/// fuselage, induced drag. A prior with a spread, not a truth. docs/models/prediction.md.
/// </summary>
/// <param name="Planform">Geometry.</param>
/// <param name="Curve">Expected drag curve.</param>
/// <param name="Spread">Standard deviation of each of its parameters.</param>
internal sealed record Prediction(Planform Planform, DragCurve Curve, DragCurve Spread)
{
    private const double DesignCl = 0.6;           // at which the reference Reynolds number is taken
    private const double FormFactor = 1.15;        // thickness and separation bubbles; with the share below it lies between computed and wind-tunnel sections
    private const double TailAreaShare = 0.20;     // both tail surfaces over the wing; common practice, no source
    private const double FuselageCd = 0.0030;      // on wing area: pod and boom of a model glider; common practice, no source

    /// <summary>Predicts from geometry, and from the section's own drag where <c>airfoil_polar</c> gives it.</summary>
    public static Prediction For(Airframe airframe)
    {
        double chord = airframe.MeanChordMm is { } given ? given / 1000 : airframe.WingAreaM2 / airframe.WingSpanM;
        Planform shape = new(airframe.WingAreaM2, airframe.AspectRatio, chord, 1);
        double speed = shape.AirspeedMps(DesignCl, airframe.UnballastedMassG / 1000);
        double reynolds = shape.ReynoldsRatio(speed, PhysicalConstants.SeaLevelDensityKgM3, PhysicalConstants.SeaLevelTemperatureK);
        shape = shape with { ReferenceReynolds = reynolds };
        double body = 2 * SkinFriction(reynolds / 2) * 1.1 * TailAreaShare + FuselageCd;
        double profile = 2 * SkinFriction(reynolds) * FormFactor;
        DragCurve curve = new(profile + body, 0.40, 0.012, 0.45, 1.06, 0.5);
        DragCurve spread = new(0.25 * curve.Cd0, 0.12, 0.008, 0.15, 0.06, 0.4);
        return airframe.AirfoilPolar is { } section ? new Prediction(shape, FromSection(section, shape, curve, body), spread with { Cd0 = 0.12 * curve.Cd0, ProfileRise = 0.005, LeastDragCl = 0.10 })
            : new Prediction(shape, curve, spread);
    }

    /// <summary>One side's mean friction coefficient between Blasius' laminar and the Prandtl–Schlichting turbulent plate (Schlichting, Boundary-Layer Theory).</summary>
    internal static double SkinFriction(double reynolds) =>
        LaminarShare(reynolds) * LaminarPlate(reynolds) + (1 - LaminarShare(reynolds)) * TurbulentPlate(reynolds);

    /// <summary>
    /// Share of the chord that is laminar, both sides together: bubbles take it away at low Reynolds number. Half at
    /// 60 000 and two thirds at 200 000, so that sections at lift coefficients of 0.1 to 0.3 have the drag that an open
    /// section program (NACA 2406: 0.0142, 0.0115, 0.0086 at 60, 100 and 200 thousand) and a wind tunnel (Eppler 387:
    /// 0.0155 to 0.0164 at 100 thousand, NASA TM-4062) bracket.
    /// </summary>
    private static double LaminarShare(double reynolds) => Math.Clamp(0.5 + 0.135 * Math.Log(reynolds / 60_000), 0.3, 0.75);

    /// <summary>1.328/√Re.</summary>
    internal static double LaminarPlate(double reynolds) => 1.328 / Math.Sqrt(reynolds);

    /// <summary>0.455/(log10 Re)^2.58.</summary>
    internal static double TurbulentPlate(double reynolds) => 0.455 / Math.Pow(Math.Log10(reynolds), 2.58);

    /// <summary>The curve's profile terms fitted to the section's table by least squares below the stall; the body is added.</summary>
    private static DragCurve FromSection(AirfoilPolar section, Planform shape, DragCurve prior, double body)
    {
        double bestSum = double.PositiveInfinity;
        DragCurve best = prior;
        for (int step = 0; step <= 14; step++)
        {
            double r = 0.05 * step;
            Matrix<double> normal = Matrix<double>.Build.Dense(3, 3);
            Vector<double> right = Vector<double>.Build.Dense(3);
            double square = 0;
            for (int i = 0; i < section.Cl.Count; i++)
            {
                double cl = section.Cl[i];
                if (cl is < 0.05 or > DragCurve.StallOnsetCl + 0.1)
                {
                    continue;
                }
                double[] row = [Math.Pow(section.Reynolds[i] / shape.ReferenceReynolds, -r), cl, cl * cl];
                for (int a = 0; a < 3; a++)
                {
                    right[a] += row[a] * section.Cd[i];
                    for (int b = 0; b < 3; b++)
                    {
                        normal[a, b] += row[a] * row[b];
                    }
                }
                square += section.Cd[i] * section.Cd[i];
            }
            // A table at one Reynolds number or few lift coefficients leaves directions open: the usual curve holds them.
            double[] usual = [prior.Cd0 - body, -2 * prior.ProfileRise * prior.LeastDragCl, prior.ProfileRise];
            for (int a = 0; a < 3; a++)
            {
                normal[a, a] += 1e-3;
                right[a] += 1e-3 * usual[a];
            }
            Vector<double> x = normal.Cholesky().Solve(right);
            double sum = square - 2 * x.DotProduct(right) + x.DotProduct(normal * x) + 1e-6 * Math.Abs(r - prior.ReynoldsExponent);
            if (sum < bestSum && x[2] > 1e-4)
            {
                double least = Math.Clamp(-x[1] / (2 * x[2]), 0, 0.9);
                double floor = x[0] - x[2] * least * least;
                if (floor > 0.002)
                {
                    (bestSum, best) = (sum, prior with { Cd0 = floor + body, ReynoldsExponent = r, ProfileRise = x[2], LeastDragCl = least });
                }
            }
        }
        return best;
    }
}

using ThermalTrace.Numerics;
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
    private const double SectionScatter = 0.001;   // of a table about a curve this simple (laminar buckets, bubbles); common practice, no source
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
        return airframe.AirfoilPolar is { } section ? new Prediction(shape, FromSection(section, shape, curve, spread, body), spread with { Cd0 = 0.12 * curve.Cd0, ProfileRise = 0.005, LeastDragCl = 0.10 })
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

    /// <summary>
    /// The curve's profile terms fitted to the section's table by least squares below the stall; the body is added. A table at
    /// one Reynolds number or few lift coefficients leaves directions open: there the usual curve holds.
    /// </summary>
    private static DragCurve FromSection(AirfoilPolar section, Planform shape, DragCurve usual, DragCurve spread, double body)
    {
        int[] rows = [.. Enumerable.Range(0, section.Cl.Count).Where(i => section.Cl[i] is > 0.05 and < DragCurve.StallOnsetCl + 0.1)];
        double[] expected = [usual.Cd0 - body, usual.ReynoldsExponent, usual.ProfileRise, usual.LeastDragCl];
        double[] spreads = [spread.Cd0, spread.ReynoldsExponent, spread.ProfileRise, spread.LeastDragCl];
        LeastSquaresFit fit = NonlinearLeastSquares.Fit(
            (row, x, slopes) =>
            {
                slopes.Clear();
                if (row >= rows.Length)
                {
                    slopes[row - rows.Length] = 1;
                    return x[row - rows.Length];
                }
                double ratio = section.Reynolds[rows[row]] / shape.ReferenceReynolds, away = section.Cl[rows[row]] - x[3];
                double power = Math.Pow(ratio, -x[1]);
                (slopes[0], slopes[1], slopes[2], slopes[3]) = (power, -x[0] * power * Math.Log(ratio), away * away, -2 * x[2] * away);
                return x[0] * power + x[2] * away * away;
            },
            [.. rows.Select(i => section.Cd[i]), .. expected], expected,
            [.. rows.Select(_ => SectionScatter), .. spreads], sdIsKnown: true);
        return fit.Status == FitStatus.Good && fit.Estimates[0] > 0.002 && fit.Estimates[2] > 1e-4
            ? usual with { Cd0 = fit.Estimates[0] + body, ReynoldsExponent = fit.Estimates[1], ProfileRise = fit.Estimates[2], LeastDragCl = fit.Estimates[3] }
            : usual;
    }
}

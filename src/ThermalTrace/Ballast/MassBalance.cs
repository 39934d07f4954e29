using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>A cylinder of ballast at a place in the model, its axis along the fuselage.</summary>
/// <param name="MassG">g.</param>
/// <param name="DiameterMm">mm.</param>
/// <param name="LengthMm">mm.</param>
/// <param name="CentreMm">Its middle, aft of the wing root's leading edge, mm.</param>
internal readonly record struct PlacedMass(double MassG, double DiameterMm, double LengthMm, double CentreMm);

/// <summary>
/// Moments: where the centre of gravity comes to lie with ballast in, and by how much ballast adds to the pitch inertia. docs/models/pieces.md.
/// </summary>
internal static class MassBalance
{
    private const double KgM2PerGMm2 = 1e-9;
    private const double LimitRoundingMm = 1e-9; // of a sum of moments

    /// <summary>Centre of gravity of the model with ballast, mm aft of the datum: sum of moments over sum of masses.</summary>
    /// <param name="bareMassG">Without ballast, g.</param>
    /// <param name="bareCgMm">Without ballast, mm aft of the datum.</param>
    /// <param name="ballast">What is fitted.</param>
    public static double CgMm(double bareMassG, double bareCgMm, IEnumerable<PlacedMass> ballast)
    {
        ArgumentNullException.ThrowIfNull(ballast);
        double mass = bareMassG, moment = bareMassG * bareCgMm;
        foreach (PlacedMass part in ballast)
        {
            mass += part.MassG;
            moment += part.MassG * part.CentreMm;
        }
        return moment / mass;
    }

    /// <summary>
    /// Where the middle of the ballast's mass has to lie so that the centre of gravity moves as wished, mm aft of the datum; NaN without ballast.
    /// </summary>
    /// <param name="shiftMm">The wish, positive aft.</param>
    public static double CentroidForMm(double bareMassG, double bareCgMm, double ballastG, double shiftMm) =>
        ballastG > 0 ? bareCgMm + shiftMm * (bareMassG + ballastG) / ballastG : double.NaN;

    /// <summary>A cylinder's moment of inertia about its middle, across its axis: m (3 r² + l²)/12, kg m² (any handbook of mechanics).</summary>
    public static double CylinderKgM2(double massG, double diameterMm, double lengthMm) =>
        massG * (0.75 * diameterMm * diameterMm + lengthMm * lengthMm) / 12 * KgM2PerGMm2;

    /// <summary>
    /// What ballast adds to the pitch inertia, kg m²: the parts' own, their distance from the common centre of gravity (parallel axes), and the bare
    /// model's distance from it. docs/models/pieces.md eq. 3.
    /// </summary>
    /// <param name="bareMassG">Without ballast, g.</param>
    /// <param name="bareCgMm">Without ballast, mm aft of the datum.</param>
    /// <param name="ballast">What is fitted.</param>
    public static double AddedKgM2(double bareMassG, double bareCgMm, IReadOnlyCollection<PlacedMass> ballast)
    {
        double cg = CgMm(bareMassG, bareCgMm, ballast), model = cg - bareCgMm;
        return ballast.Sum(p => CylinderKgM2(p.MassG, p.DiameterMm, p.LengthMm) + p.MassG * (p.CentreMm - cg) * (p.CentreMm - cg) * KgM2PerGMm2)
            + bareMassG * model * model * KgM2PerGMm2;
    }

    /// <summary>A place in per cent of the mean chord behind its leading edge, taken to lie at the root's; null where the chord is not given.</summary>
    public static double? ChordPercent(Airframe airframe, double placeMm)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        return airframe.MeanChordMm is { } chord ? 100 * placeMm / chord : null;
    }

    /// <summary>Static margin, per cent of the mean chord: neutral point less centre of gravity; null where either or the chord is not given.</summary>
    public static double? StaticMarginPercent(Airframe airframe, double? cgMm)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        return airframe is { NeutralPointMm: { } neutral, MeanChordMm: { } chord } && cgMm is { } cg ? 100 * (neutral - cg) / chord : null;
    }

    /// <summary>Whether a centre of gravity is within its limits, which themselves belong to them; true where there are none.</summary>
    public static bool WithinLimits(double cgMm, (double ForwardMm, double AftMm)? limits) =>
        limits is not { } known || (cgMm >= known.ForwardMm - LimitRoundingMm && cgMm <= known.AftMm + LimitRoundingMm);

    /// <summary>False where no place in the tube keeps the centre of gravity within its limits; true where that is not known.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="ballastG">g.</param>
    /// <param name="lengthMm">Of the stack, mm.</param>
    public static bool CanBalance(Airframe airframe, double ballastG, double lengthMm)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        if (airframe is not { CgMm: { } cg, CgLimitsMm: { } limits, BallastTube: { } tube })
        {
            return true;
        }
        double play = Math.Max(tube.LengthMm - lengthMm, 0) / 2, mass = airframe.UnballastedMassG + ballastG;
        double moment = airframe.UnballastedMassG * cg;
        double forward = (moment + ballastG * (tube.CentreMm - play)) / mass, aft = (moment + ballastG * (tube.CentreMm + play)) / mass;
        return !(aft < limits.ForwardMm - LimitRoundingMm || forward > limits.AftMm + LimitRoundingMm);
    }
}

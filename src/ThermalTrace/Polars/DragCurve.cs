using ThermalTrace.Units;

namespace ThermalTrace.Polars;

/// <summary>
/// A drag curve of few parameters, docs/models/drag.md eq. 1:
/// <c>CD = cd0 (Re/Re0)^−r + k (CL − clb)² + CL²/(π A e) + a max(0, CL − cls)²</c>.
/// </summary>
/// <param name="Cd0">Parasite drag coefficient at the reference Reynolds number.</param>
/// <param name="ReynoldsExponent">r: how fast parasite drag falls as Reynolds number grows.</param>
/// <param name="ProfileRise">k: rise of profile drag away from its least.</param>
/// <param name="LeastDragCl">clb.</param>
/// <param name="InverseSpanEfficiency">1/e.</param>
/// <param name="StallRise">a: rise on the way to the stall.</param>
public sealed record DragCurve(double Cd0, double ReynoldsExponent, double ProfileRise, double LeastDragCl, double InverseSpanEfficiency, double StallRise)
{
    /// <summary>Lift coefficient at which the rise towards the stall begins.</summary>
    public const double StallOnsetCl = 0.80;

    /// <summary>Drag coefficient.</summary>
    /// <param name="cl">Lift coefficient.</param>
    /// <param name="reynoldsRatio">Re/Re0.</param>
    /// <param name="aspectRatio">Span squared over area.</param>
    public double Cd(double cl, double reynoldsRatio, double aspectRatio)
    {
        double away = cl - LeastDragCl, beyond = Math.Max(cl - StallOnsetCl, 0);
        return Cd0 * Math.Pow(reynoldsRatio, -ReynoldsExponent) + ProfileRise * away * away
            + cl * cl * InverseSpanEfficiency / (Math.PI * aspectRatio) + StallRise * beyond * beyond;
    }
}

/// <summary>The airframe as the equations of gliding see it. docs/models/drag.md.</summary>
/// <param name="AreaM2">Wing area, m².</param>
/// <param name="AspectRatio">Span squared over area.</param>
/// <param name="ChordM">Mean chord, m.</param>
/// <param name="ReferenceReynolds">Re0.</param>
public sealed record Planform(double AreaM2, double AspectRatio, double ChordM, double ReferenceReynolds)
{
    /// <summary>Largest and smallest lift coefficient at which models are flown: slower is stalled, faster is a dive. Common practice, no source.</summary>
    public const double SlowestCl = 1.05, FastestCl = 0.12;

    /// <summary>CL = 2 n m g / (ρ S V²).</summary>
    /// <param name="airspeedMps">True airspeed, m/s.</param>
    /// <param name="loadFactor">n, 1 in level flight.</param>
    /// <param name="massKg">kg.</param>
    /// <param name="densityKgM3">kg/m³.</param>
    public double Cl(double airspeedMps, double loadFactor, double massKg, double densityKgM3) =>
        2 * loadFactor * massKg * PhysicalConstants.StandardGravityMps2 / (densityKgM3 * AreaM2 * airspeedMps * airspeedMps);

    /// <summary>The airspeed at which level flight needs a lift coefficient, m/s, at sea-level density.</summary>
    public double AirspeedMps(double cl, double massKg) =>
        Math.Sqrt(2 * massKg * PhysicalConstants.StandardGravityMps2 / (PhysicalConstants.SeaLevelDensityKgM3 * AreaM2 * cl));

    /// <summary>Re/Re0 at an airspeed.</summary>
    public double ReynoldsRatio(double airspeedMps, double densityKgM3, double temperatureK) =>
        densityKgM3 * airspeedMps * ChordM / StandardAtmosphere.DynamicViscosityPaS(temperatureK) / ReferenceReynolds;
}

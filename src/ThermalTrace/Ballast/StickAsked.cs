namespace ThermalTrace.Ballast;

/// <summary>Which ballast stick is wanted.</summary>
public sealed record StickAsked
{
    /// <summary>g, more than 0.</summary>
    public required double BallastG { get; init; }

    /// <summary>By how much the centre of gravity is to move forward, mm; negative for aft.</summary>
    public double CgForwardMm { get; init; }

    /// <summary>What to make it of; <see cref="Materials.Usual"/> where nobody chose.</summary>
    public IReadOnlyList<Material> Materials { get; init; } = Ballast.Materials.Usual;

    /// <summary>Of the rod that the pilot has, mm; null to look for one.</summary>
    public double? DiameterMm { get; init; }

    /// <summary>Speed of the fuselage when a discus launch is let go, m/s.</summary>
    public (double Low, double High)? ThrowSpeedMps { get; init; }

    /// <summary>From the thrower's axis to the fuselage, m.</summary>
    public (double Low, double High)? ThrowRadiusM { get; init; }
}

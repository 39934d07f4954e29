using ThermalTrace.Units;

namespace ThermalTrace.Advice;

/// <summary>A number, or a range within which every value is as likely as another.</summary>
/// <param name="Low">The least.</param>
/// <param name="High">The greatest; equal to <paramref name="Low"/> for a single number.</param>
public readonly record struct AskedRange(double Low, double High)
{
    /// <summary>A single number.</summary>
    public static AskedRange At(double value) => new(value, value);

    /// <summary>Half way.</summary>
    public double Middle => (Low + High) / 2;

    /// <summary>The value a share of the way from the least to the greatest.</summary>
    public double Part(double share) => Low + share * (High - Low);
}

/// <summary>What the wind comes across on its way to the field.</summary>
public enum Ground
{
    /// <summary>Open grass and low crops.</summary>
    Grass,
    /// <summary>Hedges, high crops, scattered trees and houses.</summary>
    Hedges,
    /// <summary>Woods.</summary>
    Trees,
}

/// <summary>The conditions that advice is asked for.</summary>
public sealed record AskedConditions
{
    /// <summary>m/s, at flying height, or at <see cref="WindHeightM"/> where that is given.</summary>
    public required AskedRange WindMps { get; init; }

    /// <summary>Height over ground at which the wind was read, m; null where it is meant for flying height.</summary>
    public double? WindHeightM { get; init; }

    /// <summary>The field's name (untrusted), for what its earlier readings tell; null where not given.</summary>
    public string? Field { get; init; }

    /// <summary>Vertical speed of the air in a thermal's core, m/s; 0 for none. Null where <see cref="ClimbMps"/> is given.</summary>
    public AskedRange? LiftMps { get; init; }

    /// <summary>The climb seen today, m/s.</summary>
    public AskedRange? ClimbMps { get; init; }

    /// <summary>The ballast it was seen with, g.</summary>
    public double ClimbWithG { get; init; }

    /// <summary>Turbulence, m^(2/3)/s; null to take it from wind and ground.</summary>
    public AskedRange? Edr { get; init; }

    /// <summary>What the wind comes across.</summary>
    public Ground Ground { get; init; }

    /// <summary>Height of the field above the sea, m.</summary>
    public double FieldHeightM { get; init; }

    /// <summary>Temperature at the field, K; null for the standard atmosphere's.</summary>
    public double? TemperatureK { get; init; }

    /// <summary>The time to make, s; null where not asked.</summary>
    public double? TimeS { get; init; }

    /// <summary>Least height over ground at which lift is to be reached, m.</summary>
    public double ArriveM { get; init; } = UsualArriveM;

    /// <summary>Height from which lift is flown to, and from which time aloft is counted, m; null for the model's own launch.</summary>
    public double? FromHeightM { get; init; }

    /// <summary>Low enough to land from, high enough to turn; common practice, no source.</summary>
    public const double UsualArriveM = 15;

    /// <summary>Air density at the field, kg/m³: the standard atmosphere's pressure there, at the temperature given.</summary>
    public double DensityKgM3 => TemperatureK is { } warm
        ? StandardAtmosphere.DensityKgM3(StandardAtmosphere.PressurePa(FieldHeightM), warm)
        : FieldHeightM == 0 ? PhysicalConstants.SeaLevelDensityKgM3 : StandardAtmosphere.DensityKgM3(FieldHeightM);
}

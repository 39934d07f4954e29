using System.Text.Json.Serialization;
using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Reports.Stick;

/// <summary>The <c>stick --json</c> document: what to build for the tube. Lengths aft of the wing root's leading edge, as in airframe.json. docs/models/stick.md.</summary>
public sealed record StickDocument
{
    /// <summary>Always thermaltrace.stick/1.</summary>
    public string Schema { get; init; } = "thermaltrace.stick/1";
    /// <summary>Version of the program that wrote it.</summary>
    public required string Program { get; init; }
    /// <summary>The model.</summary>
    public required AirframeEntry Airframe { get; init; }
    /// <summary>Where the stick goes.</summary>
    public required TubeEntry Tube { get; init; }
    /// <summary>g.</summary>
    public required double BallastAskedG { get; init; }
    /// <summary>With it, g.</summary>
    public required double FlyingMassG { get; init; }
    /// <summary>The wish, mm.</summary>
    public required double CgForwardMm { get; init; }
    /// <summary>Without ballast; null where not given.</summary>
    public required double? BareCgMm { get; init; }
    /// <summary>Forward and aft; empty where not given.</summary>
    public required IReadOnlyList<double> CgLimitsMm { get; init; }
    /// <summary>Of the bare model.</summary>
    public required Interval BarePitchInertiaKgM2 { get; init; }
    /// <summary>True where airframe.json gives it; else it is what is usual for the span.</summary>
    public required bool BarePitchInertiaGiven { get; init; }
    /// <summary>Off by less than this nobody feels it, g.</summary>
    public required double MassToleranceG { get; init; }
    /// <summary>Best first: those that fit, within the limits, as wished, with least pitch inertia.</summary>
    public required IReadOnlyList<StickOptionEntry> Options { get; init; }
    /// <summary>Sideways in a discus launch; null for other launches.</summary>
    public required ThrowLoadEntry? ThrowLoad { get; init; }
    /// <summary>Without ballast and with it.</summary>
    public required IReadOnlyList<MassEffectEntry> Effects { get; init; }
    /// <summary>That hold for all options.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }
}

/// <summary>A stick to build.</summary>
public sealed record StickOptionEntry
{
    /// <summary>As known here, or as the pilot named it.</summary>
    public required string Material { get; init; }
    [JsonPropertyName("density_g_cm3")] public required double DensityGCm3 { get; init; }
    /// <summary>What is sold under that name.</summary>
    [JsonPropertyName("density_g_cm3_low")] public required double DensityGCm3Low { get; init; }
    [JsonPropertyName("density_g_cm3_high")] public required double DensityGCm3High { get; init; }
    /// <summary>slug, as thick as the bore lets in, or rod, as long as the tube lets in.</summary>
    public required string Form { get; init; }
    /// <summary>False where it does not go into the tube.</summary>
    public required bool Fits { get; init; }
    public required double DiameterMm { get; init; }
    public required double LengthMm { get; init; }
    public required double LengthMmLow { get; init; }
    public required double LengthMmHigh { get; init; }
    /// <summary>Of its middle; null where it does not fit.</summary>
    public required double? CentreMm { get; init; }
    public required double MassG { get; init; }
    /// <summary>The most that the tube takes of it in that diameter.</summary>
    public required double MostMassG { get; init; }
    public required double MostMassGLow { get; init; }
    public required double MostMassGHigh { get; init; }
    /// <summary>Length to saw to before filing.</summary>
    public required double SawLengthMm { get; init; }
    /// <summary>The document's mass tolerance as length.</summary>
    public required double LengthToleranceMm { get; init; }
    /// <summary>Room all around in the bore; negative where it does not go in.</summary>
    public required double RadialGapMm { get; init; }
    /// <summary>What keeps it from rattling.</summary>
    public required string Packing { get; init; }
    /// <summary>Empty length of the tube before it; null where it does not fit.</summary>
    public required double? SpacerFrontMm { get; init; }
    /// <summary>And behind it.</summary>
    public required double? SpacerRearMm { get; init; }
    /// <summary>With it in; null where it does not fit or the bare model's is not given.</summary>
    public required double? CgMm { get; init; }
    /// <summary>In per cent of the mean chord.</summary>
    public required double? CgChordPercent { get; init; }
    /// <summary>Positive aft.</summary>
    public required double? CgShiftMm { get; init; }
    /// <summary>With it in; null without a neutral point.</summary>
    public required double? StaticMarginPercent { get; init; }
    public required double? PitchInertiaAddedKgM2 { get; init; }
    /// <summary>As the length's bounds have it.</summary>
    public required double? PitchInertiaAddedKgM2Low { get; init; }
    public required double? PitchInertiaAddedKgM2High { get; init; }
    /// <summary>Over the bare model's.</summary>
    public required Interval PitchInertiaShare { get; init; }
    /// <summary>Period of the quick oscillation in pitch, with ballast over without, at the same speed.</summary>
    public required Interval PitchPeriodRatio { get; init; }
    /// <summary>Root mean square distance of its mass from the common centre of gravity.</summary>
    public required double? GyrationMm { get; init; }
    /// <summary>Its farther end from the common centre of gravity.</summary>
    public required double? FarthestMm { get; init; }
    public required IReadOnlyList<string> Cautions { get; init; }
}

/// <summary>What the stick pulls sideways with when the model is let go; bounds from the ends of speed and radius.</summary>
/// <param name="SpeedMps">Of the fuselage.</param>
/// <param name="SpeedGiven">True where the pilot gave it.</param>
/// <param name="RadiusM">From the thrower's axis to the fuselage.</param>
/// <param name="RadiusGiven">False where it is half the span and an arm.</param>
/// <param name="ForceN">m v²/r.</param>
/// <param name="Weights">As multiples of the stick's weight.</param>
public sealed record ThrowLoadEntry(Interval SpeedMps, bool SpeedGiven, Interval RadiusM, bool RadiusGiven, Interval ForceN, Interval Weights)
{
    /// <summary>True where the speed was reckoned from the launch heights of the logbook.</summary>
    public bool SpeedFromLaunches { get; init; }
}

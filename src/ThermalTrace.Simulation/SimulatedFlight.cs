namespace ThermalTrace.Simulation;

/// <summary>What a model is doing; the contract's segment kinds.</summary>
internal enum Phase
{
    Ground,
    Launch,
    Glide,
    Climb,
    Landing,
}

/// <summary>Everything true of one step. Heights above the field, SI.</summary>
internal readonly record struct Moment(double TimeS, Phase Phase, double EastM, double NorthM, double HeightM,
    double GroundEastMps, double GroundNorthMps, double ClimbMps, double AirspeedMps, double LoadFactor,
    AirSample Air, double DensityKgM3, double Motor, double CoreLiftMps, double CoreRadiusM);

/// <summary>One flight with the time on the ground before and after it.</summary>
/// <param name="Model">What was flown.</param>
/// <param name="Moments">Step by step.</param>
/// <param name="LaunchHeightM">Gained by the first launch.</param>
internal sealed record SimulatedFlight(Model Model, IReadOnlyList<Moment> Moments, double LaunchHeightM);

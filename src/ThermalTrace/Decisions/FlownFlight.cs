using ThermalTrace.Air;
using ThermalTrace.Phases;

namespace ThermalTrace.Decisions;

/// <summary>A flight with all that was found of it so far.</summary>
/// <param name="Flight">Where it lies and its phases.</param>
/// <param name="Load">What it carried.</param>
internal sealed record FlownFlight(Flight Flight, FlightLoad Load)
{
    /// <summary>Wind and airspeed; null without satellite navigation.</summary>
    public FlightAir? Air { get; init; }

    /// <summary>Turbulence.</summary>
    public Turbulence Turbulence { get; init; } = Turbulence.Unknown;

    /// <summary>How the model was thrown about.</summary>
    public Ride Ride { get; init; } = new(double.NaN, double.NaN);

    /// <summary>Its climbs.</summary>
    public IReadOnlyList<FlownClimb> Climbs { get; init; } = [];

    /// <summary>True where per-ballast results may rest on it.</summary>
    public bool Counts => !Load.Spoiled && Load.BallastG is not null && Load.FlyingMassG > 0;
}

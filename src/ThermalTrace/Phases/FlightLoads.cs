using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Phases;

/// <summary>What a flight carried, as far as it is known.</summary>
/// <param name="BallastG">g; null where nobody said.</param>
/// <param name="FlyingMassG">g; null where ballast is not known.</param>
/// <param name="Camber">Wing setting flown throughout (untrusted text); null where not noted.</param>
/// <param name="Spoiled">Not to be used for any estimate.</param>
internal sealed record FlightLoad(double? BallastG, double? FlyingMassG, string? Camber, bool Spoiled)
{
    /// <summary>Aft of the wing root's leading edge, mm; null where not noted.</summary>
    public double? CgMm { get; init; }
}

/// <summary>Joins flights found with what the pilot noted of them; a ballast column in the log counts where no note does.</summary>
internal static class FlightLoads
{
    /// <summary>The flight's load.</summary>
    /// <exception cref="Units.UnusableInputException">Two notes speak of the flight.</exception>
    public static FlightLoad Of(Flight flight, FlightLog log, Session session)
    {
        FlightNote? note = FlightNotes.For(session.Flights, log, flight.Number, flight.StartS);
        double? ballast = note?.BallastG ?? Logged(flight);
        double? mass = note?.FlyingMassG ?? (ballast is { } g ? session.Airframe.UnballastedMassG + g : null);
        return new FlightLoad(ballast, mass, note?.Camber, note?.Spoiled ?? false) { CgMm = note?.CgMm };
    }

    /// <summary>The ballast that the log itself tells, g; null where it tells none.</summary>
    public static double? Logged(Flight flight)
    {
        if (flight.Track.BallastG is not { } column)
        {
            return null;
        }
        List<double> known = [.. column[flight.First..flight.End].Where(v => v >= 0)];
        known.Sort();
        return known.Count > 0 ? known[known.Count / 2] : null;
    }
}

using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Phases;

/// <summary>What a flight carried, as far as it is known.</summary>
/// <param name="BallastG">g; null where nobody said.</param>
/// <param name="FlyingMassG">g; null where ballast is not known.</param>
/// <param name="Camber">Wing setting flown throughout (untrusted text); null where not noted.</param>
/// <param name="Spoiled">Not to be used for any estimate.</param>
internal sealed record FlightLoad(double? BallastG, double? FlyingMassG, string? Camber, bool Spoiled);

/// <summary>Joins flights found with what the pilot noted of them; a ballast column in the log counts where no note does.</summary>
internal static class FlightLoads
{
    /// <summary>The flight's load.</summary>
    public static FlightLoad Of(Flight flight, FlightLog log, Session session)
    {
        FlightNote? note = session.Flights.FirstOrDefault(n => Concerns(n, flight, log));
        double? ballast = note?.BallastG ?? Logged(flight);
        double? mass = note?.FlyingMassG ?? (ballast is { } g ? session.Airframe.UnballastedMassG + g : null);
        return new FlightLoad(ballast, mass, note?.Camber, note?.Spoiled ?? false);
    }

    /// <summary>True where a note speaks of the flight: a time of day range holds it when the flight begins within.</summary>
    public static bool Concerns(FlightNote note, Flight flight, FlightLog log)
    {
        if (!string.Equals(note.Log, log.File, StringComparison.OrdinalIgnoreCase))
        {
            return false;
        }
        if (note.Numbers is { } numbers)
        {
            return flight.Number >= numbers.First && flight.Number <= numbers.Last;
        }
        if (note.ClockRangeS is { } range)
        {
            const double daySeconds = 86_400;
            double clock = ((log.ClockAtStartS ?? double.NaN) + flight.StartS) % daySeconds;
            return range.FromS <= range.ToS ? clock >= range.FromS && clock <= range.ToS : clock >= range.FromS || clock <= range.ToS;
        }
        return true;
    }

    private static double? Logged(Flight flight)
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

using ThermalTrace.Air;
using ThermalTrace.Decisions;
using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Tracks;

namespace ThermalTrace;

/// <summary>A flight as it can be shown before anything is estimated from it.</summary>
/// <param name="Entry">Where it lies, its launches, phases and climbs; ballast as the log itself tells it; wind, turbulence and lift not known.</param>
/// <param name="Trace">Every grid point of it, up to some twenty thousand.</param>
public sealed record SeenFlight(FlightEntry Entry, FlightTrace Trace)
{
    internal Flight? Found { get; init; }

    /// <summary>s from the log's earliest stamp: no boundary of this flight can be put before. The flight before ends here, or the log begins.</summary>
    public double EarliestS { get; init; }

    /// <summary>s from the log's earliest stamp: no boundary of this flight can be put after. The next flight begins here, or the log ends.</summary>
    public double LatestS { get; init; }

    /// <summary>From one grid point to the next, s: no boundary is known more closely.</summary>
    public double StepS { get; init; }
}

/// <summary>
/// The first part of a debrief alone, for looking at flights and moving the boundaries of their phases: the log is made into tracks once,
/// after which other notes are honoured in a moment. Flights and phases are those of <see cref="Debrief"/>, to the grid point.
/// </summary>
public sealed class FlightLook
{
    private const int MostPoints = 20_000;      // an hour at five a second; the eye sees a thousand at once
    private const double UsualEdr = 0.1;        // as a debrief begins with
    private const double UsualAirspeedMps = 7;  // where nothing tells it; its spread is wide

    private readonly FlightLog _log;
    private readonly IReadOnlyList<Track> _tracks;

    private FlightLook(FlightLog log, IReadOnlyList<Track> tracks) => (_log, _tracks) = (log, tracks);

    /// <summary>Makes a log's tracks, which takes most of the time.</summary>
    /// <param name="session">All usable logs of the session in its order: the first position of all is where the map is flat.</param>
    /// <param name="index">Which of them.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static FlightLook At(IReadOnlyList<FlightLog> session, int index, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(session);
        LocalTangentPlane? plane = session.Select(FlightSearch.PlaneOf).FirstOrDefault(p => p is not null);
        return new FlightLook(session[index], TrackBuilder.Build(session[index], index, plane, cancel));
    }

    /// <summary>The log.</summary>
    public FlightLog Log => _log;

    /// <summary>The flights of the log, in time order.</summary>
    /// <param name="launch">How the model is launched, where known.</param>
    /// <param name="notes">Rows of phases.csv; those of other logs are passed over.</param>
    public IReadOnlyList<SeenFlight> Flights(LaunchKind? launch, IReadOnlyList<PhaseNote> notes)
    {
        ArgumentNullException.ThrowIfNull(notes);
        IReadOnlyList<Flight> flights = FlightFinder.Find(_tracks, launch, [.. notes.Where(n => n.Log == _log.File)]);
        return [.. flights.Select((f, k) => Seen(f, k > 0 ? flights[k - 1] : null, k + 1 < flights.Count ? flights[k + 1] : null))];
    }

    /// <summary>A flight's wind by itself alone; a debrief, which knows the day's other flights, tells it better. Takes some tenths of a second.</summary>
    /// <param name="flight">A flight that was looked at.</param>
    /// <param name="airframe">The model, where known: how fast it is usually flown.</param>
    /// <param name="ballastG">What it carried, g; null where not known.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <returns>Null values where the log has no position.</returns>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static WindEntry Wind(SeenFlight flight, Airframe? airframe, double? ballastG, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(flight);
        if (flight.Found is not { Track.Ground: not null } found)
        {
            return FlightEntries.Wind(null);
        }
        double usual = airframe is null
            ? TrackSigns.Of(found.Track, GroundLevel.Find(found.Track)).UsualAirspeedMps
            : Prediction.For(airframe).Planform.AirspeedMps(0.6, (airframe.UnballastedMassG + (ballastG ?? 0)) / 1000);
        return FlightEntries.Wind(WindEstimator.Estimate([found], [usual > 0 ? usual : UsualAirspeedMps], [UsualEdr], 1, cancel)[0]);
    }

    private SeenFlight Seen(Flight flight, Flight? before, Flight? after)
    {
        FlownFlight flown = new(flight, new FlightLoad(FlightLoads.Logged(flight), null, null, false)) { Climbs = ClimbLog.Of(flight, null) };
        Track track = flight.Track;
        return new SeenFlight(FlightEntries.Seen(flown, _log), FlightEntries.Thinned(flown, MostPoints))
        {
            Found = flight,
            EarliestS = before is not null && before.Track == track ? before.EndS : track.TimeS(0),
            LatestS = after is not null && after.Track == track ? after.StartS : track.TimeS(track.Count - 1),
            StepS = track.StepS,
        };
    }
}

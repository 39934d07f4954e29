using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Sessions;
using ThermalTrace.Tracks;

namespace ThermalTrace;

/// <summary>A flight found in a log.</summary>
/// <param name="Number">Counted from 1 in its log.</param>
/// <param name="StartS">s from the log's earliest stamp.</param>
/// <param name="EndS">s from the log's earliest stamp.</param>
/// <param name="LaunchHeightM">Height gained when the first launch ends, m; NaN where no launch was seen.</param>
/// <param name="Launches">Number of launches, motor restarts in the air included.</param>
public sealed record FoundFlight(int Number, double StartS, double EndS, double LaunchHeightM, int Launches);

/// <summary>Finds flights before anything is known of the model: the first part of a debrief alone, for <c>prepare</c>.</summary>
public static class FlightSearch
{
    /// <summary>Flights of one log in time order; none where the log does not tell height.</summary>
    /// <param name="log">The log.</param>
    /// <param name="launch">How the model is launched, where known.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static IReadOnlyList<FoundFlight> Run(FlightLog log, LaunchKind? launch = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(log);
        IReadOnlyList<Track> tracks = TrackBuilder.Build(log, 0, PlaneOf(log), cancel);
        return [.. FlightFinder.Find(tracks, launch, []).Select(Found)];
    }

    private static FoundFlight Found(Flight flight)
    {
        Segment? first = flight.Segments.FirstOrDefault(s => s.Kind == PhaseKind.Launch);
        return new FoundFlight(flight.Number, flight.StartS, flight.EndS, first is null ? double.NaN : flight.LaunchHeightM(first),
            flight.Segments.Count(s => s.Kind == PhaseKind.Launch));
    }

    internal static LocalTangentPlane? PlaneOf(FlightLog log)
    {
        ReadOnlySpan<double> latitude = log[Quantity.Latitude], longitude = log[Quantity.Longitude];
        for (int i = 0; i < Math.Min(latitude.Length, longitude.Length); i++)
        {
            if (double.IsFinite(latitude[i]) && double.IsFinite(longitude[i]))
            {
                return new LocalTangentPlane(latitude[i], longitude[i]);
            }
        }
        return null;
    }
}

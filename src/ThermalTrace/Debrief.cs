using ThermalTrace.Air;
using ThermalTrace.Decisions;
using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace;

/// <summary>What a person may set for a debrief.</summary>
public sealed record DebriefOptions
{
    /// <summary>The pilot's own estimate of the wind's speed, m/s, used where no log can tell.</summary>
    public double? WindMps { get; init; }

    /// <summary>Seed of the posterior draws; echoed in the result.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Threads to use; changes the time taken and nothing else.</summary>
    public int Threads { get; init; } = Environment.ProcessorCount;
}

/// <summary>How far a debrief has come, for a progress bar.</summary>
/// <param name="Stage">What is being done, in words.</param>
/// <param name="Fraction">0 to 1 of the whole.</param>
public sealed record DebriefProgress(string Stage, double Fraction);

/// <summary>The debrief's outcome: the document and what its pictures need.</summary>
public sealed record DebriefResult(ResultsDocument Document, SessionTraces Traces)
{
    /// <summary>What the document was written from: posterior draws and all, for those who count how often intervals hold.</summary>
    internal DebriefInside? Inside { get; init; }
}

/// <summary>The last stages' results.</summary>
internal sealed record DebriefInside(IReadOnlyList<FlownFlight> Flights, Drag Drag, Verdict Verdict);

/// <summary>The main job, top to bottom: logs to flights, phases, air, polars, comparison, document.</summary>
public static class Debrief
{
    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static Debrief() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Debriefs a session.</summary>
    /// <exception cref="UnusableInputException">No flight could be found in any log, or a note speaks of one that was not.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static DebriefResult Run(Session session, DebriefOptions options, IProgress<DebriefProgress>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(options);
        Airframe airframe = session.Airframe;

        progress?.Report(new DebriefProgress("Finding flights and phases", 0.05));
        IReadOnlyList<FlownFlight> flights = FindFlights(session, options.Threads, cancel);
        if (flights.Count == 0)
        {
            throw new UnusableInputException(NoFlight(session));
        }

        progress?.Report(new DebriefProgress("Working out the wind", 0.25));
        Prediction prediction = Prediction.For(airframe);
        flights = WithAir(flights, airframe, prediction, options.Threads, cancel);

        progress?.Report(new DebriefProgress("Fitting the polars", 0.45));
        Drag drag = Drag.Fit(flights, airframe, prediction, options.Seed, cancel);

        progress?.Report(new DebriefProgress("Comparing the ballasts", 0.85));
        Verdict verdict = Verdict.Reach(flights, airframe, drag, options.WindMps, options.Seed, cancel);

        progress?.Report(new DebriefProgress("Looking for what does not fit", 0.93));
        cancel.ThrowIfCancellationRequested();
        Diagnosis diagnosis = Diagnosis.Of(flights, session, drag, verdict);

        progress?.Report(new DebriefProgress("Writing it down", 0.96));
        (ResultsDocument document, SessionTraces traces) = DocumentBuilder.Build(session, options.Seed, flights, drag, verdict, diagnosis);
        progress?.Report(new DebriefProgress("Done", 1));
        return new DebriefResult(document, traces) { Inside = new DebriefInside(flights, drag, verdict) };
    }

    private const double UsualEdr = 0.1; // of a flight too short to tell; a fair day over grass

    /// <summary>Flights of all logs, log by log; logs are independent, so they may be worked on at once.</summary>
    private static IReadOnlyList<FlownFlight> FindFlights(Session session, int threads, CancellationToken cancel)
    {
        IReadOnlyList<Flight>[] found = new IReadOnlyList<Flight>[session.Logs.Count];
        LocalTangentPlane? plane = session.Logs.Select(FlightSearch.PlaneOf).FirstOrDefault(p => p is not null);
        Parallel.For(0, session.Logs.Count, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(threads, 1), CancellationToken = cancel }, l =>
        {
            FlightLog log = session.Logs[l];
            IReadOnlyList<Track> tracks = TrackBuilder.Build(log, l, plane, cancel);
            found[l] = FlightFinder.Find(tracks, session.Airframe.Launch, [.. session.Phases.Where(n => n.Log == log.File)]);
        });
        FlightNotes.RequireFlights(session, [.. found.Select(log => log.Select(f => f.StartS).ToArray())]);
        return [.. found.SelectMany((log, l) => log.Select(f => new FlownFlight(f, FlightLoads.Of(f, session.Logs[l], session))))];
    }

    internal static IReadOnlyList<FlownFlight> WithAir(IReadOnlyList<FlownFlight> flights, Airframe airframe, Prediction prediction, int threads,
        CancellationToken cancel)
    {
        double[] usual = [.. flights.Select(f => prediction.Planform.AirspeedMps(0.6, (f.Load.FlyingMassG ?? airframe.UnballastedMassG) / 1000))];
        Flight[] flown = [.. flights.Select(f => f.Flight)];
        IReadOnlyList<Turbulence> rough = TurbulenceEstimator.Estimate(flown, [], usual);
        IReadOnlyList<FlightAir?> air = [];
        // Height alone shows the pilot's changes of speed as turbulence; with a first airspeed they can be told apart.
        for (int round = 0; round < 2; round++)
        {
            air = WindEstimator.Estimate(flown, usual, [.. rough.Select(t => t.IsKnown ? t.Edr : UsualEdr)], threads, cancel);
            rough = TurbulenceEstimator.Estimate(flown, air, usual);
        }
        return [.. flights.Select((f, k) => f with
        {
            Air = air[k],
            Turbulence = rough[k],
            Ride = Ride.Of(f.Flight, air[k]),
            Climbs = ClimbLog.Of(f.Flight, air[k]),
        })];
    }

    private static string NoFlight(Session session)
    {
        string logs = string.Join(", ", session.Logs.Take(5).Select(l => l.File)) + (session.Logs.Count > 5 ? ", …" : "");
        bool height = session.Logs.Any(l => l.Has(Quantity.Altitude) || l.Has(Quantity.GpsAltitude) || l.Has(Quantity.ClimbRate));
        return height
            ? $"no flight was found in {logs}: looked for a model that leaves the ground, rises at least 4 m and stays up for 6 s; the height shows none"
            : $"no flight was found in {logs}: looked for altitude, pressure, GPS altitude or vertical speed and found none of them; columns.csv can say what a column means";
    }
}

using ThermalTrace.Decisions;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Calibration;

/// <summary>One simulated session, debriefed once and fitted again without each part of its account.</summary>
/// <param name="Kind">Name of the <see cref="Scenario"/>.</param>
/// <param name="Seed">Of the simulation.</param>
/// <param name="Sink">The full account's sink bands.</param>
/// <param name="SinkWithout">Those without each of <see cref="Part.All"/>.</param>
/// <param name="Trip">The full account's round-trip climbs.</param>
/// <param name="TripWithout">Those without each of <see cref="TripPart.All"/>.</param>
internal sealed record PartsResult(string Kind, long Seed, SinkFigures Sink, IReadOnlyList<SinkFigures> SinkWithout, TripFigures Trip, IReadOnlyList<TripFigures> TripWithout)
{
    private const int DrawSeed = 1;

    /// <summary>Simulates, debriefs and fits on one thread; null where no polar could be measured.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static PartsResult? Of(string kind, SimulationOptions options, CancellationToken cancel)
    {
        SimulatedSession simulated = Simulator.Run(options, cancel);
        Session session = SessionResult.Load(simulated);
        Truth truth = Truth.Read(simulated.TruthJson);
        DebriefInside debrief = Debrief.Run(session, new DebriefOptions { Threads = 1, Seed = DrawSeed }, cancel: cancel).Inside!;
        if (debrief.Drag.Estimate is null)
        {
            return null;
        }
        Refit refit = new(simulated, session, debrief, DrawSeed, cancel);
        SinkFigures Sink(Drag drag) => SinkFigures.Of(truth, drag.Options, drag.Maker, drag.Central, drag.Draws);
        return new PartsResult(kind, options.Seed, Sink(debrief.Drag), [.. Part.All.Select(p => Sink(p.Without(refit)))],
            TripFigures.Of(truth, debrief.Verdict.Outcome), [.. TripPart.All.Select(p => TripFigures.Of(truth, p.Without(refit)))]);
    }
}

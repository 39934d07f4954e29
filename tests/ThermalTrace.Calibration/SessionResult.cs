using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Calibration;

/// <summary>One simulated session, debriefed and compared with what was put in.</summary>
/// <param name="Kind">Name of the <see cref="Scenario"/>.</param>
/// <param name="Seed">Of the simulation.</param>
/// <param name="Flights">In the session.</param>
/// <param name="Score">How close the debrief came.</param>
/// <param name="Bound">How close it could have come.</param>
/// <param name="Ranks">Where the truth lies among its draws.</param>
public sealed record SessionResult(string Kind, long Seed, int Flights, Score Score, Bound Bound, Ranks Ranks)
{
    private const int DrawSeed = 1;

    /// <summary>Simulates, debriefs and scores on one thread.</summary>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static SessionResult Of(string kind, SimulationOptions options, CancellationToken cancel)
    {
        SimulatedSession simulated = Simulator.Run(options, cancel);
        Session session = Load(simulated);
        Truth truth = Truth.Read(simulated.TruthJson);
        DebriefResult debrief = Debrief.Run(session, new DebriefOptions { Threads = 1, Seed = DrawSeed }, cancel: cancel);
        return new SessionResult(kind, options.Seed, options.Flights, Score.Of(debrief.Document, truth),
            Bound.Of(simulated, session, truth, debrief.Inside!, DrawSeed, cancel), Ranks.Of(truth, debrief.Inside!));
    }

    /// <summary>The session as its files tell it.</summary>
    internal static Session Load(SimulatedSession simulated)
    {
        Airframe airframe = AirframeFile.Read(new StringReader(simulated.AirframeJson), AirframeFile.Name, null);
        IReadOnlyList<FlightNote> notes = FlightsFile.Read(new StringReader(simulated.FlightsCsv), FlightsFile.Name);
        return new Session(airframe, [.. simulated.Logs.Select(l => LogImporter.Read(new MemoryStream(l.Bytes), l.FileName, []))], notes, [], []);
    }
}

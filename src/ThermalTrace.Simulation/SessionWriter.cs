using System.Globalization;
using System.Text;

namespace ThermalTrace.Simulation;

/// <summary>Writes one and the same simulated session in any flavour.</summary>
public static class SessionWriter
{
    /// <summary>The session with its logs, <c>flights.csv</c> and truth rewritten in another flavour.</summary>
    /// <exception cref="ArgumentException">The flavour is a satellite track and the session has no satellite fixes.</exception>
    public static SimulatedSession Write(SimulatedSession session, LogFlavour flavour)
    {
        ArgumentNullException.ThrowIfNull(session);
        return Write(session.Draft, flavour);
    }

    internal static SimulatedSession Write(SessionDraft draft, LogFlavour flavour)
    {
        string ending = flavour switch { LogFlavour.Igc => ".igc", LogFlavour.Gpx => ".gpx", _ => ".csv" };
        if (ending != ".csv" && draft.Logs.Any(log => log.LatitudeDeg is null))
        {
            throw new ArgumentException("an IGC or GPX file holds satellite fixes, and this session has none; choose another flavour", nameof(flavour));
        }
        StringBuilder flights = new("log,flight,ballast_g,notes\n");
        foreach (FlightCarried note in draft.Notes)
        {
            flights.Append(CultureInfo.InvariantCulture, $"{note.LogStem}{ending},{note.Flight},{note.BallastG},\n");
        }
        return new SimulatedSession(draft, flights.ToString(),
            [.. draft.Logs.Select(log => new SimulatedFile(log.Stem + ending, Bytes(log, flavour)))], draft.Truth(ending));
    }

    private static byte[] Bytes(LogChannels log, LogFlavour flavour) => flavour switch
    {
        LogFlavour.Igc => FlightRecorderWriter.Igc(log),
        LogFlavour.Gpx => FlightRecorderWriter.Gpx(log),
        _ => DelimitedWriter.Write(log, flavour),
    };
}

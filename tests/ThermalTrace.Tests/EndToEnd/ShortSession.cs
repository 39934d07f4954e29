using System.Globalization;
using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>A short simulated session with known truth and the ways to read and debrief it without a disk.</summary>
internal static class ShortSession
{
    private const string LogName = "day.csv";

    /// <summary>Four flights of about three minutes, two ballasts in turn, one log: the least that shows every kind of phase.</summary>
    public static SimulationOptions Options { get; } = new()
    {
        Preset = "discus-1500",
        BallastsG = [0, 70],
        Flights = 4,
        FlightTimeS = 150,
        Seed = 21,
        WindMps = 3,
        Edr = 0.06,
        LiftMps = 1.6,
        TestShare = 0.5,
        Logs = LogSplit.One,
    };

    private static readonly Lazy<SimulatedSession> LazySimulated = new(() => Simulator.Run(Options));
    private static readonly Lazy<Session> LazySession = new(() => Read(Simulated));
    private static readonly Lazy<DebriefResult> LazyResult = new(() => Debrief.Run(Session, new DebriefOptions()));

    /// <summary>The session's files.</summary>
    public static SimulatedSession Simulated => LazySimulated.Value;

    /// <summary>The session, read.</summary>
    public static Session Session => LazySession.Value;

    /// <summary>Its debrief.</summary>
    public static DebriefResult Result => LazyResult.Value;

    /// <summary>The debrief's document.</summary>
    public static ResultsDocument Document => Result.Document;

    /// <summary>Header and rows of the one log.</summary>
    public static (string Header, string[] Rows) LogLines
    {
        get
        {
            string[] lines = Encoding.UTF8.GetString(Simulated.Logs[0].Bytes).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
            return (lines[0], lines[1..]);
        }
    }

    /// <summary>Reads a session's files.</summary>
    public static Session Read(SimulatedSession simulated) => new(
        AirframeFile.Read(new StringReader(simulated.AirframeJson), AirframeFile.Name, null),
        [.. simulated.Logs.Select(l => Import(l.FileName, l.Bytes))], Notes(simulated.FlightsCsv), [], []);

    /// <summary>The session with another text for its log.</summary>
    public static Session WithLog(string text) => Session with { Logs = [Import(LogName, Encoding.UTF8.GetBytes(text))] };

    /// <summary>The session with other rows of <c>flights.csv</c>; the header is given first.</summary>
    public static Session WithFlights(params string[] lines) => Session with { Flights = Notes(string.Join('\n', lines) + "\n") };

    /// <summary>Reads a log.</summary>
    public static FlightLog Import(string name, byte[] bytes)
    {
        using MemoryStream stream = new(bytes);
        return LogImporter.Read(stream, name, []);
    }

    /// <summary>Debriefs with nothing but defaults.</summary>
    public static ResultsDocument Debriefed(Session session) => Debrief.Run(session, new DebriefOptions()).Document;

    /// <summary>The log with columns made anew; whatever the function leaves alone is kept.</summary>
    public static FlightLog With(FlightLog log, Func<Quantity, double[], double[]?> change)
    {
        Dictionary<Quantity, double[]> columns = [];
        foreach (Quantity quantity in Enum.GetValues<Quantity>().Where(log.Has))
        {
            if (change(quantity, log[quantity].ToArray()) is { } column)
            {
                columns[quantity] = column;
            }
        }
        return new FlightLog(log.File, log.Sha256, log.TimeS.ToArray(), columns, log.Channels, log.Problems)
        {
            RateHz = log.RateHz,
            CamberLabels = log.CamberLabels,
            ClockAtStartS = log.ClockAtStartS,
            StartedAt = log.StartedAt,
        };
    }

    /// <summary>A number as a log has it.</summary>
    public static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static IReadOnlyList<FlightNote> Notes(string csv) => FlightsFile.Read(new StringReader(csv), FlightsFile.Name);
}

using System.Globalization;
using ThermalTrace.Logs;
using ThermalTrace.Units;

namespace ThermalTrace.Sessions;

/// <summary>Joins what a person noted with what is in the logs.</summary>
public static class FlightNotes
{
    private const double DayS = 86_400;
    private const int ShownLaunches = 20;

    /// <summary>The note that speaks of a flight, or null.</summary>
    /// <param name="notes">Rows of flights.csv.</param>
    /// <param name="log">The log.</param>
    /// <param name="number">The flight's number in the log, counted from 1.</param>
    /// <param name="launchS">When its first launch begins, s from the log's earliest stamp.</param>
    /// <exception cref="UnusableInputException">Two notes speak of it.</exception>
    public static FlightNote? For(IReadOnlyList<FlightNote> notes, FlightLog log, int number, double launchS)
    {
        ArgumentNullException.ThrowIfNull(notes);
        ArgumentNullException.ThrowIfNull(log);
        FlightNote[] found = [.. notes.Where(n => Covers(n, log, number, launchS))];
        if (found.Length > 1)
        {
            throw new UnusableInputException(string.Create(CultureInfo.InvariantCulture,
                $"{FlightsFile.Name}:{found[1].Line}: speaks of flight {number} of {log.File}, as line {found[0].Line} does; expected one row for each flight"));
        }
        return found.FirstOrDefault();
    }

    /// <summary>True where a note speaks of a flight of a log; the parameters as in <see cref="For"/>.</summary>
    public static bool Covers(FlightNote note, FlightLog log, int number, double launchS)
    {
        ArgumentNullException.ThrowIfNull(note);
        ArgumentNullException.ThrowIfNull(log);
        return note.Log == log.File && note switch
        {
            { Numbers: { } n } => number >= n.First && number <= n.Last,
            // A log's clock may run past midnight, so times are compared within a day.
            { ClockRangeS: { } range } => log.ClockAtStartS is { } clock
                && ((clock + launchS - range.FromS) % DayS + DayS) % DayS < range.ToS - range.FromS,
            _ => true,
        };
    }

    /// <summary>Refuses notes that name a flight that was not found.</summary>
    /// <param name="session">The session.</param>
    /// <param name="launchesS">When each flight of each log was launched, s from the log's earliest stamp; logs in the session's order.</param>
    /// <exception cref="UnusableInputException">There are such notes; each with its line.</exception>
    public static void RequireFlights(Session session, IReadOnlyList<IReadOnlyList<double>> launchesS)
    {
        ArgumentNullException.ThrowIfNull(session);
        RequireFlights(session.Logs, session.Flights, session.Phases, launchesS);
    }

    /// <summary>Refuses notes that name a flight that was not found, of a session that has no airframe yet.</summary>
    /// <param name="logs">The usable logs.</param>
    /// <param name="flightNotes">Rows of flights.csv.</param>
    /// <param name="phaseNotes">Rows of phases.csv.</param>
    /// <param name="launchesS">When each flight of each log was launched, s from the log's earliest stamp; in the order of the logs.</param>
    /// <exception cref="UnusableInputException">There are such notes; each with its line.</exception>
    public static void RequireFlights(IReadOnlyList<FlightLog> logs, IReadOnlyList<FlightNote> flightNotes, IReadOnlyList<PhaseNote> phaseNotes,
        IReadOnlyList<IReadOnlyList<double>> launchesS)
    {
        ArgumentNullException.ThrowIfNull(logs);
        ArgumentNullException.ThrowIfNull(flightNotes);
        ArgumentNullException.ThrowIfNull(phaseNotes);
        ArgumentNullException.ThrowIfNull(launchesS);
        Dictionary<string, (FlightLog Log, IReadOnlyList<double> LaunchesS)> flights =
            logs.Zip(launchesS).ToDictionary(p => p.First.File, p => (p.First, p.Second), StringComparer.Ordinal);
        Complaints complaints = new(FlightsFile.Name), phases = new(PhasesFile.Name);
        foreach (FlightNote note in flightNotes)
        {
            if (!flights.TryGetValue(note.Log, out (FlightLog Log, IReadOnlyList<double> LaunchesS) found))
            {
                continue; // a log that cannot be used: a notice says so
            }
            IReadOnlyList<double> launches = found.LaunchesS;
            if (note.Numbers is { } numbers && numbers.Last > launches.Count)
            {
                complaints.Add(note.Line, $"flight {FlightField.Format(note)} of {note.Log} is not there; {Found(found.Log, launches)}");
            }
            if (note.ClockRangeS is not null && !launches.Where((launch, i) => Covers(note, found.Log, i + 1, launch)).Any())
            {
                complaints.Add(note.Line, $"no flight of {note.Log} was launched within {FlightField.Format(note)}; {Found(found.Log, launches)}");
            }
        }
        foreach (PhaseNote note in phaseNotes)
        {
            if (note.Flight is { } number && flights.TryGetValue(note.Log, out (FlightLog Log, IReadOnlyList<double> LaunchesS) found)
                && number > found.LaunchesS.Count)
            {
                phases.Add(note.Line, string.Create(CultureInfo.InvariantCulture, $"flight {number} of {note.Log} is not there; {Found(found.Log, found.LaunchesS)}"));
            }
        }
        complaints.Throw();
        phases.Throw();
    }

    /// <summary>The flights that there are, so that a person can tell which one was missed.</summary>
    private static string Found(FlightLog log, IReadOnlyList<double> launchesS) => launchesS.Count == 0
        ? $"no flight was found in {log.File}"
        : string.Create(CultureInfo.InvariantCulture, $"{log.File} has {launchesS.Count} {(launchesS.Count == 1 ? "flight" : "flights")}, launched at {Launches(log, launchesS)}");

    private static string Launches(FlightLog log, IReadOnlyList<double> launchesS) =>
        string.Join(", ", launchesS.Take(ShownLaunches).Select(s => log.ClockAtStartS is { } clock
            ? FlightField.ClockText(clock + s)
            : string.Create(CultureInfo.InvariantCulture, $"{s:0} s")))
        + (launchesS.Count > ShownLaunches ? ", …" : "");
}

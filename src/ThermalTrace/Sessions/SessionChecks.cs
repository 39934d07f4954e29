using System.Globalization;
using ThermalTrace.Logs;

namespace ThermalTrace.Sessions;

/// <summary>Whether a session's parts fit each other.</summary>
internal static class SessionChecks
{
    /// <summary>Refuses notes that cannot be, and returns what a person should know of the others.</summary>
    /// <param name="session">The session, with the logs that could be used.</param>
    /// <param name="logNames">All logs of the folder, also those that could not be used.</param>
    /// <exception cref="Units.UnusableInputException">A note cannot be; each with its line.</exception>
    public static IReadOnlyList<string> Run(Session session, IReadOnlyList<string> logNames)
    {
        RequireLogs(FlightsFile.Name, session.Flights.Select(f => ((string?)f.Log, f.Line)), logNames);
        RequireLogs(PhasesFile.Name, session.Phases.Select(p => ((string?)p.Log, p.Line)), logNames);
        Complaints complaints = new(FlightsFile.Name);
        List<string> notices = [];
        foreach (FlightNote note in session.Flights)
        {
            RefuseClockWithoutOne(note, session.Logs, complaints);
            RefuseImpossibleMass(note, session.Airframe, complaints);
            if (AboveLimit(note, session.Airframe) is { } notice)
            {
                notices.Add(notice);
            }
        }
        complaints.Throw();
        return notices;
    }

    /// <summary>Refuses rows that name a log that is not in the folder.</summary>
    /// <exception cref="Units.UnusableInputException">There are such rows; each with its line and the nearest name.</exception>
    public static void RequireLogs(string file, IEnumerable<(string? Log, int Line)> rows, IReadOnlyList<string> logNames)
    {
        Complaints complaints = new(file);
        foreach ((string? log, int line) in rows)
        {
            if (log is not null && !logNames.Contains(log, StringComparer.Ordinal))
            {
                complaints.Add(line, $"there is no log \"{log}\" in this folder{NearestName.Hint(log, logNames)}");
            }
        }
        complaints.Throw();
    }

    private static void RefuseClockWithoutOne(FlightNote note, IReadOnlyList<FlightLog> logs, Complaints complaints)
    {
        if (note.ClockRangeS is not null && logs.FirstOrDefault(l => l.File == note.Log) is { ClockAtStartS: null })
        {
            complaints.Add(note.Line, $"flight \"{FlightField.Format(note)}\" is a time of day, and {note.Log} has no clock; expected a flight's number");
        }
    }

    private static void RefuseImpossibleMass(FlightNote note, Airframe airframe, Complaints complaints)
    {
        // Repairs and a lighter battery change a model by a few per cent; a factor of two is kilograms or ounces for grams.
        if (note.FlyingMassG is { } mass && !(mass > airframe.UnballastedMassG / 2))
        {
            complaints.Add(note.Line, string.Create(CultureInfo.InvariantCulture,
                $"flying_mass_g {mass} is less than half of unballasted_mass_g {airframe.UnballastedMassG}; expected the whole model's mass in g"));
        }
    }

    private static string? AboveLimit(FlightNote note, Airframe airframe)
    {
        double? mass = note.FlyingMassG ?? airframe.UnballastedMassG + note.BallastG;
        return mass > airframe.MaxFlyingMassG
            ? string.Create(CultureInfo.InvariantCulture,
                $"{FlightsFile.Name}:{note.Line}: the model flew at {mass} g, above max_flying_mass_g {airframe.MaxFlyingMassG}; the flight counts, and nothing that heavy is suggested")
            : null;
    }
}

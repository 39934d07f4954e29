using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Cli;

/// <summary>What is known of an airframe's flights, and where it comes from.</summary>
/// <param name="Sessions">Of this airframe.</param>
/// <param name="Readings">Of the wind near the ground, of any field.</param>
internal sealed record SeasonSource(IReadOnlyList<SeasonSession> Sessions, IReadOnlyList<FieldReading> Readings)
{
    /// <summary>The finished debriefs that are named, else the logbook; nothing where there is neither.</summary>
    /// <param name="airframe">Whose.</param>
    /// <param name="results">Files.</param>
    /// <param name="logbook">The logbook's file, or null for its usual place.</param>
    /// <exception cref="UnusableInputException">A file is no result, or another airframe's.</exception>
    public static SeasonSource For(Airframe airframe, IReadOnlyList<string> results, string? logbook)
    {
        if (results.Count > 0)
        {
            return new SeasonSource(FromResults(airframe, results), []);
        }
        return FromLogbook(airframe, logbook);
    }

    private static SeasonSource FromLogbook(Airframe airframe, string? logbook)
    {
        _ = airframe;
        return logbook is null || File.Exists(logbook)
            ? new SeasonSource([], [])
            : throw new UnusableInputException($"--logbook {logbook}: is not there; expected a file that logbook add has made");
    }

    private static IReadOnlyList<SeasonSession> FromResults(Airframe airframe, IReadOnlyList<string> files)
    {
        List<SeasonSession> sessions = [];
        foreach (string file in files)
        {
            ResultsDocument document = Read(file);
            if (document.Airframe.Name != airframe.Name)
            {
                throw new UnusableInputException($"{file}: is of the airframe \"{document.Airframe.Name}\", expected \"{airframe.Name}\"; name the debriefs of one airframe alone");
            }
            // The logs themselves say which session it is: the same one named twice is one.
            string id = string.Join("+", document.Logs.Select(l => l.Sha256).Order(StringComparer.Ordinal));
            if (!sessions.Any(s => s.Id == id))
            {
                sessions.Add(new SeasonSession(id, document.Evidence));
            }
        }
        return sessions;
    }

    private static ResultsDocument Read(string file)
    {
        try
        {
            using FileStream stream = File.OpenRead(file);
            return ResultsJson.Read(stream);
        }
        catch (UnusableInputException unusable)
        {
            throw new UnusableInputException($"{file}: {unusable.Message}");
        }
        catch (Exception missing) when (missing is IOException or UnauthorizedAccessException)
        {
            throw new UnusableInputException($"{file}: cannot be read; expected the results.json of a debrief ({missing.Message})");
        }
    }
}

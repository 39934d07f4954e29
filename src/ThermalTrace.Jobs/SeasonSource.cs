using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Jobs;

/// <summary>What is known of an airframe's flights, and where it comes from.</summary>
/// <param name="Season">Of this airframe, tuned.</param>
/// <param name="Readings">Of the wind near the ground, of any field.</param>
internal sealed record SeasonSource(Season Season, IReadOnlyList<Advice.FieldReading> Readings)
{
    /// <summary>Does a work that takes seconds and shows that it goes on.</summary>
    public delegate Season Watched(string stage, Func<Season> work);

    private const string Memory = "season";

    /// <summary>The finished debriefs that are named, else the logbook; nothing where there is neither.</summary>
    /// <param name="airframe">Whose.</param>
    /// <param name="results">Files.</param>
    /// <param name="logbook">The logbook's file, or null for its usual place.</param>
    /// <param name="whole">True where the sessions' own evidence is needed, not what was tuned of it alone.</param>
    /// <param name="watched">Does a long work, named in words, where a person can watch it.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableInputException">A file is no result, or another airframe's, or the logbook cannot be used.</exception>
    public static SeasonSource For(Airframe airframe, IReadOnlyList<string> results, string? logbook, bool whole, Watched watched, CancellationToken cancel)
    {
        if (results.Count > 0)
        {
            return new SeasonSource(Tuned(watched, airframe, FromResults(airframe, results), cancel), []);
        }
        string path = LogbookPlace.Of(logbook);
        if (logbook is null && !File.Exists(path))
        {
            return new SeasonSource(Season.Tune(airframe, [], cancel), []);
        }
        using LogbookFile file = LogbookFile.OpenToRead(path);
        IReadOnlyList<Advice.FieldReading> readings = [.. file.FieldDays().Where(d => d is { WindMps: not null, Reading: { Field: not null, WindMps: not null, HeightM: not null } })
            .Select(d => new Advice.FieldReading(d.Reading.Field!, d.Reading.WindMps!.Value, d.Reading.HeightM!.Value, d.WindMps!.Value))];
        string hash = file.DataHash(airframe.Name);
        if (!whole && file.GetModel(airframe.Name, Memory, hash) is { } kept && Season.FromMemory(airframe, kept.Content) is { } known)
        {
            return new SeasonSource(known, readings);
        }
        Season season = Tuned(watched, airframe, file.Sessions(airframe.Name), cancel);
        Keep(path, airframe, hash, season);
        return new SeasonSource(season, readings);
    }

    /// <summary>Keeps what was tuned beside the sessions; where the logbook cannot be written to, the next question takes as long as this one.</summary>
    private static void Keep(string path, Airframe airframe, string hash, Season season)
    {
        try
        {
            using LogbookFile file = LogbookFile.OpenToWrite(path);
            if (file.DataHash(airframe.Name) == hash)
            {
                file.PutModel(airframe.Name, new KeptModel(Memory, hash, "thermaltrace " + typeof(Season).Assembly.GetName().Version?.ToString(3), season.ToMemory()));
            }
        }
        catch (UnusableInputException)
        {
            // The answer does not hang on it.
        }
    }

    private static Season Tuned(Watched watched, Airframe airframe, IReadOnlyList<SeasonSession> sessions, CancellationToken cancel) =>
        watched("Tuning the model by its sessions", () => Season.Tune(airframe, sessions, cancel));

    private static IReadOnlyList<SeasonSession> FromResults(Airframe airframe, IReadOnlyList<string> files)
    {
        List<SeasonSession> sessions = [];
        foreach (string file in files)
        {
            ResultsDocument document = Read(file);
            if (LogbookSession.KeyOf(document.Airframe.Name) != LogbookSession.KeyOf(airframe.Name))
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

using ThermalTrace.Logs;
using ThermalTrace.Units;

namespace ThermalTrace.Sessions;

/// <summary>Reads a session's folder: the one place where the library opens a session's files. Sub-folders are not read.</summary>
public static class SessionFolder
{
    /// <summary>Reads everything in the folder.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="progress">0 to 1 of the bytes of the logs.</param>
    /// <param name="cancel">Ends the reading.</param>
    /// <exception cref="UnusableInputException">No airframe, no usable log, or a note that cannot be.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static Session Read(string folder, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        FolderFiles files = FolderFiles.List(folder);
        Airframe airframe = ReadAirframe(files) ?? throw new UnusableInputException(
            $"{folder}: there is no {AirframeFile.Name}; expected the model's description beside the logs (\"thermaltrace prepare\" makes one to fill in)");
        IReadOnlyList<FlightNote> flights = ReadNotes(files, FlightsFile.Name, FlightsFile.Read);
        IReadOnlyList<PhaseNote> phases = ReadNotes(files, PhasesFile.Name, PhasesFile.Read);
        (IReadOnlyList<FlightLog> logs, IReadOnlyList<string> unusable) = ReadLogs(files, airframe, progress, cancel);
        Session session = new(airframe, logs, flights, phases, unusable);
        IReadOnlyList<string> names = files.Logs(airframe.AirfoilPolarFile);
        return session with { Notices = [.. unusable, .. SessionChecks.Run(session, names)], Inputs = files.TextsRead };
    }

    /// <summary>Reads the logs alone, for a folder that is not a session yet.</summary>
    /// <returns>The usable logs in ordinal order of their names, and a message for each that is not usable.</returns>
    /// <exception cref="UnusableInputException">No usable log, or a broken column note.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static (IReadOnlyList<FlightLog> Logs, IReadOnlyList<string> Notices) ReadLogs(string folder,
        IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        FolderFiles files = FolderFiles.List(folder);
        return ReadLogs(files, AirframeSoFar(files), progress, cancel);
    }

    /// <summary>Names of the logs in a folder, in ordinal order.</summary>
    /// <exception cref="UnusableInputException">There is no such folder.</exception>
    public static IReadOnlyList<string> LogNames(string folder)
    {
        FolderFiles files = FolderFiles.List(folder);
        return files.Logs(AirframeSoFar(files)?.AirfoilPolarFile);
    }

    /// <summary>The airframe of a folder where there is a whole one; null while it is not there or not filled in.</summary>
    /// <exception cref="UnusableInputException">There is no such folder.</exception>
    public static Airframe? AirframeSoFar(string folder) => AirframeSoFar(FolderFiles.List(folder));

    /// <summary>Reads an airframe: an <c>airframe.json</c> or a folder that holds one.</summary>
    /// <exception cref="UnusableInputException">It is not there or cannot be.</exception>
    public static Airframe ReadAirframe(string path)
    {
        if (Directory.Exists(path))
        {
            return ReadAirframe(FolderFiles.List(path))
                ?? throw new UnusableInputException($"{path}: there is no {AirframeFile.Name} in this folder");
        }
        if (!File.Exists(path))
        {
            throw new UnusableInputException($"{path}: is not there; expected an {AirframeFile.Name} or a folder that holds one");
        }
        FolderFiles beside = FolderFiles.List(Path.GetDirectoryName(Path.GetFullPath(path))!);
        using TextReader reader = FolderFiles.OpenText(path, path);
        return AirframeFile.Read(reader, Path.GetFileName(path), beside.OpenText);
    }

    /// <summary>The airframe of a folder; null where it has none.</summary>
    /// <exception cref="UnusableInputException">It cannot be, or there is no such folder.</exception>
    public static Airframe? FindAirframe(string folder) => ReadAirframe(FolderFiles.List(folder));

    /// <summary>Checks an airframe's text as if it stood in a folder, where the files that it names lie.</summary>
    /// <exception cref="UnusableInputException">It cannot be, or there is no such folder.</exception>
    public static Airframe CheckAirframe(string folder, string text)
    {
        using StringReader reader = new(text);
        return AirframeFile.Read(reader, AirframeFile.Name, FolderFiles.List(folder).OpenText);
    }

    /// <summary>The columns of one log as its text has them, understood or not; empty for formats that have none.</summary>
    /// <exception cref="UnusableInputException">It cannot be read.</exception>
    public static IReadOnlyList<LogColumn> PeekColumns(string folder, string name) => FolderFiles.List(folder).Read(name, stream => LogColumns.Peek(stream, name));

    /// <summary>Reads one log of a folder.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="name">One of <see cref="LogNames"/>.</param>
    /// <param name="columns">What columns mean; rows that speak of other logs are passed over.</param>
    /// <param name="progress">0 to 1.</param>
    /// <param name="cancel">Ends the reading.</param>
    /// <exception cref="UnusableInputException">It is not there, or nothing in it can be used.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static FlightLog ReadLog(string folder, string name, IReadOnlyList<ColumnNote> columns, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        FolderFiles files = FolderFiles.List(folder);
        if (!files.Logs(null).Contains(name))
        {
            throw new UnusableInputException($"{name}: is not there");
        }
        return files.Read(name, stream => LogImporter.Read(stream, name, columns, progress, cancel));
    }

    /// <summary>The name that a note file has in a folder, which may differ from the usual one in the case of its letters; null where it is not there.</summary>
    /// <exception cref="UnusableInputException">There is no such folder.</exception>
    public static string? NoteName(string folder, string usual) => FolderFiles.List(folder).Find(usual)?.Name;

    /// <summary>The text of a note file; null where it is not there.</summary>
    /// <exception cref="UnusableInputException">It cannot be read, or there is no such folder.</exception>
    public static string? NoteText(string folder, string usual)
    {
        using TextReader? reader = FolderFiles.List(folder).OpenText(usual);
        return reader?.ReadToEnd();
    }

    /// <summary>What a person should know of a session whose parts were read one by one, as <see cref="Read"/> would tell it.</summary>
    /// <param name="session">Its notices: of logs that are not usable.</param>
    /// <param name="logNames">Of all logs, usable or not.</param>
    /// <exception cref="UnusableInputException">A note speaks of a log that is not there.</exception>
    public static IReadOnlyList<string> Notices(Session session, IReadOnlyList<string> logNames)
    {
        ArgumentNullException.ThrowIfNull(session);
        return [.. session.Notices, .. SessionChecks.Run(session, logNames)];
    }

    /// <summary>The column notes of a folder; empty where it has none.</summary>
    /// <exception cref="UnusableInputException">Something in them cannot be.</exception>
    public static IReadOnlyList<ColumnNote> ReadColumnNotes(string folder) =>
        ReadNotes(FolderFiles.List(folder), ColumnsFile.Name, ColumnsFile.Read);

    /// <summary>True for the files that a session folder has beside its logs, whatever the case of their letters.</summary>
    public static bool IsNoteFile(string name) => FolderFiles.IsNoteFile(name);

    private static Airframe? AirframeSoFar(FolderFiles files)
    {
        try
        {
            return ReadAirframe(files);
        }
        catch (UnusableInputException)
        {
            // A debrief says what is wrong with it; until then a template is no reason not to look at the logs.
            return null;
        }
    }

    private static Airframe? ReadAirframe(FolderFiles files)
    {
        using TextReader? reader = files.OpenText(AirframeFile.Name);
        return reader is null ? null : AirframeFile.Read(reader, AirframeFile.Name, files.OpenText);
    }

    private static IReadOnlyList<T> ReadNotes<T>(FolderFiles files, string name, Func<TextReader, string, IReadOnlyList<T>> read)
    {
        using TextReader? reader = files.OpenText(name);
        return reader is null ? [] : read(reader, name);
    }

    private static (IReadOnlyList<FlightLog> Logs, IReadOnlyList<string> Notices) ReadLogs(FolderFiles files, Airframe? airframe,
        IProgress<double>? progress, CancellationToken cancel)
    {
        IReadOnlyList<string> names = files.Logs(airframe?.AirfoilPolarFile);
        if (names.Count == 0)
        {
            throw new UnusableInputException($"{files.Folder}: there is no log; expected files that end in {string.Join(", ", FolderFiles.LogEndings)}");
        }
        IReadOnlyList<ColumnNote> columns = ReadNotes(files, ColumnsFile.Name, ColumnsFile.Read);
        SessionChecks.RequireLogs(ColumnsFile.Name, columns.Select(c => (c.Log, c.Line)), names);
        List<FlightLog> logs = [];
        List<string> notices = [];
        double done = 0, all = names.Sum(files.Length);
        foreach (string name in names)
        {
            cancel.ThrowIfCancellationRequested();
            double before = done, share = files.Length(name);
            done += share;
            try
            {
                logs.Add(files.Read(name, stream => LogImporter.Read(stream, name, columns, new Part(progress, before / all, share / all), cancel)));
            }
            catch (UnusableInputException unusable)
            {
                notices.Add(unusable.Message);
            }
        }
        return logs.Count > 0 ? (logs, notices)
            : throw new UnusableInputException($"{files.Folder}: no log can be used\n{string.Join('\n', notices)}");
    }

    /// <summary>Reports a log's progress as its share of all logs.</summary>
    private sealed class Part(IProgress<double>? whole, double from, double share) : IProgress<double>
    {
        public void Report(double value) => whole?.Report(double.IsFinite(from + share * value) ? from + share * value : 1);
    }
}

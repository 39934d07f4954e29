using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Pages.Desk;

/// <summary>Reads the folder, and of its logs only those that have changed.</summary>
internal sealed class FolderReader(string folder)
{
    private readonly Dictionary<string, (string Key, LogView Log)> _kept = new(StringComparer.Ordinal);

    /// <summary>Names, lengths and times of what a debrief may read: when it changes, the folder is to be read anew.</summary>
    public string Listing()
    {
        StringBuilder listing = new();
        DirectoryInfo place = new(folder);
        IEnumerable<FileInfo> files = place.Exists ? place.EnumerateFiles() : [];
        foreach (FileInfo file in files.Where(f => !f.Name.StartsWith('.')).OrderBy(f => f.Name, StringComparer.Ordinal))
        {
            listing.Append(CultureInfo.InvariantCulture, $"{file.Name}/{file.Length}/{file.LastWriteTimeUtc.Ticks}\n");
        }
        return listing.ToString();
    }

    /// <summary>Reads it; what is wrong is in the view.</summary>
    /// <param name="report">Takes a stage in words and a fraction.</param>
    /// <param name="cancel">Ends the reading.</param>
    public FolderView Read(Action<string, double> report, CancellationToken cancel)
    {
        List<string> problems = [];
        NoteFile<IReadOnlyList<ColumnNote>> columns = Note(ColumnsFile.Name, ColumnsFile.Read);
        NoteFile<Airframe> airframe = Note(AirframeFile.Name, (_, _) => SessionFolder.FindAirframe(folder));
        NoteFile<IReadOnlyList<FlightNote>> flights = Note(FlightsFile.Name, FlightsFile.Read);
        NoteFile<IReadOnlyList<PhaseNote>> phases = Note(PhasesFile.Name, PhasesFile.Read);
        IReadOnlyList<string> names = [];
        try
        {
            names = SessionFolder.LogNames(folder);
        }
        catch (UnusableInputException missing)
        {
            problems.Add(missing.Message);
        }
        IReadOnlyList<LogView> logs = Logs(names, columns.Value ?? [], report, cancel);
        FlightLog[] usable = [.. logs.Select(l => l.Log).OfType<FlightLog>()];
        if (airframe.Value is not null && usable.Length > 0)
        {
            try
            {
                problems.AddRange(SessionFolder.Notices(new Session(airframe.Value, usable, flights.Value ?? [], phases.Value ?? [], []), names));
            }
            catch (UnusableInputException unusable)
            {
                problems.Add(unusable.Message);
            }
        }
        // The airframe may name a polar file beside it, so that every file counts; notes by what they say, so that an edit that is taken back is none.
        string texts = string.Join('\u0001', airframe.Text, flights.Text, phases.Text, columns.Text);
        string others = string.Concat(Listing().Split('\n').Where(l => !SessionFolder.IsNoteFile(l.Split('/')[0])));
        return new FolderView
        {
            Logs = logs,
            Airframe = airframe,
            Flights = flights,
            Phases = phases,
            Columns = columns,
            Problems = problems,
            Mark = Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(texts + '\u0001' + others))),
            IsRead = true,
        };
    }

    private LogView[] Logs(IReadOnlyList<string> names, IReadOnlyList<ColumnNote> columns, Action<string, double> report, CancellationToken cancel)
    {
        List<LogView> logs = [];
        foreach (string name in names)
        {
            cancel.ThrowIfCancellationRequested();
            FileInfo file = new(Path.Combine(folder, name));
            ColumnNote[] notes = [.. columns.Where(c => c.Log is null || c.Log == name)];
            string key = file.Exists
                ? string.Join('\u0001', [file.Length.ToString(CultureInfo.InvariantCulture), file.LastWriteTimeUtc.Ticks.ToString(CultureInfo.InvariantCulture), .. notes.Select(n => (n with { Line = 0 }).ToString())])
                : "";
            if (!_kept.TryGetValue(name, out (string Key, LogView Log) kept) || kept.Key != key)
            {
                double before = logs.Count;
                kept = (key, Log(name, file.Exists ? file.Length : 0, notes, new DirectProgress<double>(f => report($"Reading {name}", (before + f) / names.Count)), cancel));
                _kept[name] = kept;
            }
            logs.Add(kept.Log);
        }
        foreach (string gone in _kept.Keys.Except(names).ToArray())
        {
            _kept.Remove(gone);
        }
        return [.. logs];
    }

    private LogView Log(string name, long bytes, IReadOnlyList<ColumnNote> columns, IProgress<double> progress, CancellationToken cancel)
    {
        IReadOnlyList<LogColumn> inText = [];
        try
        {
            inText = SessionFolder.PeekColumns(folder, name);
            return new LogView(name, bytes, SessionFolder.ReadLog(folder, name, columns, progress, cancel), null, inText);
        }
        catch (UnusableInputException unusable)
        {
            return new LogView(name, bytes, null, unusable.Message, inText);
        }
    }

    private NoteFile<T> Note<T>(string usual, Func<TextReader, string, T?> read) where T : class
    {
        string name = usual;
        string? text = null;
        try
        {
            name = SessionFolder.NoteName(folder, usual) ?? usual;
            text = SessionFolder.NoteText(folder, usual);
            return new NoteFile<T>(name, text, text is null ? null : read(new StringReader(text), usual), null);
        }
        catch (UnusableInputException unusable)
        {
            // A folder that is gone is told once, with its logs.
            return new NoteFile<T>(name, text, null, text is null && !Directory.Exists(folder) ? null : unusable.Message);
        }
    }
}

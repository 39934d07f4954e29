using System.Text;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Pages.Desk;

/// <summary>
/// The folder as all pages share it: what is in it, the edits made to it, the debrief of it. Every edit is saved at once, written beside
/// and renamed, and can be taken back; what another program does to the folder is noticed.
/// </summary>
internal sealed class FolderDesk : IDisposable
{
    private static readonly TimeSpan BetweenLooks = TimeSpan.FromSeconds(1);

    private readonly FolderReader _reader;
    // One thing is done to the folder at a time, by whichever page.
    private readonly SemaphoreSlim _turn = new(1, 1);
    private readonly CancellationTokenSource _closed = new();
    private readonly Lazy<string> _aside = new(() => Directory.CreateTempSubdirectory("thermaltrace-").FullName);
    private string _listing = "";

    /// <param name="folder">The session's folder.</param>
    /// <param name="logbook">The logbook's file as typed; null for its usual place.</param>
    public FolderDesk(string folder, string? logbook = null)
    {
        Folder = Path.GetFullPath(folder);
        Logbook = logbook;
        _reader = new FolderReader(Folder);
        Work = new LongWork(Tell);
    }

    /// <summary>Whole path of the folder.</summary>
    public string Folder { get; }

    /// <summary>The logbook's file as typed; null for its usual place.</summary>
    public string? Logbook { get; }

    /// <summary>What is in the folder.</summary>
    public FolderView View { get; private set; } = FolderView.Unread;

    /// <summary>The last debrief; null before the first.</summary>
    public FinishedDebrief? Debrief { get; private set; }

    /// <summary><see cref="FolderView.Mark"/> of what was debriefed.</summary>
    public string DebriefMark { get; private set; } = "";

    /// <summary>True where the folder is no longer what was debriefed.</summary>
    public bool DebriefIsStale => Debrief is not null && DebriefMark != View.Mark;

    /// <summary>Why the last debrief came to nothing, or what it said of the folder; empty where there is nothing to say.</summary>
    public IReadOnlyList<string> DebriefNotices { get; private set; } = [];

    public LongWork Work { get; }

    public SavedFiles Saved { get; } = new();

    /// <summary>What happened last that nobody on a page did, such as a change by another program; null where nothing did.</summary>
    public string? News { get; private set; }

    /// <summary>Something of the above is new. Comes on any thread.</summary>
    public event Action? Changed;

    /// <summary>Reads the folder and goes on looking at it until the desk is closed.</summary>
    public async Task OpenAsync()
    {
        await ReadAsync("Reading the folder");
        _ = Task.Run(WatchAsync);
    }

    /// <summary>Changes one file of the folder.</summary>
    /// <param name="action">What is done, in words, for taking it back: "ballast 80 g for flight 3".</param>
    /// <param name="file">A note file's usual name.</param>
    /// <param name="change">From the text now (null where there is no file) to the new text (null to have none).</param>
    /// <returns>Null where it was done; else why not, in words.</returns>
    public async Task<string?> SaveAsync(string action, string file, Func<string?, string?> change)
    {
        ArgumentNullException.ThrowIfNull(change);
        return await InTurnAsync(() =>
        {
            string name = SessionFolder.NoteName(Folder, file) ?? file;
            string? text = SessionFolder.NoteText(Folder, file);
            if (KnownText(file) != text)
            {
                Read();
                return $"{name} was changed by another program; it was read again, and nothing was saved: look at it, and do it once more";
            }
            string? next = change(text);
            if (next == text)
            {
                return null;
            }
            byte[]? before = text is null ? null : File.ReadAllBytes(Path.Combine(Folder, name)), after = next is null ? null : new UTF8Encoding(false).GetBytes(next);
            Put([new SavedChange(name, before, after)]);
            Saved.Add(action, [new SavedChange(name, before, after)]);
            Read();
            return null;
        });
    }

    /// <summary>Takes the last edit back.</summary>
    /// <returns>Null where it was done; else why not.</returns>
    public Task<string?> UndoAsync() => InTurnAsync(() => Step(Saved.LastDone, Saved.UndoName, "taken back", Saved.Undone));

    /// <summary>Makes the last edit again that was taken back.</summary>
    /// <returns>Null where it was done; else why not.</returns>
    public Task<string?> RedoAsync() => InTurnAsync(() => Step(Saved.LastUndone, Saved.RedoName, "made again", Saved.Redone));

    /// <summary>Adds a log to the folder.</summary>
    /// <param name="name">Its name on the pilot's side (untrusted text).</param>
    /// <param name="content">Its bytes.</param>
    /// <param name="report">Is given the number of bytes so far.</param>
    /// <param name="cancel">Ends it; nothing is left.</param>
    /// <returns>Null where it was done; else why not.</returns>
    public async Task<string?> AddLogAsync(string name, Stream content, Action<long> report, CancellationToken cancel)
    {
        if (AddedLogs.Complaint(name) is { } wrong)
        {
            return wrong;
        }
        string temporary = Path.Combine(Folder, $".{Guid.NewGuid():N}.tmp");
        try
        {
            if (await AddedLogs.CopyAsync(content, temporary, report, cancel) is { } tooMuch)
            {
                return $"{name}: {tooMuch}";
            }
            string? complaint = await InTurnAsync(() =>
            {
                bool there = Path.Exists(Path.Combine(Folder, name));
                string? refused = AddedLogs.MoveIntoPlace(temporary, Folder, name);
                if (refused is null && !there)
                {
                    Saved.Add($"{name} added", [new SavedChange(name, null, LogMark(name), IsLog: true)]);
                }
                return refused;
            });
            if (complaint is null)
            {
                await ReadAsync($"Reading {name}");
            }
            return complaint;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return $"{name}: could not be added: {failure.Message}";
        }
        finally
        {
            File.Delete(temporary);
        }
    }

    /// <summary>Debriefs the folder as the command does, files and all.</summary>
    /// <param name="windMps">The pilot's own estimate; null without one.</param>
    public async Task StartDebriefAsync(double? windMps = null)
    {
        DebriefNotices = [];
        List<string> notices = [];
        try
        {
            string mark = "";
            Debrief = await Work.DoAsync("Reading the logs", (report, cancel) =>
            {
                // What is debriefed is what is in the folder now, so it is marked before and compared after.
                mark = View.Mark;
                return DebriefJob.Run(Folder, null, new DebriefOptions { WindMps = windMps }, notices.AddRange, report, cancel);
            });
            DebriefMark = mark;
        }
        catch (OperationCanceledException)
        {
            notices = ["Cancelled; nothing was written."];
        }
        catch (Exception failure) when (failure is UnusableInputException or WrongUsageException or IOException or UnauthorizedAccessException)
        {
            notices.Add(failure.Message);
        }
        DebriefNotices = notices;
        Tell();
    }

    /// <summary>Reads the folder anew.</summary>
    /// <param name="stage">What is said meanwhile.</param>
    public async Task ReadAsync(string stage)
    {
        try
        {
            await Work.DoAsync(stage, (report, cancel) =>
            {
                _turn.Wait(cancel);
                try
                {
                    Read(report, cancel);
                }
                finally
                {
                    _turn.Release();
                }
                return true;
            });
        }
        catch (OperationCanceledException)
        {
            // What was read before stays; the next look reads it.
        }
        Tell();
    }

    public void Dispose()
    {
        _closed.Cancel();
        Work.Cancel();
        _closed.Dispose();
        if (_aside.IsValueCreated)
        {
            Directory.Delete(_aside.Value, recursive: true);
        }
    }

    private async Task WatchAsync()
    {
        using PeriodicTimer timer = new(BetweenLooks);
        try
        {
            while (await timer.WaitForNextTickAsync(_closed.Token))
            {
                if (_reader.Listing() == _listing)
                {
                    continue;
                }
                string before = View.Mark;
                await ReadAsync("The folder has changed: reading it again");
                if (before.Length > 0 && View.Mark != before)
                {
                    News = "The folder was changed by another program, and read again.";
                    Tell();
                }
            }
        }
        catch (Exception closed) when (closed is OperationCanceledException or ObjectDisposedException)
        {
            // The pages are over.
        }
    }

    /// <summary>Does something to the folder when it is its turn; what goes wrong becomes words.</summary>
    private async Task<string?> InTurnAsync(Func<string?> work)
    {
        await _turn.WaitAsync();
        try
        {
            News = null;
            return await Task.Run(work);
        }
        catch (Exception failure) when (failure is UnusableInputException or WrongUsageException)
        {
            return failure.Message;
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return $"Nothing was saved: {failure.Message}";
        }
        finally
        {
            _turn.Release();
            Tell();
        }
    }

    private string? Step(IReadOnlyList<SavedChange>? changes, string? action, string done, Action step)
    {
        if (changes is null)
        {
            return null;
        }
        foreach (SavedChange change in changes)
        {
            string path = Path.Combine(Folder, change.File);
            byte[]? now = !File.Exists(path) ? null : change.IsLog ? LogMark(change.File) : File.ReadAllBytes(path);
            if (!(now is null ? change.Before is null : change.Before is not null && now.AsSpan().SequenceEqual(change.Before)))
            {
                Read();
                return $"\"{action}\" cannot be {done}: {change.File} was changed by another program since";
            }
        }
        Put(changes);
        step();
        Read();
        return null;
    }

    /// <summary>Writes all files beside their places, then moves them. A log that is taken back waits aside, in case it is wanted again.</summary>
    private void Put(IReadOnlyList<SavedChange> changes)
    {
        using OutputFiles files = new(Folder, "the folder");
        foreach (SavedChange change in changes.Where(c => c is { After: not null, IsLog: false }))
        {
            files.Add(change.File, stream => stream.Write(change.After));
        }
        files.MoveIntoPlace(overwrite: true, CancellationToken.None);
        foreach (SavedChange change in changes.Where(c => c.IsLog || c.After is null))
        {
            string path = Path.Combine(Folder, change.File);
            if (!change.IsLog)
            {
                File.Delete(path);
            }
            else if (change.After is null)
            {
                File.Move(path, Path.Combine(_aside.Value, change.File), overwrite: true);
            }
            else
            {
                File.Move(Path.Combine(_aside.Value, change.File), path, overwrite: false);
            }
        }
    }

    private byte[] LogMark(string name)
    {
        FileInfo file = new(Path.Combine(Folder, name));
        return Encoding.UTF8.GetBytes(FormattableString.Invariant($"{file.Length}/{file.LastWriteTimeUtc.Ticks}"));
    }

    private void Read() => Read((_, _) => { }, CancellationToken.None);

    private void Read(Action<string, double> report, CancellationToken cancel)
    {
        // Before the reading: what changes meanwhile is seen at the next look.
        string listing = _reader.Listing();
        View = _reader.Read(report, cancel);
        _listing = listing;
    }

    /// <summary>What the view says that a note file holds.</summary>
    private string? KnownText(string file) => file switch
    {
        AirframeFile.Name => View.Airframe.Text,
        FlightsFile.Name => View.Flights.Text,
        PhasesFile.Name => View.Phases.Text,
        ColumnsFile.Name => View.Columns.Text,
        _ => throw new ArgumentException($"{file} is no note file", nameof(file)),
    };

    private void Tell() => Changed?.Invoke();
}

using System.Text;
using ThermalTrace.Advice;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Pages.Desk;

/// <summary>The season as all pages share it: the logbook's sessions of the folder's airframe, advice from them, sheets to print.</summary>
internal sealed class SeasonDesk
{
    // Of sheets, which take up to a megabyte; beyond these the oldest is made anew when it is asked for.
    private const int MostKept = 12;

    private readonly FolderDesk _desk;
    private readonly TimeProvider _clock;
    private readonly Lock _lock = new();
    private readonly List<(string Key, byte[] Bytes)> _sheets = [];
    private readonly Dictionary<bool, (string Mark, SeasonSource Source)> _tuned = [];
    private Func<LogbookFile, string>? _undo;
    private bool _reading;

    /// <param name="desk">The folder's.</param>
    /// <param name="clock">Of this machine.</param>
    public SeasonDesk(FolderDesk desk, TimeProvider clock)
    {
        (_desk, _clock) = (desk, clock);
        View = new SeasonView { Path = PlaceOf() };
    }

    /// <summary>What the logbook knows.</summary>
    public SeasonView View { get; private set; }

    /// <summary>What the last thing done to the logbook came to; null before the first.</summary>
    public LogbookDeed? Deed { get; private set; }

    /// <summary>Something of the above is new. Comes on any thread.</summary>
    public event Action? Changed;

    /// <summary>True where the logbook or the airframe are no longer what is shown.</summary>
    public bool IsStale => _desk.View.IsRead && View.Mark != MarkNow();

    /// <summary>Reads the logbook anew.</summary>
    public async Task ReadAsync()
    {
        lock (_lock)
        {
            if (_reading)
            {
                return;
            }
            _reading = true;
        }
        try
        {
            View = await _desk.Work.DoAsync("Reading the logbook", (report, cancel) => Read(cancel));
        }
        catch (OperationCanceledException)
        {
            View = View with { Complaint = "Reading the logbook was cancelled.", Mark = MarkNow() };
        }
        finally
        {
            _reading = false;
            Changed?.Invoke();
        }
    }

    /// <summary>Debriefs the folder where that is not done yet, and adds it to the logbook, as <c>logbook add</c> does.</summary>
    /// <param name="reading">What the pilot noted at the field.</param>
    /// <param name="placeless">True to keep nothing of where the field lies.</param>
    public Task AddAsync(Logbook.FieldReading? reading, bool placeless) => DoAsync("Adding the session", (report, cancel) =>
    {
        LogbookSource source = LogbookSource.Read(_desk.Folder, _clock.GetUtcNow(), reading, report, cancel);
        LogbookSession session = source.Sessions[0];
        session = placeless ? session with { Evidence = session.Evidence with { Field = null } } : session;
        using LogbookFile file = LogbookPlace.OpenToAdd(_desk.Logbook);
        LogbookSession? before = Whole(file.List()).FirstOrDefault(s => Alike(s, session));
        cancel.ThrowIfCancellationRequested();
        AddOutcome outcome = file.Add(session);
        string said = $"{Path.GetFileName(_desk.Folder)}: {LogbookWords.Outcome(session, outcome)}.";
        _undo = outcome.What == Added.New ? logbook => $"Taken out again: {string.Join(", ", logbook.Remove([outcome.Id]))}."
            : outcome.What == Added.Replaced && before is not null ? logbook => PutBack(logbook, outcome.Id, before)
            : null;
        string[] more = outcome.What == Added.Refused ? [] : [.. outcome.Sentences];
        return new LogbookDeed([said, .. source.Notices, .. more], outcome.What == Added.Refused, _undo is null ? null : $"adding {outcome.Id}");
    });

    /// <summary>Removes a session.</summary>
    /// <param name="session">As it is shown.</param>
    public Task RemoveAsync(LogbookSession session) => DoAsync("Removing the session", (_, _) =>
    {
        using LogbookFile file = LogbookPlace.OpenToChange(_desk.Logbook);
        string removed = string.Join(", ", file.Remove([session.Id]));
        _undo = logbook => $"Put back: {logbook.AddExported([session])[0].Id}.";
        return new LogbookDeed([$"Removed: {removed} ({LogbookWords.About(session)})."], Undo: $"removing {session.Id}");
    });

    /// <summary>Removes a session that cannot be read whole; it cannot be put back.</summary>
    public Task RemoveDamagedAsync(string id) => DoAsync("Removing the session", (_, _) =>
    {
        using LogbookFile file = LogbookPlace.OpenToChange(_desk.Logbook);
        _undo = null;
        return new LogbookDeed([$"Removed: {string.Join(", ", file.Remove([id]))}."]);
    });

    /// <summary>Takes the last thing back that was done to the logbook here.</summary>
    public Task UndoAsync() => DoAsync("Taking it back", (_, _) =>
    {
        if (_undo is not { } undo)
        {
            return new LogbookDeed(["There is nothing to take back."]);
        }
        using LogbookFile file = LogbookPlace.OpenToAdd(_desk.Logbook);
        string said = undo(file);
        _undo = null;
        return new LogbookDeed([said]);
    });

    /// <summary>Looks whether anything in the logbook is damaged.</summary>
    public Task VerifyAsync() => DoAsync("Looking at every row of the logbook", (_, _) =>
    {
        using LogbookFile file = LogbookPlace.OpenToRead(_desk.Logbook);
        LogbookHealth health = file.Verify();
        return health.Damage.Count == 0 ? new LogbookDeed([LogbookWords.Sound(health)]) : new LogbookDeed([.. health.Damage, LogbookWords.SavingTheSound], Failed: true);
    });

    /// <summary>Advice for a day, as markup.</summary>
    /// <exception cref="UnusableInputException">Airframe or logbook cannot be used.</exception>
    /// <exception cref="OperationCanceledException">Cancelled by a person.</exception>
    public Task<string> AdviseAsync(AskedConditions asked) => _desk.Work.DoAsync("Asking the model", (report, cancel) =>
    {
        SeasonSource source = Tuned(false, report, cancel);
        report("Comparing the options", 0.5);
        cancel.ThrowIfCancellationRequested();
        return SuggestionSection.Write(Suggestion.Run(source.Season, asked, new SuggestionOptions { Readings = source.Readings }));
    });

    /// <summary>A sheet's bytes, those of the command's file for the same question.</summary>
    /// <param name="kind">One of <see cref="Sheet.Kinds"/>.</param>
    /// <param name="form">The question.</param>
    /// <param name="address">Of the sheet: the same one gives the same sheet as long as nothing has changed.</param>
    /// <param name="gone">The browser that asked has gone.</param>
    /// <exception cref="WrongUsageException">Something in the question cannot be used.</exception>
    /// <exception cref="UnusableInputException">Airframe or logbook cannot be used, or no such sheet can be made.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public async Task<byte[]> SheetAsync(string kind, TypedForm form, string address, CancellationToken gone = default)
    {
        DateTime now = _clock.GetLocalNow().DateTime;
        Sheet sheet = Sheet.Of(kind, form, now);
        if (Kept(KeyOf(address, now)) is { } kept)
        {
            return kept;
        }
        return await _desk.Work.DoAsync($"Making the {kind}", (report, cancel) =>
        {
            using CancellationTokenSource either = CancellationTokenSource.CreateLinkedTokenSource(cancel, gone);
            either.Token.ThrowIfCancellationRequested();
            Season season = Tuned(sheet.Whole, report, either.Token).Season;
            report($"Making the {kind}", 0.4);
            using MemoryStream bytes = new();
            using (StreamWriter writer = new(bytes, new UTF8Encoding(false), leaveOpen: true) { NewLine = "\n" })
            {
                sheet.Write(season, writer, either.Token);
            }
            // Tuning may have kept its model in the logbook, so the key is taken when that is done.
            byte[] made = bytes.ToArray();
            Keep(KeyOf(address, now), made);
            return made;
        });
    }

    private async Task DoAsync(string stage, Func<Action<string, double>, CancellationToken, LogbookDeed> work)
    {
        Deed = null;
        try
        {
            Deed = await _desk.Work.DoAsync(stage, work);
        }
        catch (OperationCanceledException)
        {
            Deed = new LogbookDeed(["Cancelled; nothing was changed."]);
        }
        catch (Exception failure) when (failure is UnusableInputException or WrongUsageException or IOException or UnauthorizedAccessException)
        {
            Deed = new LogbookDeed([failure.Message], Failed: true);
        }
        await ReadAsync();
    }

    private SeasonView Read(CancellationToken cancel)
    {
        string mark = MarkNow();
        SeasonView view = new() { Path = PlaceOf(), Airframe = _desk.View.Airframe.Value?.Name, Mark = mark, Content = _desk.View.Airframe.Text ?? "" };
        if (view.Path is null || !File.Exists(view.Path))
        {
            return view;
        }
        view = view with { Exists = true };
        try
        {
            using LogbookFile file = LogbookFile.OpenToRead(view.Path);
            IReadOnlyList<ListedSession> listed = file.List();
            cancel.ThrowIfCancellationRequested();
            view = view with { Damaged = [.. listed.Where(s => s.Damage.Count > 0)] };
            if (_desk.View.Airframe.Value is not { } airframe)
            {
                return view with { Others = Whole(listed).Count() };
            }
            LogbookSession[] own = [.. Whole(listed).Where(s => LogbookSession.KeyOf(s.Airframe.Name) == LogbookSession.KeyOf(airframe.Name))
                .OrderBy(s => s.Evidence.Date ?? "", StringComparer.Ordinal).ThenBy(s => s.Id, StringComparer.Ordinal)];
            view = view with { Content = view.Content + file.DataHash(airframe.Name), Sessions = own, Others = Whole(listed).Count() - own.Length };
            return own.Length == 0 ? view : view with { History = TuningPictures.Write(SeasonHistory.Run(airframe, file.Sessions(airframe.Name), cancel: cancel)) };
        }
        catch (Exception failure) when (failure is UnusableInputException or IOException or UnauthorizedAccessException)
        {
            return view with { Complaint = failure.Message };
        }
    }

    /// <summary>The season, tuned; kept until logbook or airframe change.</summary>
    private SeasonSource Tuned(bool whole, Action<string, double> report, CancellationToken cancel)
    {
        Airframe airframe = _desk.View.Airframe.Value ?? throw new UnusableInputException(_desk.View.Airframe.Complaint
            ?? $"{_desk.View.Airframe.Name} is not in the folder; the model has to be described before anything can be said of it");
        foreach (bool kind in (bool[])[true, whole])
        {
            // What holds the sessions' own evidence serves every question.
            if (_tuned.TryGetValue(kind, out (string Mark, SeasonSource Source) kept) && kept.Mark == MarkNow())
            {
                return kept.Source;
            }
        }
        bool logbook = PlaceOf() is { } path && File.Exists(path);
        SeasonSource source = logbook
            ? SeasonSource.For(airframe, [], _desk.Logbook, whole, (stage, work) =>
            {
                report(stage, 0.1);
                return work();
            }, cancel)
            : new SeasonSource(Season.Tune(airframe, [], cancel), []);
        _tuned[whole] = (MarkNow(), source);
        return source;
    }

    private byte[]? Kept(string key)
    {
        lock (_lock)
        {
            return _sheets.Find(s => s.Key == key).Bytes;
        }
    }

    private void Keep(string key, byte[] bytes)
    {
        lock (_lock)
        {
            _sheets.RemoveAll(s => s.Key == key);
            _sheets.Add((key, bytes));
            if (_sheets.Count > MostKept)
            {
                _sheets.RemoveAt(0);
            }
        }
    }

    private string KeyOf(string address, DateTime now) => string.Join('\u0001', address, Sheet.Day(now), MarkNow());

    /// <summary>Folder, and the logbook's file by length and time; a write-ahead log beside it counts.</summary>
    private string MarkNow()
    {
        string path = PlaceOf() ?? "";
        return string.Join('\u0001', [_desk.View.Mark, .. new[] { path, path + "-wal" }.Select(p => new FileInfo(p.Length > 0 ? p : "-")).Select(f => f.Exists ? FormattableString.Invariant($"{f.Length}/{f.LastWriteTimeUtc.Ticks}") : "")]);
    }

    private string? PlaceOf()
    {
        try
        {
            return Path.GetFullPath(LogbookPlace.Of(_desk.Logbook));
        }
        catch (WrongUsageException)
        {
            return null;
        }
    }

    /// <summary>An earlier state of a session takes the place of a later one.</summary>
    private static string PutBack(LogbookFile logbook, string id, LogbookSession before)
    {
        logbook.Remove([id]);
        return $"Put back as it was: {logbook.AddExported([before])[0].Id}.";
    }

    private static IEnumerable<LogbookSession> Whole(IReadOnlyList<ListedSession> listed) => listed.Where(s => s.Damage.Count == 0).Select(s => s.Session).OfType<LogbookSession>();

    /// <summary>The same logs of the same model.</summary>
    private static bool Alike(LogbookSession a, LogbookSession b) => LogbookSession.KeyOf(a.Airframe.Name) == LogbookSession.KeyOf(b.Airframe.Name)
        && a.Logs.Select(l => l.Sha256).Order(StringComparer.Ordinal).SequenceEqual(b.Logs.Select(l => l.Sha256).Order(StringComparer.Ordinal));
}

using System.Globalization;
using System.Runtime.CompilerServices;
using ThermalTrace.Logs;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Pages.Desk;

/// <summary>A flight of the folder with what the pilot noted of it.</summary>
/// <param name="Number">Counted over all logs from 1.</param>
/// <param name="Seen">What the log shows.</param>
/// <param name="Log">The log it lies in.</param>
/// <param name="Note">Of flights.csv; null where there is none.</param>
/// <param name="SmallTrace">Its height as a small picture, markup.</param>
public sealed record ShownFlight(int Number, SeenFlight Seen, FlightLog Log, FlightNote? Note, string SmallTrace)
{
    /// <summary>Where it lies, its phases and climbs.</summary>
    public FlightEntry Entry => Seen.Entry;

    /// <summary>g; null where neither the pilot nor the log says it.</summary>
    public double? BallastG => Note?.BallastG ?? Entry.BallastG;

    /// <summary>When it began, on the log's clock, or from the log's begin.</summary>
    public string Begun => Log.ClockAtStartS is { } clock
        ? ClockText.Of(clock + Entry.StartS)
        : $"{ClockText.Length(Entry.StartS)} into the log";

    /// <summary>True where the pilot set it aside.</summary>
    public bool IsLeftOut => Note?.Spoiled ?? false;

    /// <summary>Why (untrusted text); empty where nobody said.</summary>
    public string Reason => Note is null ? "" : FlightNoteEdits.ReasonOf(Note);

    /// <summary>As edits of its phases take it.</summary>
    public EditedFlight Edited => new(Entry.Log, Entry.Number, [.. Entry.Segments.Select(s => new SeenPhase(s.Kind, s.StartS, s.EndS))], Seen.EarliestS, Seen.LatestS);

    /// <summary>Shortest phase that can be drawn: two rows of a slow log.</summary>
    public double LeastPhaseS => Math.Max(PhaseEdits.LeastPhaseS, 2.5 * Seen.StepS);
}

/// <summary>All flights of the folder.</summary>
/// <param name="Of">The view they are of.</param>
/// <param name="Flights">Log by log.</param>
/// <param name="Complaint">What of flights.csv and phases.csv does not fit the flights; null where all fits.</param>
internal sealed record ShownFlights(FolderView Of, IReadOnlyList<ShownFlight> Flights, string? Complaint);

/// <summary>The flights in the folder's logs, and the edits of what is noted of them. A log is made into tracks once, on another thread, and remembered.</summary>
internal sealed class FlightDesk(FolderDesk desk) : IDisposable
{
    private readonly SemaphoreSlim _turn = new(1, 1);
    private readonly Dictionary<string, Looked> _kept = new(StringComparer.Ordinal);
    private readonly ConditionalWeakTable<SeenFlight, WindAsked> _winds = [];
    private ShownFlights? _shown;

    private static readonly AskedQuantity Ballast = new("ballast", UnitFamily.Mass, AskedText.With.Least, AskedText.With.Most);

    /// <summary>A log with its flights as they were seen last.</summary>
    private sealed record Looked(FlightLog Log, FlightLog? Flat, FlightLook Look, string Key, IReadOnlyList<(SeenFlight Seen, string Small)> Flights);

    private sealed record WindAsked(Airframe? Airframe, double? BallastG, Task<WindEntry> Answer);

    /// <summary>The flights of what is in the folder now.</summary>
    public async Task<ShownFlights> LookAsync()
    {
        if (_shown is { } last && ReferenceEquals(last.Of, desk.View))
        {
            return last;
        }
        await _turn.WaitAsync();
        try
        {
            FolderView view = desk.View;
            return _shown is { } shown && ReferenceEquals(shown.Of, view) ? shown : _shown = await Task.Run(() => Look(view));
        }
        finally
        {
            _turn.Release();
        }
    }

    /// <summary>The flight's wind: of the debrief where there is one of this folder, else of the flight by itself.</summary>
    /// <returns>The wind, and whether the whole day told it.</returns>
    public async Task<(WindEntry Wind, bool OfTheDay)> WindAsync(ShownFlight flight)
    {
        if (desk.Debrief is { } debrief && !desk.DebriefIsStale
            && debrief.Result.Document.Flights.FirstOrDefault(f => f.Log == flight.Entry.Log && f.Number == flight.Entry.Number) is { } found)
        {
            return (found.Wind, true);
        }
        Airframe? airframe = desk.View.Airframe.Value;
        if (!_winds.TryGetValue(flight.Seen, out WindAsked? asked) || !ReferenceEquals(asked.Airframe, airframe) || asked.BallastG != flight.BallastG)
        {
            asked = new WindAsked(airframe, flight.BallastG, Task.Run(() => FlightLook.Wind(flight.Seen, airframe, flight.BallastG)));
            _winds.AddOrUpdate(flight.Seen, asked);
        }
        return (await asked.Answer, false);
    }

    /// <summary>Notes the ballast of a flight as it was typed; blank where it is not known.</summary>
    /// <returns>Null where it was done; else why not.</returns>
    public Task<string?> SetBallastAsync(ShownFlights shown, int number, string? typed)
    {
        if (string.IsNullOrWhiteSpace(typed))
        {
            return SetBallastAsync(shown, number, number, null);
        }
        return Ballast.TryRead(typed, out double ballastG, out string complaint) ? SetBallastAsync(shown, number, number, ballastG) : Task.FromResult<string?>(complaint);
    }

    /// <summary>Notes the ballast of one flight for others too, up or down the list.</summary>
    public Task<string?> FillAsync(ShownFlights shown, int from, int to)
    {
        double? ballastG = Flight(shown, from)?.BallastG;
        return SetBallastAsync(shown, Math.Min(from, to), Math.Max(from, to), ballastG);
    }

    public Task<string?> LeaveOutAsync(ShownFlights shown, int number, string reason) =>
        ChangeAsync($"flight {Text(number)} left out", shown, number, number, n => FlightNoteEdits.WithReason(n, reason));

    public Task<string?> PutBackAsync(ShownFlights shown, int number) =>
        ChangeAsync($"flight {Text(number)} put back", shown, number, number, FlightNoteEdits.PutBack);

    /// <summary>Moves a boundary between phases.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="boundary">As <see cref="PhaseEdits"/> counts them.</param>
    /// <param name="toS">s from the log's earliest stamp.</param>
    public Task<string?> MoveAsync(ShownFlight flight, int boundary, double toS) =>
        SavePhasesAsync($"{BoundaryName(flight, boundary)} of flight {Text(flight.Number)} moved", notes => PhaseEdits.Move(notes, flight.Edited, boundary, toS, flight.LeastPhaseS));

    public Task<string?> TakeBackAsync(ShownFlight flight, int boundary) =>
        SavePhasesAsync($"{BoundaryName(flight, boundary)} of flight {Text(flight.Number)} as found", notes => PhaseEdits.TakeBack(notes, flight.Edited, boundary));

    public Task<string?> TakeBackAllAsync(ShownFlight flight) =>
        SavePhasesAsync($"phases of flight {Text(flight.Number)} as found", notes => PhaseEdits.TakeBackAll(notes, flight.Edited));

    /// <summary>A boundary in words: "launch to glide".</summary>
    public static string BoundaryName(ShownFlight flight, int boundary)
    {
        IReadOnlyList<SegmentEntry> segments = flight.Entry.Segments;
        return boundary == 0 ? "begin"
            : boundary == segments.Count ? "end"
            : $"{FlightDrawings.Phase(segments[boundary - 1].Kind)} to {FlightDrawings.Phase(segments[boundary].Kind)}";
    }

    private Task<string?> SetBallastAsync(ShownFlights shown, int first, int last, double? ballastG)
    {
        string what = ballastG is { } g ? $"ballast {FlightDrawings.Grams(g)}" : "ballast not known";
        string which = first == last ? $"flight {Text(first)}" : $"flights {Text(first)} to {Text(last)}";
        return ChangeAsync($"{what} for {which}", shown, first, last, n => n with { BallastG = ballastG });
    }

    private Task<string?> ChangeAsync(string action, ShownFlights shown, int first, int last, Func<FlightNote, FlightNote> change) =>
        desk.SaveAsync(action, FlightsFile.Name, text =>
        {
            IReadOnlyList<FlightNote> notes = text is null ? [] : FlightsFile.Read(new StringReader(text), FlightsFile.Name), edited = notes;
            foreach (IGrouping<FlightLog, ShownFlight> log in shown.Flights.GroupBy(f => f.Log))
            {
                ShownFlight[] named = [.. log.Where(f => f.Number >= first && f.Number <= last)];
                if (named.Length > 0)
                {
                    edited = FlightNoteEdits.Change(edited, log.Key, [.. log.Select(f => f.Entry.StartS)], named[0].Entry.Number, named[^1].Entry.Number, change);
                }
            }
            // What says the same is left as the pilot wrote it.
            return edited.SequenceEqual(notes) ? text : FlightsFile.Text(edited, text);
        });

    private Task<string?> SavePhasesAsync(string action, Func<IReadOnlyList<PhaseNote>, IReadOnlyList<PhaseNote>> change) =>
        desk.SaveAsync(action, PhasesFile.Name, text =>
        {
            IReadOnlyList<PhaseNote> notes = text is null ? [] : PhasesFile.Read(new StringReader(text), PhasesFile.Name), edited = change(notes);
            return edited.SequenceEqual(notes) ? text : PhasesFile.Text(edited, text);
        });

    private static ShownFlight? Flight(ShownFlights shown, int number) => number >= 1 && number <= shown.Flights.Count ? shown.Flights[number - 1] : null;

    private ShownFlights Look(FolderView view)
    {
        FlightLog[] logs = [.. view.Logs.Select(l => l.Log).OfType<FlightLog>()];
        FlightLog? flat = logs.FirstOrDefault(l => l.Has(Quantity.Latitude) && l.Has(Quantity.Longitude));
        IReadOnlyList<PhaseNote> phases = view.Phases.Value ?? [];
        LaunchKind? launch = view.Airframe.Value?.Launch;
        Looked[] looked = new Looked[logs.Length];
        Parallel.For(0, logs.Length, i =>
        {
            FlightLog log = logs[i];
            PhaseNote[] own = [.. phases.Where(p => p.Log == log.File).Select(p => p with { Line = 0 })];
            string key = $"{launch}\u0001{string.Join('\u0001', own.AsEnumerable())}";
            Looked? kept;
            lock (_kept)
            {
                _kept.TryGetValue(log.File, out kept);
            }
            bool same = kept is not null && ReferenceEquals(kept.Log, log) && ReferenceEquals(kept.Flat, flat);
            if (same && kept!.Key == key)
            {
                looked[i] = kept;
                return;
            }
            FlightLook look = same ? kept!.Look : FlightLook.At(logs, i);
            looked[i] = new Looked(log, flat, look, key, [.. look.Flights(launch, own).Select(f => (f, ""))]);
        });
        lock (_kept)
        {
            _kept.Clear();
            int number = 0;
            for (int i = 0; i < looked.Length; i++)
            {
                // A picture calls its flight by the number over all logs, which logs before may have changed.
                looked[i] = looked[i] with { Flights = [.. looked[i].Flights.Select(f => (f.Seen, Small(f, ++number)))] };
                _kept[looked[i].Log.File] = looked[i];
            }
        }
        return Noted(view, looked);
    }

    private static string Small((SeenFlight Seen, string Small) flight, int number) =>
        flight.Small.Contains($", flight {Text(number)}:", StringComparison.Ordinal) ? flight.Small : FlightDrawings.Small(flight.Seen.Entry, flight.Seen.Trace, number);

    private static ShownFlights Noted(FolderView view, Looked[] looked)
    {
        IReadOnlyList<FlightNote> notes = view.Flights.Value ?? [];
        List<ShownFlight> flights = [];
        string? complaint = null;
        foreach (Looked log in looked)
        {
            foreach ((SeenFlight seen, string small) in log.Flights)
            {
                FlightNote? note = null;
                try
                {
                    note = FlightNotes.For(notes, log.Log, seen.Entry.Number, seen.Entry.StartS);
                }
                catch (UnusableInputException twice)
                {
                    complaint ??= twice.Message;
                }
                flights.Add(new ShownFlight(flights.Count + 1, seen, log.Log, note, small));
            }
        }
        try
        {
            FlightNotes.RequireFlights([.. looked.Select(l => l.Log)], notes, view.Phases.Value ?? [], [.. looked.Select(l => l.Flights.Select(f => f.Seen.Entry.StartS).ToArray())]);
        }
        catch (UnusableInputException unusable)
        {
            complaint ??= unusable.Message;
        }
        return new ShownFlights(view, flights, complaint);
    }

    public void Dispose() => _turn.Dispose();

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}

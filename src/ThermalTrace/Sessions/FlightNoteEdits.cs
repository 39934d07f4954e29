using ThermalTrace.Logs;

namespace ThermalTrace.Sessions;

/// <summary>
/// Edits of flights.csv. A row may speak of several flights; where only some of them change it is split, so that the others keep what was
/// said of them, and rows that come to say the same of neighbours are joined again.
/// </summary>
public static class FlightNoteEdits
{
    private const string LeftOut = "left out: ";
    private const string Between = " - "; // neither comma nor semicolon: it survives whatever a spreadsheet makes of the file

    /// <summary>Changes what is said of a run of flights of one log.</summary>
    /// <param name="notes">Rows of flights.csv.</param>
    /// <param name="log">The log.</param>
    /// <param name="launchesS">When each of its flights was launched, s from the log's earliest stamp; flight 1 first.</param>
    /// <param name="first">Number of the first flight to change, counted from 1.</param>
    /// <param name="last">Number of the last.</param>
    /// <param name="change">Makes the new note of an old one, which is blank where nothing was said; log and flights are kept whatever it makes of them.</param>
    /// <returns>All rows; rows of other logs and flights as they were.</returns>
    /// <exception cref="Units.UnusableInputException">Two rows speak of a flight.</exception>
    public static IReadOnlyList<FlightNote> Change(IReadOnlyList<FlightNote> notes, FlightLog log, IReadOnlyList<double> launchesS, int first, int last,
        Func<FlightNote, FlightNote> change)
    {
        ArgumentNullException.ThrowIfNull(notes);
        ArgumentNullException.ThrowIfNull(log);
        ArgumentNullException.ThrowIfNull(launchesS);
        ArgumentNullException.ThrowIfNull(change);
        ArgumentOutOfRangeException.ThrowIfLessThan(first, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(last, launchesS.Count);
        FlightNote?[] spoken = [.. launchesS.Select((s, i) => FlightNotes.For(notes, log, i + 1, s))];
        List<(FlightNote Note, bool Touched)> rows = [];
        foreach (FlightNote note in notes)
        {
            List<int> covered = note.Numbers is { } numbers && note.Log == log.File
                ? [.. Enumerable.Range(numbers.First, numbers.Last - numbers.First + 1)]
                : [.. Enumerable.Range(1, launchesS.Count).Where(n => ReferenceEquals(spoken[n - 1], note))];
            if (!covered.Exists(Changes))
            {
                rows.Add((note, false));
            }
            else if (covered.TrueForAll(Changes))
            {
                rows.Add((Changed(note, note.Numbers, note.ClockRangeS), true));
            }
            else
            {
                rows.AddRange(Runs(covered).Select((run, k) => (Piece(note, run) with { Line = k == 0 ? note.Line : 0 }, true)));
            }
        }
        foreach ((int First, int Last) run in Runs([.. Enumerable.Range(first, last - first + 1).Where(n => spoken[n - 1] is null)]))
        {
            rows.Insert(PlaceOf(rows, log.File, run.First), (Changed(new FlightNote { Log = log.File }, run, null), true));
        }
        rows.RemoveAll(r => r.Touched && IsBlank(r.Note));
        return Joined(rows);

        bool Changes(int number) => number >= first && number <= last;

        FlightNote Changed(FlightNote note, (int, int)? numbers, (double, double)? clockS) =>
            change(note) with { Log = log.File, Numbers = numbers, ClockRangeS = clockS, Line = note.Line };

        FlightNote Piece(FlightNote note, (int First, int Last) run) =>
            Changes(run.First) ? Changed(note, run, null) : note with { Numbers = run, ClockRangeS = null };

        // Flights that follow each other and are all to be changed, or all not.
        List<(int First, int Last)> Runs(List<int> numbers)
        {
            List<(int First, int Last)> runs = [];
            foreach (int n in numbers)
            {
                if (runs.Count > 0 && runs[^1].Last == n - 1 && Changes(n) == Changes(n - 1))
                {
                    runs[^1] = (runs[^1].First, n);
                }
                else
                {
                    runs.Add((n, n));
                }
            }
            return runs;
        }
    }

    /// <summary>Says which ballast a run of flights carried, g; null where it is not known. Parameters as in <see cref="Change"/>.</summary>
    /// <exception cref="Units.UnusableInputException">Two rows speak of a flight.</exception>
    public static IReadOnlyList<FlightNote> SetBallast(IReadOnlyList<FlightNote> notes, FlightLog log, IReadOnlyList<double> launchesS, int first, int last,
        double? ballastG) => Change(notes, log, launchesS, first, last, n => n with { BallastG = ballastG });

    /// <summary>The note of a flight that is not to be used, with why; an earlier reason is replaced.</summary>
    public static FlightNote WithReason(FlightNote note, string reason)
    {
        ArgumentNullException.ThrowIfNull(note);
        ArgumentNullException.ThrowIfNull(reason);
        // Cells are lines: a reason that goes over several would be one no more when it is read.
        string why = string.Join(' ', reason.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), own = Own(note.Notes);
        string text = why.Length == 0 ? own : own.Length == 0 ? LeftOut + why : own + Between + LeftOut + why;
        return note with { Spoiled = true, Notes = text.Length > 0 ? text : null };
    }

    /// <summary>The note of a flight that is to be used again.</summary>
    public static FlightNote PutBack(FlightNote note)
    {
        ArgumentNullException.ThrowIfNull(note);
        return note with { Spoiled = false, Notes = Own(note.Notes) is { Length: > 0 } own ? own : null };
    }

    /// <summary>Why a flight is left out (untrusted text); empty where it is not, or nobody said.</summary>
    public static string ReasonOf(FlightNote note)
    {
        ArgumentNullException.ThrowIfNull(note);
        string text = note.Notes ?? "";
        int at = text.IndexOf(LeftOut, StringComparison.Ordinal);
        return !note.Spoiled ? "" : at >= 0 ? text[(at + LeftOut.Length)..] : text;
    }

    private static string Own(string? notes)
    {
        string text = notes ?? "";
        int at = text.IndexOf(LeftOut, StringComparison.Ordinal);
        string own = at < 0 ? text : text[..at];
        return at > 0 && own.EndsWith(Between, StringComparison.Ordinal) ? own[..^Between.Length] : own;
    }

    private static bool IsBlank(FlightNote note) => Contents(note) == Contents(new FlightNote { Log = note.Log });

    private static FlightNote Contents(FlightNote note) => note with { Numbers = null, ClockRangeS = null, Line = 0 };

    /// <summary>Behind the log's rows of earlier flights; else before its others; else at the end.</summary>
    private static int PlaceOf(List<(FlightNote Note, bool Touched)> rows, string log, int number)
    {
        int before = rows.FindLastIndex(r => r.Note.Log == log && r.Note.Numbers?.Last < number);
        int own = rows.FindIndex(r => r.Note.Log == log);
        return before >= 0 ? before + 1 : own >= 0 ? own : rows.Count;
    }

    /// <summary>Joins neighbours that say the same, where the edit touched one of them.</summary>
    private static List<FlightNote> Joined(List<(FlightNote Note, bool Touched)> rows)
    {
        List<(FlightNote Note, bool Touched)> joined = [];
        foreach ((FlightNote note, bool touched) in rows)
        {
            if (joined.Count > 0 && joined[^1] is var last && (touched || last.Touched) && last.Note.Numbers is { } a && note.Numbers is { } b
                && a.Last + 1 == b.First && Contents(last.Note) == Contents(note))
            {
                joined[^1] = (last.Note with { Numbers = (a.First, b.Last), Line = last.Note.Line > 0 ? last.Note.Line : note.Line }, true);
            }
            else
            {
                joined.Add((note, touched));
            }
        }
        return [.. joined.Select(r => r.Note)];
    }
}

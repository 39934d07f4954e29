namespace ThermalTrace.Sessions;

/// <summary>A phase of a flight as it is seen now; phases of a flight touch.</summary>
/// <param name="Kind">launch, glide, climb or landing.</param>
/// <param name="StartS">s from the log's earliest stamp.</param>
/// <param name="EndS">s from the log's earliest stamp.</param>
public readonly record struct SeenPhase(string Kind, double StartS, double EndS);

/// <summary>A flight whose boundaries are to be moved.</summary>
/// <param name="Log">File name.</param>
/// <param name="Number">Counted from 1 in the log.</param>
/// <param name="Phases">In order, as a look with the notes so far shows them.</param>
/// <param name="EarliestS">No boundary can be put before, s from the log's earliest stamp.</param>
/// <param name="LatestS">No boundary can be put after.</param>
public sealed record EditedFlight(string Log, int Number, IReadOnlyList<SeenPhase> Phases, double EarliestS, double LatestS);

/// <summary>
/// Edits of phases.csv. A boundary is held by two rows that touch at it: the phase before, from its middle, and the phase after, to its
/// middle. So the other boundaries of the flight stay as the program finds them: half a phase says of its other end only what was
/// seen there anyway.
/// </summary>
public static class PhaseEdits
{
    /// <summary>No phase is made shorter, s: the program looks at phases every 0.4 s, or at every row of a slower log, and must see each at least once.</summary>
    public const double LeastPhaseS = 1;

    // On the ground beside a flight: enough that the program does not begin or end it a look further on.
    private const double GroundS = 3;
    private const double SameS = 0.0015; // what is written in whole milliseconds is the same when it is no further apart

    /// <summary>How far a boundary can be moved, s from the log's earliest stamp.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="boundary">0 where the flight begins, then between phases in order, last where it ends.</param>
    /// <param name="leastS">Shortest phase, <see cref="LeastPhaseS"/> or two rows of a slow log.</param>
    public static (double FromS, double ToS) Reach(EditedFlight flight, int boundary, double leastS = LeastPhaseS)
    {
        ArgumentNullException.ThrowIfNull(flight);
        double now = TimeS(flight, boundary);
        double from = boundary > 0 ? flight.Phases[boundary - 1].StartS + leastS : flight.EarliestS;
        double to = boundary < flight.Phases.Count ? flight.Phases[boundary].EndS - leastS : flight.LatestS;
        return (Math.Min(from, now), Math.Max(to, now));
    }

    /// <summary>Where a boundary is now, s from the log's earliest stamp.</summary>
    public static double TimeS(EditedFlight flight, int boundary)
    {
        ArgumentNullException.ThrowIfNull(flight);
        return boundary < flight.Phases.Count ? flight.Phases[boundary].StartS : flight.Phases[^1].EndS;
    }

    /// <summary>True where a person has put the boundary.</summary>
    public static bool IsMoved(IReadOnlyList<PhaseNote> notes, EditedFlight flight, int boundary)
    {
        ArgumentNullException.ThrowIfNull(notes);
        return IsHeld(notes, flight, TimeS(flight, boundary));
    }

    /// <summary>Moves a boundary.</summary>
    /// <param name="notes">Rows so far.</param>
    /// <param name="flight">The flight as it is seen with them.</param>
    /// <param name="boundary">As in <see cref="Reach"/>.</param>
    /// <param name="toS">Where to, s from the log's earliest stamp; held within reach.</param>
    /// <param name="leastS">As in <see cref="Reach"/>.</param>
    /// <returns>All rows; those of a log by time.</returns>
    public static IReadOnlyList<PhaseNote> Move(IReadOnlyList<PhaseNote> notes, EditedFlight flight, int boundary, double toS, double leastS = LeastPhaseS)
    {
        ArgumentNullException.ThrowIfNull(notes);
        (double from, double to) = Reach(flight, boundary, leastS);
        double now = TimeS(flight, boundary), at = Math.Round(Math.Clamp(toS, from, to), 3);
        // Of the phase itself its middle; where the boundary passes that, the middle of what is left of it.
        double begin = boundary > 0
            ? Math.Min(Middle(flight.Phases[boundary - 1]), Half(flight.Phases[boundary - 1].StartS, at))
            : Math.Max(flight.EarliestS, Math.Min(now, at) - GroundS);
        double end = boundary < flight.Phases.Count
            ? Math.Max(Middle(flight.Phases[boundary]), Half(at, flight.Phases[boundary].EndS))
            : Math.Min(flight.LatestS, Math.Max(now, at) + GroundS);
        string before = boundary > 0 ? flight.Phases[boundary - 1].Kind : "ground", after = boundary < flight.Phases.Count ? flight.Phases[boundary].Kind : "ground";
        List<PhaseNote> all = [.. TakenBack(notes, flight, now).SelectMany(n => Without(n, flight.Log, begin, end))];
        Add(all, new PhaseNote(flight.Log, flight.Number, Math.Round(begin, 3), at, before, 0));
        Add(all, new PhaseNote(flight.Log, flight.Number, at, Math.Round(end, 3), after, 0));
        return Tidy(all, flight.Log);
    }

    /// <summary>Takes back what was said of a boundary; where the program found it is found again at the next look.</summary>
    public static IReadOnlyList<PhaseNote> TakeBack(IReadOnlyList<PhaseNote> notes, EditedFlight flight, int boundary)
    {
        ArgumentNullException.ThrowIfNull(notes);
        return Tidy(TakenBack(notes, flight, TimeS(flight, boundary)), flight.Log);
    }

    /// <summary>Takes back everything that was said of a flight: rows of its number, and rows that touch its time.</summary>
    public static IReadOnlyList<PhaseNote> TakeBackAll(IReadOnlyList<PhaseNote> notes, EditedFlight flight)
    {
        ArgumentNullException.ThrowIfNull(notes);
        return [.. notes.Where(n => !IsOf(n, flight))];
    }

    /// <summary>True where a person has said something of a flight.</summary>
    public static bool IsTouched(IReadOnlyList<PhaseNote> notes, EditedFlight flight)
    {
        ArgumentNullException.ThrowIfNull(notes);
        return notes.Any(n => IsOf(n, flight));
    }

    // A row may name the flight, but its time alone decides; ground beside the flight lies outside of it and only its number tells.
    private static bool IsOf(PhaseNote note, EditedFlight flight) => note.Log == flight.Log
        && ((note.StartS < flight.Phases[^1].EndS && note.EndS > flight.Phases[0].StartS)
            || (note.Flight == flight.Number && note.StartS < flight.LatestS && note.EndS > flight.EarliestS));

    // Where the log begins or ends, or another flight does, there is no room for ground beside the flight, and one row is enough.
    private static bool IsHeld(IReadOnlyList<PhaseNote> notes, EditedFlight flight, double atS)
    {
        bool before = Before(notes, flight.Log, atS) >= 0, after = After(notes, flight.Log, atS) >= 0;
        return (before && after) || (after && atS - flight.EarliestS < SameS) || (before && flight.LatestS - atS < SameS);
    }

    private static List<PhaseNote> TakenBack(IReadOnlyList<PhaseNote> notes, EditedFlight flight, double atS)
    {
        List<PhaseNote> all = [.. notes];
        int before = Before(all, flight.Log, atS), after = After(all, flight.Log, atS);
        if (!IsHeld(all, flight, atS))
        {
            return all;
        }
        // A row that holds a boundary at its other end too goes on holding that one.
        PhaseNote? first = before >= 0 ? all[before] : null, second = after >= 0 ? all[after] : null;
        PhaseNote? left = first is not null && IsHeld(all, flight, first.StartS) ? first with { EndS = Math.Round(Half(first.StartS, atS), 3) } : null;
        PhaseNote? right = second is not null && IsHeld(all, flight, second.EndS) ? second with { StartS = Math.Round(Half(atS, second.EndS), 3) } : null;
        return [.. all.SelectMany(n => n == first ? Kept(left) : n == second ? Kept(right) : [n])];
    }

    private static PhaseNote[] Kept(PhaseNote? note) => note is not null && note.EndS > note.StartS ? [note] : [];

    private static int Before(IReadOnlyList<PhaseNote> notes, string log, double atS) => IndexOf(notes, n => n.Log == log && Math.Abs(n.EndS - atS) < SameS);

    private static int After(IReadOnlyList<PhaseNote> notes, string log, double atS) => IndexOf(notes, n => n.Log == log && Math.Abs(n.StartS - atS) < SameS);

    private static int IndexOf(IReadOnlyList<PhaseNote> notes, Func<PhaseNote, bool> which)
    {
        for (int i = 0; i < notes.Count; i++)
        {
            if (which(notes[i]))
            {
                return i;
            }
        }
        return -1;
    }

    /// <summary>What a row still says when a stretch is said anew.</summary>
    private static PhaseNote[] Without(PhaseNote note, string log, double fromS, double toS)
    {
        if (note.Log != log || note.EndS <= fromS || note.StartS >= toS)
        {
            return [note];
        }
        PhaseNote before = note with { EndS = Math.Round(fromS, 3) }, after = note with { StartS = Math.Round(toS, 3), Line = 0 };
        return [.. Kept(before), .. Kept(after)];
    }

    private static void Add(List<PhaseNote> notes, PhaseNote note)
    {
        if (note.EndS > note.StartS)
        {
            notes.Add(note);
        }
    }

    /// <summary>Rows of the log by time, at the place of its first; neighbours that touch and say the same become one.</summary>
    private static List<PhaseNote> Tidy(IReadOnlyList<PhaseNote> notes, string log)
    {
        List<PhaseNote> own = [];
        foreach (PhaseNote note in notes.Where(n => n.Log == log).OrderBy(n => n.StartS))
        {
            if (own.Count > 0 && own[^1] is var last && last.Kind == note.Kind && last.Flight == note.Flight && note.StartS - last.EndS < SameS)
            {
                own[^1] = last with { EndS = note.EndS };
            }
            else
            {
                own.Add(note);
            }
        }
        int place = notes.TakeWhile(n => n.Log != log).Count();
        return [.. notes.Take(place), .. own, .. notes.Skip(place).Where(n => n.Log != log)];
    }

    private static double Middle(SeenPhase phase) => Half(phase.StartS, phase.EndS);

    private static double Half(double a, double b) => a + (b - a) / 2;
}

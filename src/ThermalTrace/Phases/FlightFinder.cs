using ThermalTrace.Sessions;
using ThermalTrace.Tracks;

namespace ThermalTrace.Phases;

/// <summary>Finds the flights on tracks and cuts them into phases. docs/models/phases.md.</summary>
internal static class FlightFinder
{
    private const double LeastFlightS = 6, LeastHeightM = 4; // shorter or lower is a hop while handling the model
    private const int Kinds = (int)PhaseKind.Landing + 1;
    private const double SilentS = 3;                        // from the nearest height: what is smoothed there swings freely
    private const double NoteRoundingS = 0.002;              // notes are kept in whole milliseconds, grid points are not

    /// <summary>Flights of one log, numbered from 1 in time order.</summary>
    /// <param name="tracks">The log's tracks, in time order.</param>
    /// <param name="kind">How the model is launched, where known.</param>
    /// <param name="notes">Boundaries a person set for this log; they win.</param>
    public static IReadOnlyList<Flight> Find(IReadOnlyList<Track> tracks, LaunchKind? kind, IReadOnlyList<PhaseNote> notes)
    {
        List<Flight> flights = [];
        foreach (Track track in tracks)
        {
            AddFlights(track, kind, notes, flights);
        }
        return flights;
    }

    private static void AddFlights(Track track, LaunchKind? kind, IReadOnlyList<PhaseNote> notes, List<Flight> flights)
    {
        double[] ground = GroundLevel.Find(track);
        TrackSigns signs = TrackSigns.Of(track, ground);
        int stride = signs.Stride, steps = signs.Steps.Length;
        const int states = PhaseModel.States;
        double stepS = stride * track.StepS;
        bool[] silent = Silent(track);
        // A first look with what is usual everywhere, a second with what is usual here. What a person said counts in the second alone: it
        // tells where one phase is, and must not change how others far from it are read.
        Habits habits = Habits.Usual(signs.UsualAirspeedMps, kind);
        PhaseModel model = new(kind, habits, signs.LiftSpreadMps, stepS);
        double[] emissions = Emissions(model, []);
        double[] posterior = HiddenMarkov.Posterior(states, emissions, PhaseModel.Start(), MovesInto);
        model = new(kind, habits.Learn(signs.Steps, posterior, stepS), signs.LiftSpreadMps, stepS);
        emissions = Emissions(model, notes);
        posterior = HiddenMarkov.Posterior(states, emissions, PhaseModel.Start(), MovesInto);
        int[] path = HiddenMarkov.BestPath(states, emissions, PhaseModel.Start(), MovesInto);

        int first = 0;
        while (first < steps)
        {
            if (path[first] == PhaseModel.Ground)
            {
                first++;
                continue;
            }
            int end = first;
            while (end < steps && path[end] != PhaseModel.Ground)
            {
                end++;
            }
            AddFlight(track, ground, posterior, first, end, stride, flights, notes);
            first = end;
        }

        HiddenMarkov.Moves MovesInto(int t) => model.MovesAt(signs.Steps[t].HeightM);

        double[] Emissions(PhaseModel of, IReadOnlyList<PhaseNote> said)
        {
            double[] rows = new double[steps * states];
            for (int t = 0; t < steps; t++)
            {
                Span<double> row = rows.AsSpan(t * states, states);
                if (!silent[t * stride])
                {
                    of.Emissions(signs.Steps[t], row);
                }
                Constrain(row, said, track.TimeS(t * stride));
            }
            return rows;
        }
    }

    /// <summary>Where the log says nothing for seconds nothing was seen: the phases before and after decide.</summary>
    private static bool[] Silent(Track track)
    {
        bool[] silent = new bool[track.Count];
        int reach = (int)(SilentS / track.StepS), last = int.MinValue / 2;
        Array.Fill(silent, true);
        for (int i = 0; i < track.Count; i++)
        {
            if (!double.IsNaN(track.AltitudeM[i]))
            {
                int from = Math.Max(0, Math.Max(last + 1, i - reach));
                silent.AsSpan(from, i + 1 - from).Clear();
                last = i;
            }
            else if (i - last <= reach)
            {
                silent[i] = false;
            }
        }
        return silent;
    }

    private static void AddFlight(Track track, double[] ground, double[] posterior, int first, int end, int stride,
        List<Flight> flights, IReadOnlyList<PhaseNote> notes)
    {
        double highest = double.NegativeInfinity;
        for (int t = first; t < end; t++)
        {
            int i = Math.Min(t * stride, track.Count - 1);
            highest = Math.Max(highest, track.SmoothAltitudeM[i] - ground[i]);
        }
        if ((end - first) * stride * track.StepS < LeastFlightS || highest < LeastHeightM)
        {
            return;
        }
        // Within a flight each moment takes its own most probable kind: the path alone would make every landing short, for the
        // way into it costs the same however long it lasts.
        double[] kinds = new double[(end - first) * Kinds];
        for (int t = first; t < end; t++)
        {
            for (int s = 0; s < PhaseModel.States; s++)
            {
                kinds[(t - first) * Kinds + (int)PhaseModel.KindOf(s)] += posterior[t * PhaseModel.States + s];
            }
        }
        PhaseKind KindAt(int t)
        {
            ReadOnlySpan<double> row = kinds.AsSpan((t - first) * Kinds, Kinds);
            PhaseKind best = PhaseKind.Launch;
            for (PhaseKind kind = PhaseKind.Glide; kind <= PhaseKind.Landing; kind++)
            {
                best = row[(int)kind] > row[(int)best] ? kind : best;
            }
            return best;
        }
        List<Segment> segments = [];
        int from = first;
        for (int t = first + 1; t <= end; t++)
        {
            PhaseKind kind = KindAt(from);
            if (t < end && KindAt(t) == kind)
            {
                continue;
            }
            double probability = 0;
            for (int k = from; k < t; k++)
            {
                probability += kinds[(k - first) * Kinds + (int)kind];
            }
            segments.Add(new Segment(kind, from * stride, Math.Min(t * stride, track.Count - 1), probability / (t - from)));
            from = t;
        }
        PutNotedBoundaries(track, segments, stride, notes);
        EndLaunchesWhereTheirHeightIsBought(track, segments, notes);
        StartWhereTheRiseBegins(track, ground, segments, notes);
        flights.Add(new Flight(track, flights.Count + 1, segments, ground[segments[0].First]));
    }

    /// <summary>The model of phases cuts at its looks; where a note begins or ends within the look before, the cut is the note's.</summary>
    private static void PutNotedBoundaries(Track track, List<Segment> segments, int stride, IReadOnlyList<PhaseNote> notes)
    {
        if (notes.Count == 0)
        {
            return;
        }
        for (int k = 0; k <= segments.Count; k++)
        {
            PhaseKind before = k > 0 ? segments[k - 1].Kind : PhaseKind.Ground, after = k < segments.Count ? segments[k].Kind : PhaseKind.Ground;
            int cut = k > 0 ? segments[k - 1].End : segments[0].First;
            foreach (double edgeS in notes.Where(n => IsOf(n, before)).Select(n => n.EndS).Concat(notes.Where(n => IsOf(n, after)).Select(n => n.StartS)))
            {
                int at = (int)Math.Ceiling((edgeS - NoteRoundingS - track.StartS) / track.StepS);
                bool within = at > cut - stride && at < cut && (k == 0 || at > segments[k - 1].First) && at >= 0;
                if (within && k > 0)
                {
                    segments[k - 1] = segments[k - 1] with { End = at };
                }
                if (within && k < segments.Count)
                {
                    segments[k] = segments[k] with { First = at };
                }
            }
        }
    }

    private static bool IsOf(PhaseNote note, PhaseKind kind) => string.Equals(note.Kind, kind.ToString(), StringComparison.OrdinalIgnoreCase);

    /// <summary>True where a person said something of the time between two grid points, or right beside them: there nothing is refined.</summary>
    private static bool IsNoted(Track track, int a, int b, IReadOnlyList<PhaseNote> notes)
    {
        double fromS = track.TimeS(Math.Min(a, b) - 1), toS = track.TimeS(Math.Max(a, b) + 1);
        return notes.Any(n => n.StartS < toS && n.EndS > fromS);
    }

    /// <summary>
    /// The model sees a launch's end only within its look; the height itself tells it better: where the rise has fallen
    /// to a small part of what it was.
    /// </summary>
    private static void EndLaunchesWhereTheirHeightIsBought(Track track, List<Segment> segments, IReadOnlyList<PhaseNote> notes)
    {
        for (int k = 0; k + 1 < segments.Count; k++)
        {
            Segment launch = segments[k], next = segments[k + 1];
            if (launch.Kind != PhaseKind.Launch || next.End - next.First < 2)
            {
                continue;
            }
            int fastest = launch.First;
            for (int i = launch.First; i < launch.End; i++)
            {
                fastest = track.VerticalSpeedMps[i] > track.VerticalSpeedMps[fastest] ? i : fastest;
            }
            double sum = 0;
            int n = 0;
            for (int i = launch.First; i < launch.End; i++)
            {
                sum += track.VerticalSpeedMps[i];
                n++;
            }
            double threshold = Math.Max(0.5, 0.2 * sum / Math.Max(n, 1));
            int limit = Math.Min(launch.End + (int)(4 / track.StepS), next.End - 1);
            int end = launch.End;
            // From the last moment of strong rise before the model's own end, on to where it is over.
            int strong = fastest;
            for (int i = fastest; i < launch.End; i++)
            {
                strong = track.VerticalSpeedMps[i] > 3 * threshold ? i : strong;
            }
            for (int i = strong; i <= limit; i++)
            {
                if (track.VerticalSpeedMps[i] < threshold)
                {
                    end = i;
                    break;
                }
            }
            if (end > launch.First && end < next.End && !IsNoted(track, end, launch.End, notes))
            {
                segments[k] = launch with { End = end };
                segments[k + 1] = next with { First = end };
            }
        }
    }

    /// <summary>A flight begins where the model leaves the ground, not where the model of phases first suspected it.</summary>
    private static void StartWhereTheRiseBegins(Track track, double[] ground, List<Segment> segments, IReadOnlyList<PhaseNote> notes)
    {
        Segment launch = segments[0];
        if (launch.Kind != PhaseKind.Launch)
        {
            return;
        }
        int start = launch.First;
        for (int i = launch.First; i < launch.End - 1; i++)
        {
            if (track.SmoothAltitudeM[i] - ground[i] < 1.5 && track.VerticalSpeedMps[i] < 1.5)
            {
                start = i;
            }
        }
        if (!IsNoted(track, start, launch.First, notes))
        {
            segments[0] = launch with { First = start };
        }
    }

    private static void Constrain(Span<double> row, IReadOnlyList<PhaseNote> notes, double timeS)
    {
        foreach (PhaseNote note in notes)
        {
            if (timeS < note.StartS - NoteRoundingS || timeS >= note.EndS - NoteRoundingS)
            {
                continue;
            }
            for (int s = 0; s < row.Length; s++)
            {
                if (!string.Equals(PhaseModel.KindOf(s).ToString(), note.Kind, StringComparison.OrdinalIgnoreCase))
                {
                    row[s] -= 1e6;
                }
            }
        }
    }
}

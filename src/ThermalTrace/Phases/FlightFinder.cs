using ThermalTrace.Sessions;
using ThermalTrace.Tracks;

namespace ThermalTrace.Phases;

/// <summary>Finds the flights on tracks and cuts them into phases. docs/models/phases.md.</summary>
internal static class FlightFinder
{
    private const double LeastFlightS = 6, LeastHeightM = 4; // shorter or lower is a hop while handling the model
    private const double LookStepS = 0.4;                    // no phase begins or ends more sharply
    private const double SilentS = 3;                        // from the nearest height: what is smoothed there swings freely

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
        int stride = Math.Max(1, (int)Math.Round(LookStepS / track.StepS));
        int steps = (track.Count + stride - 1) / stride;
        PhaseSigns[] signs = SignsOf(track, ground, stride, steps, out double sink, out double airspeed);
        double turn = double.IsNaN(airspeed) ? 0.6 : Math.Clamp(4.2 / airspeed, 0.25, 1.0); // a bank of 23°: common practice, no source
        PhaseModel model = new(kind, sink, turn);
        double stepS = stride * track.StepS;
        const int states = PhaseModel.States;
        double[] emissions = new double[steps * states];
        bool[] silent = Silent(track);
        for (int t = 0; t < steps; t++)
        {
            Span<double> row = emissions.AsSpan(t * states, states);
            if (!silent[t * stride])
            {
                model.Emissions(signs[t], stepS, row);
            }
            Constrain(row, notes, track.TimeS(t * stride));
        }
        double[] start = [Math.Log(0.9), Math.Log(0.01), Math.Log(0.05), Math.Log(0.015), Math.Log(0.015), Math.Log(0.01)];
        (int[] path, double[] posterior) = HiddenMarkov.Solve(states, emissions, start,
            (t, log) => model.Transitions(stepS, signs[t].HeightM, log));

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
            AddFlight(track, ground, path, posterior, first, end, stride, flights, notes.Count > 0);
            first = end;
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

    private static void AddFlight(Track track, double[] ground, int[] path, double[] posterior, int first, int end, int stride,
        List<Flight> flights, bool noted)
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
        List<Segment> segments = [];
        int from = first;
        for (int t = first + 1; t <= end; t++)
        {
            if (t < end && PhaseModel.KindOf(path[t]) == PhaseModel.KindOf(path[from]))
            {
                continue;
            }
            PhaseKind kind = PhaseModel.KindOf(path[from]);
            double probability = 0;
            for (int k = from; k < t; k++)
            {
                for (int s = 0; s < PhaseModel.States; s++)
                {
                    probability += PhaseModel.KindOf(s) == kind ? posterior[k * PhaseModel.States + s] : 0;
                }
            }
            segments.Add(new Segment(kind, from * stride, Math.Min(t * stride, track.Count - 1), probability / (t - from)));
            from = t;
        }
        if (!noted)
        {
            EndLaunchesWhereTheirHeightIsBought(track, segments);
            StartWhereTheRiseBegins(track, ground, segments);
        }
        flights.Add(new Flight(track, flights.Count + 1, segments, ground[segments[0].First]));
    }

    /// <summary>
    /// The model sees a launch's end only within its look; the height itself tells it better: where the rise has fallen
    /// to a small part of what it was.
    /// </summary>
    private static void EndLaunchesWhereTheirHeightIsBought(Track track, List<Segment> segments)
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
            if (end > launch.First && end < next.End)
            {
                segments[k] = launch with { End = end };
                segments[k + 1] = next with { First = end };
            }
        }
    }

    /// <summary>A flight begins where the model leaves the ground, not where the model of phases first suspected it.</summary>
    private static void StartWhereTheRiseBegins(Track track, double[] ground, List<Segment> segments)
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
        segments[0] = launch with { First = start };
    }

    private static void Constrain(Span<double> row, IReadOnlyList<PhaseNote> notes, double timeS)
    {
        foreach (PhaseNote note in notes)
        {
            if (timeS < note.StartS || timeS >= note.EndS)
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

    private static PhaseSigns[] SignsOf(Track track, double[] groundLevel, int stride, int steps, out double sinkMps, out double airspeedMps)
    {
        int count = track.Count;
        bool[] airborne = new bool[count];
        List<double> sinks = [];
        for (int i = 0; i < count; i++)
        {
            double v = track.VerticalSpeedMps[i];
            airborne[i] = track.SmoothAltitudeM[i] - groundLevel[i] > 4 && Math.Abs(v) < 3.5;
            if (airborne[i] && v < 0 && track.SmoothAltitudeM[i] - groundLevel[i] > 10)
            {
                sinks.Add(-v);
            }
        }
        sinks.Sort();
        sinkMps = sinks.Count > 20 ? Math.Clamp(sinks[sinks.Count / 2], 0.25, 1.5) : 0.5;

        double[] energyRate = (double[])track.VerticalSpeedMps.Clone();
        double[] turn = new double[count];
        Array.Fill(turn, double.NaN);
        airspeedMps = double.NaN;
        if (track.Ground is { } ground)
        {
            (double[] windEast, double[] windNorth) = RoughWind.Find(ground, airborne, track.StepS);
            airspeedMps = MotionThroughAir(track, ground, windEast, windNorth, airborne, energyRate, turn);
        }
        // A setting in per cent, a speed in rpm or a current: running is anything clearly above the least the channel shows.
        double running = track.Motor is null ? double.NaN : 0.05 * Math.Max(1e-9, track.Motor.Where(m => !double.IsNaN(m)).DefaultIfEmpty(0).Max());
        PhaseSigns[] signs = new PhaseSigns[steps];
        for (int t = 0; t < steps; t++)
        {
            int i = Math.Min(t * stride, count - 1);
            double speed = track.Ground is { } g ? Math.Sqrt(g.EastMps[i] * g.EastMps[i] + g.NorthMps[i] * g.NorthMps[i]) : double.NaN;
            double motor = track.Motor is null || double.IsNaN(track.Motor[i]) ? double.NaN : track.Motor[i] > running ? 1 : 0;
            signs[t] = new PhaseSigns(energyRate[i], track.VerticalSpeedMps[i], turn[i], speed, track.SmoothAltitudeM[i] - groundLevel[i], motor);
        }
        return signs;
    }

    /// <summary>Fills energy rate and turn rate through the air, each from differences over about 1.6 s; returns the usual airspeed.</summary>
    private static double MotionThroughAir(Track track, GroundMotion ground, double[] windEast, double[] windNorth, bool[] airborne,
        double[] energyRate, double[] turn)
    {
        int count = track.Count;
        int half = Math.Max(1, (int)Math.Round(0.8 / track.StepS));
        List<double> speeds = [];
        for (int i = half; i < count - half; i++)
        {
            double x0 = ground.EastMps[i - half] - windEast[i - half], y0 = ground.NorthMps[i - half] - windNorth[i - half];
            double x1 = ground.EastMps[i + half] - windEast[i + half], y1 = ground.NorthMps[i + half] - windNorth[i + half];
            double v0 = Math.Sqrt(x0 * x0 + y0 * y0), v1 = Math.Sqrt(x1 * x1 + y1 * y1);
            double over = 2 * half * track.StepS;
            if (airborne[i])
            {
                speeds.Add(0.5 * (v0 + v1));
                energyRate[i] += Math.Clamp((v1 * v1 - v0 * v0) / (2 * Units.PhysicalConstants.StandardGravityMps2 * over), -3, 3);
            }
            if (Math.Min(v0, v1) > 2 && ground.VarianceM2ps2[i] < 4)
            {
                turn[i] = Math.Atan2(x1 * y0 - y1 * x0, x0 * x1 + y0 * y1) / over;
            }
        }
        speeds.Sort();
        return speeds.Count > 20 ? speeds[speeds.Count / 2] : double.NaN;
    }
}

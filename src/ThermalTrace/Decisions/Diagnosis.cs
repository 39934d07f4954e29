using ThermalTrace.Air;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Tracks;

namespace ThermalTrace.Decisions;

/// <summary>A note on ballast that the flying does not bear out.</summary>
/// <param name="Flights">Indices among the session's flights.</param>
/// <param name="WholeLog">True where they are all the flights of a log.</param>
/// <param name="NotedG">What was noted, g.</param>
/// <param name="FliesLikeG">What they fly like, g.</param>
/// <param name="LogFactor">Natural logarithm of the Bayes factor: of glides and of circling together.</param>
/// <param name="Glides">Of the glides alone.</param>
/// <param name="Circling">Of the speed of circling alone.</param>
internal sealed record BallastDoubt(IReadOnlyList<int> Flights, bool WholeLog, double NotedG, double FliesLikeG, double LogFactor, double Glides, double Circling);

/// <summary>Flights that fly on a curve of their own.</summary>
/// <param name="Flights">Indices among the session's flights, in the order flown.</param>
/// <param name="LogFactor">Natural logarithm of the Bayes factor.</param>
/// <param name="Drag">Airspeed in level flight with the first of them, m/s, and the change of drag there as a share: value and standard error; slow to fast.</param>
internal sealed record CurveDoubt(IReadOnlyList<int> Flights, double LogFactor, IReadOnlyList<(double AirspeedMps, double Change, double StandardError)> Drag);

/// <summary>How well the session hangs together: what is left over, what pulls, what was noted wrongly, what the sensors were found to do.</summary>
/// <param name="Residuals">By speed and flight; null where nothing was fitted.</param>
/// <param name="Influence">Which flights pull, what to fly next; null where nothing was fitted.</param>
/// <param name="Ballasts">Every other ballast that a log or a flight was tried with, the likeliest first.</param>
/// <param name="Curves">Runs of flights tried with a curve of their own, the likeliest first.</param>
/// <param name="Doubt">The note on ballast that is beyond reasonable doubt wrong, if there is one.</param>
/// <param name="Change">The run of flights that is beyond reasonable doubt on another curve, if there is one.</param>
/// <param name="Pitot">The pitot's factor; null without.</param>
/// <param name="Drifts">What each log's barometer was found to do; null where it cannot be told.</param>
internal sealed record Diagnosis(Residuals? Residuals, Influence? Influence, IReadOnlyList<BallastDoubt> Ballasts, IReadOnlyList<CurveDoubt> Curves,
    BallastDoubt? Doubt, CurveDoubt? Change, PitotPool? Pitot, IReadOnlyList<(int Log, BarometerDrift Drift)> Drifts)
{
    // Set by simulation so that fewer than one sound session in 200 is doubted: docs/models/checks.md.
    private const double BallastThreshold = 4.5, FlightThreshold = 9, CurveThreshold = 5;

    /// <summary>Examines a finished fit. Nothing in it changes.</summary>
    public static Diagnosis Of(IReadOnlyList<FlownFlight> flights, Session session, Drag drag, Verdict verdict)
    {
        PitotPool? pitot = PitotPool.Of(flights.Select(f => f.Air));
        (int, BarometerDrift)[] drifts = [.. flights.Select(f => f.Flight.Track).Where(t => t.Drift is not null).DistinctBy(t => t.Log).Select(t => (t.Log, t.Drift!))];
        if (drag.Estimate is not { } estimate)
        {
            return new Diagnosis(null, null, [], [], null, null, pitot, drifts);
        }
        Planform planform = drag.Maker.Planform;
        GlideFlight[] fitted = [.. drag.Flights.Select(f => f.Flight)];
        int[] index = [.. drag.Flights.Select(f => f.Index)];
        BallastDoubt[] ballasts = [.. Tried(flights, drag, fitted, index, estimate)];
        int[] order = InOrder(flights, session, index);
        CurveDoubt[] curves = [.. CurveCheck.Look([.. order.Select(k => fitted[k])], estimate, planform).Select(c => new CurveDoubt([.. c.Flights.Select(k => index[order[k]])], c.LogFactor,
            [.. c.LnCl.Zip(c.DragChange, (x, d) => (planform.AirspeedMps(Math.Exp(x), fitted[order[c.Flights[0]]].MassKg), d.Mean, d.StandardError))]))];
        BallastDoubt? doubt = ballasts.Where(b => b.LogFactor > (b.WholeLog ? BallastThreshold : FlightThreshold)).MaxBy(b => b.LogFactor - (b.WholeLog ? BallastThreshold : FlightThreshold));
        CurveDoubt? change = curves.FirstOrDefault(c => c.LogFactor > CurveThreshold);
        // A wrong mass bends the curve of its flights too, and another curve looks like another mass: the likelier is told.
        if (doubt is not null && change is not null && doubt.Flights.Intersect(change.Flights).Any())
        {
            if (doubt.LogFactor > change.LogFactor)
            {
                change = null;
            }
            else
            {
                doubt = null;
            }
        }
        return new Diagnosis(Residuals.Of(fitted, estimate, planform), Influence.Of(drag, estimate, verdict), ballasts, curves, doubt, change, pitot, drifts);
    }

    private static IEnumerable<BallastDoubt> Tried(IReadOnlyList<FlownFlight> flights, Drag drag, GlideFlight[] fitted, int[] index, PolarEstimate estimate)
    {
        if (drag.Options.Count < 2 || fitted.Length < 2)
        {
            return [];
        }
        // One note covers a log, or a flight: both may be wrong.
        List<IReadOnlyList<int>> groups = [];
        List<bool> whole = [];
        foreach (IGrouping<(int Log, int Ballast), int> log in Enumerable.Range(0, fitted.Length).GroupBy(k => (flights[index[k]].Flight.Track.Log, fitted[k].Ballast)))
        {
            int[] members = [.. log];
            bool only = Enumerable.Range(0, fitted.Length).All(k => flights[index[k]].Flight.Track.Log != log.Key.Log || fitted[k].Ballast == log.Key.Ballast);
            if (only && members.Length < fitted.Length)
            {
                groups.Add(members);
                whole.Add(true);
            }
            if (!only || members.Length > 1)
            {
                groups.AddRange(members.Select(k => (IReadOnlyList<int>)[k]));
                whole.AddRange(members.Select(_ => false));
            }
        }
        double[] habits = [.. index.Select(i => CirclingHabit.Of(flights[i]))], masses = [.. fitted.Select(f => f.MassKg)];
        return BallastCheck.Look(fitted, groups, [.. drag.Options.Select(o => o.MassKg)], estimate, drag.Maker.Planform).Select(s =>
        {
            double habit = CirclingHabit.LogFactor(habits, masses, s.Flights, drag.Options[s.Candidate].MassKg);
            return new BallastDoubt([.. s.Flights.Select(k => index[k])], whole[groups.FindIndex(g => ReferenceEquals(g, s.Flights))],
                drag.Options[fitted[s.Flights[0]].Ballast].BallastG, drag.Options[s.Candidate].BallastG, s.LogFactor + habit, s.LogFactor, habit);
        }).OrderByDescending(d => d.LogFactor);
    }

    /// <summary>The fit's flights in the order flown, where the logs' clocks tell; else log by log.</summary>
    private static int[] InOrder(IReadOnlyList<FlownFlight> flights, Session session, int[] index)
    {
        bool clocks = session.Logs.All(l => l.StartedAt is not null);
        double Started(int k)
        {
            FlownFlight f = flights[index[k]];
            return clocks ? (session.Logs[f.Flight.Track.Log].StartedAt!.Value - session.Logs[0].StartedAt!.Value).TotalSeconds + f.Flight.StartS : 0;
        }
        return [.. Enumerable.Range(0, index.Length).OrderBy(Started)];
    }
}

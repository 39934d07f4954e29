using ThermalTrace.Decisions;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Learning;

/// <summary>
/// The airframe as all its sessions tell it: what advice rests on. Without a session it is the prediction, and says so.
/// </summary>
internal sealed record SeasonModel
{
    /// <summary>The model.</summary>
    public required Airframe Airframe { get; init; }
    /// <summary>From geometry.</summary>
    public required Prediction Prediction { get; init; }
    /// <summary>Drag, tuned.</summary>
    public required TunedDrag Drag { get; init; }
    /// <summary>How lift is worked: equally likely draws.</summary>
    public required IReadOnlyList<ClimbHabit> Habits { get; init; }
    /// <summary>Launch heights; null where none was seen.</summary>
    public required LaunchHeights? Launches { get; init; }
    /// <summary>The sessions' evidence, in order of their days; not used where nothing counts.</summary>
    public required IReadOnlyList<SeasonSession> Sessions { get; init; }

    /// <summary>When the airframe changed, as far as its drag tells; rising by day.</summary>
    public required IReadOnlyList<SeasonChange> Changes { get; init; }

    /// <summary>The climbs that learning rests on.</summary>
    public required IReadOnlyList<ClimbRow> Climbs { get; init; }

    /// <summary>What is learned beyond physics, and whether it is any good.</summary>
    public required LearnedPart Learned { get; init; }

    /// <summary>Tunes the model.</summary>
    /// <param name="airframe">As it is now.</param>
    /// <param name="sessions">Any number, also none, in any order.</param>
    /// <param name="seed">Seed of every draw.</param>
    /// <param name="learned">What was learned of these sessions beyond physics; null where that was not tried.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableInputException">A session's evidence is of another program's format.</exception>
    public static SeasonModel Tune(Airframe airframe, IReadOnlyList<SeasonSession> sessions, int seed, LearnedPart? learned = null, CancellationToken cancel = default)
    {
        Prediction prediction = Prediction.For(airframe);
        IReadOnlyList<SeasonSession> ordered = InOrder(sessions);
        IReadOnlyList<(DragPool.Part Part, SeasonSession Session)> parts = Parts(ordered, prediction, cancel);
        DragPool.Part[] drag = [.. parts.Select(p => p.Part)];
        IReadOnlyList<(int From, Band Share, double LogFactor)> changes = SeasonChanges.Find(prediction, drag);
        TunedDrag tuned = DragPool.Now(DragPool.Add(prediction, drag, [.. changes.Select(c => c.From)]), drag.Length);
        IReadOnlyList<ClimbRow> climbs = ClimbRow.Of(ordered, prediction, tuned, airframe.UnballastedMassG / 1000);
        return new SeasonModel
        {
            Airframe = airframe,
            Prediction = prediction,
            Drag = tuned,
            Changes = [.. changes.Select(c => new SeasonChange(parts[c.From].Session.Id, parts[c.From].Session.Evidence.Date, c.Share, c.LogFactor))],
            Habits = LearnedHabits.Learn(climbs, seed, cancel),
            Climbs = climbs,
            Learned = learned ?? LearnedPart.NotTried,
            Launches = LaunchHeights.Fit([.. ordered.SelectMany(s => s.Evidence.Flights).Where(f => f is { Counts: true, LaunchHeightM: not null })
                .Select(f => (f.LaunchHeightM!.Value, f.MassKg * 1000 / airframe.UnballastedMassG, f.WindMps ?? 0))], airframe.Launch),
            Sessions = ordered,
        };
    }

    /// <summary>Curves and draws for a list of options; the options' index is that of their departure.</summary>
    public (CurveMaker Maker, double[][] Draws) Curves(IReadOnlyList<Option> options, int seed, int count)
    {
        DragTerms terms = new(Prediction, options.Count, 0, 0, 1);
        return (new CurveMaker(terms, Prediction.Planform, 0), Drag.Draw(options, terms, seed, count));
    }

    private readonly Lazy<LearnedGain?> _gain;

    /// <summary>An empty model.</summary>
    public SeasonModel() => _gain = new Lazy<LearnedGain?>(() => LearnedGain.Of(Learned!));

    /// <summary>By what the lift kept departs from physics for a mass in some air, as a factor; 1 where physics is all there is, and far from what was flown.</summary>
    /// <param name="massKg">Flying mass.</param>
    /// <param name="edr">m^(2/3)/s.</param>
    /// <param name="windMps">m/s.</param>
    /// <param name="liftMps">At the core.</param>
    public double Gain(double massKg, double edr, double windMps, double liftMps) =>
        _gain.Value?.For(massKg * 1000 / Airframe.UnballastedMassG, massKg / Prediction.Planform.AreaM2, edr, windMps, liftMps) ?? 1;

    /// <summary>Compares learners on the season's climbs and trains the one chosen.</summary>
    public LearnedPart Learn(int seed, CancellationToken cancel) => ClimbLearner.Compare(Climbs, seed, cancel);

    /// <summary>By day, and of one day by name; those of an unknown day first.</summary>
    public static IReadOnlyList<SeasonSession> InOrder(IReadOnlyList<SeasonSession> sessions) =>
        [.. sessions.OrderBy(s => s.Evidence.Date ?? "", StringComparer.Ordinal).ThenBy(s => s.Id, StringComparer.Ordinal)];

    /// <summary>What each session tells of drag; those that tell nothing are left out.</summary>
    /// <exception cref="UnusableInputException">A session's evidence is of another program's format.</exception>
    public static IReadOnlyList<(DragPool.Part Part, SeasonSession Session)> Parts(IReadOnlyList<SeasonSession> ordered, Prediction prediction, CancellationToken cancel)
    {
        List<(DragPool.Part, SeasonSession)> parts = [];
        foreach (SeasonSession session in ordered)
        {
            cancel.ThrowIfCancellationRequested();
            EvidenceCheck.Require(session);
            if (Part(session, prediction) is { } part)
            {
                parts.Add((part, session));
            }
        }
        return parts;
    }

    private static DragPool.Part? Part(SeasonSession session, Prediction prediction)
    {
        try
        {
            return DragPool.Of(session.Evidence, prediction);
        }
        catch (ArgumentException)
        {
            // A likelihood's matrix has no negative directions; one from a file that was written by hand may.
            throw new UnusableInputException($"session {session.Id}: its evidence is no likelihood (its matrix has negative directions); debrief the session again and add it anew");
        }
    }
}

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

    private const int HabitDraws = 600;

    /// <summary>Tunes the model.</summary>
    /// <param name="airframe">As it is now.</param>
    /// <param name="sessions">Any number, also none, in any order.</param>
    /// <param name="seed">Seed of every draw.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableInputException">A session's evidence is of another program's format.</exception>
    public static SeasonModel Tune(Airframe airframe, IReadOnlyList<SeasonSession> sessions, int seed, CancellationToken cancel = default)
    {
        Prediction prediction = Prediction.For(airframe);
        IReadOnlyList<SeasonSession> ordered = [.. sessions.OrderBy(s => s.Evidence.Date ?? "", StringComparer.Ordinal).ThenBy(s => s.Id, StringComparer.Ordinal)];
        List<DragPool.Part> parts = [];
        foreach (SeasonSession session in ordered)
        {
            cancel.ThrowIfCancellationRequested();
            RequireFormat(session);
            if (DragPool.Of(session.Evidence, prediction) is { } part)
            {
                parts.Add(part);
            }
        }
        System.Random random = new(seed);
        return new SeasonModel
        {
            Airframe = airframe,
            Prediction = prediction,
            Drag = DragPool.Add(prediction, parts),
            Habits = [.. Enumerable.Range(0, HabitDraws).Select(_ => ClimbHabit.Draw(random))],
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

    private static void RequireFormat(SeasonSession session)
    {
        if (session.Evidence is not { Format: SessionEvidence.CurrentFormat, Basis: not null })
        {
            throw new UnusableInputException($"session {session.Id}: its evidence is \"{session.Evidence.Format}\", expected \"{SessionEvidence.CurrentFormat}\"; debrief the session again and add it anew");
        }
    }
}

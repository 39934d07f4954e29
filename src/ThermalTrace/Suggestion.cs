using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace;

/// <summary>What a person may set for a suggestion beside the conditions.</summary>
public sealed record SuggestionOptions
{
    /// <summary>Seed of every draw; echoed in the result.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Readings of the wind near the ground beside what logs showed at flying height.</summary>
    public IReadOnlyList<FieldReading> Readings { get; init; } = [];
}

/// <summary>Which ballast for the conditions asked: the season's model, the air, the options in it, the document.</summary>
public static class Suggestion
{
    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static Suggestion() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Tunes the airframe by its sessions, and answers.</summary>
    /// <param name="airframe">As it is now.</param>
    /// <param name="sessions">Any number, also none.</param>
    /// <param name="asked">The conditions; lift or climb given.</param>
    /// <param name="options">Seed and readings.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableInputException">A session's evidence is of another program's format.</exception>
    public static SuggestionDocument Run(Airframe airframe, IReadOnlyList<SeasonSession> sessions, AskedConditions asked, SuggestionOptions options, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        ArgumentNullException.ThrowIfNull(sessions);
        ArgumentNullException.ThrowIfNull(options);
        return Run(SeasonModel.Tune(airframe, sessions, options.Seed, cancel: cancel), asked, options);
    }

    /// <summary>Answers from a tuned model.</summary>
    internal static SuggestionDocument Run(SeasonModel model, AskedConditions asked, SuggestionOptions options)
    {
        ArgumentNullException.ThrowIfNull(asked);
        if (asked.LiftMps is null == asked.ClimbMps is null)
        {
            throw new ArgumentException("either lift or climb has to be given, and not both", nameof(asked));
        }
        Advised advised = Advisor.Answer(model, asked, options.Readings, options.Seed);
        return SuggestionEntries.Document(model, advised, options.Seed);
    }
}

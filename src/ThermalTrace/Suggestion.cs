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

    /// <summary>Answers from what the season knows.</summary>
    /// <param name="season">What is known of the model.</param>
    /// <param name="asked">The conditions; lift or climb given.</param>
    /// <param name="options">Seed and readings.</param>
    public static SuggestionDocument Run(Season season, AskedConditions asked, SuggestionOptions options)
    {
        ArgumentNullException.ThrowIfNull(season);
        ArgumentNullException.ThrowIfNull(asked);
        ArgumentNullException.ThrowIfNull(options);
        if (asked.LiftMps is null == asked.ClimbMps is null)
        {
            throw new ArgumentException("either lift or climb has to be given, and not both", nameof(asked));
        }
        return SuggestionEntries.Document(season.Model, Advisor.Answer(season.Model, asked, options.Readings, options.Seed), options.Seed);
    }
}

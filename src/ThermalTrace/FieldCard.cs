using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Reports.Card;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace;

/// <summary>How a field card is made.</summary>
public sealed record FieldCardOptions
{
    /// <summary>Seed of every draw.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>The day, for the card to say, yyyy-MM-dd; null to leave it out.</summary>
    public string? Made { get; init; }
}

/// <summary>The field card: the best ballast over wind, lift and turbulence, for the phone and the pocket.</summary>
public static class FieldCard
{
    private const int Draws = 400;

    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static FieldCard() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Works the card out.</summary>
    /// <param name="season">What is known of the model.</param>
    /// <param name="options">How.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="UnusableInputException">Evidence of another format, or no ballast that the airframe allows.</exception>
    public static CardDocument Run(Season season, FieldCardOptions options, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(season);
        ArgumentNullException.ThrowIfNull(options);
        SeasonModel model = season.Model;
        CardOptions choices = CardOptions.Of(model);
        AdviceGrid grid = AdviceGrid.Compute(model, choices.Options, GridNodes.Card, options.Seed, Draws, cancel);
        return CardContents.Of(model, grid, choices, options.Seed, options.Made);
    }
}

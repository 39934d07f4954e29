using ThermalTrace.Ballast;

namespace ThermalTrace.Reports.Fitting;

/// <summary>What a mass does to the model's speeds, a row for each.</summary>
/// <param name="Name">In words.</param>
/// <param name="Unit">Of the numbers.</param>
/// <param name="Of">The estimate.</param>
internal sealed record EffectRow(string Name, string Unit, Func<MassEffectEntry, Interval> Of)
{
    private static readonly EffectRow[] All =
    [
        new("Stall", "m/s", e => e.StallMps),
        new("Least sink at", "m/s", e => e.MinSinkAirspeedMps),
        new("Best glide at", "m/s", e => e.BestGlideAirspeedMps),
        new("Circle at 30° of bank, radius", "m", e => e.TurnRadius30DegM),
        new("Launch height", "m", e => e.LaunchHeightM),
    ];

    /// <summary>Those of which something is known.</summary>
    public static IReadOnlyList<EffectRow> Known(IReadOnlyList<MassEffectEntry> effects) => [.. All.Where(r => effects.Any(e => Estimate.Known(r.Of(e))))];

    /// <summary>One rounding for the row.</summary>
    public int Decimals(IReadOnlyList<MassEffectEntry> effects) => Estimate.Decimals(effects.Select(Of));

    /// <summary>"without ballast, 262 g".</summary>
    public static string Head(MassEffectEntry effect) => effect.BallastG < FittingWords.Shown ? "without ballast" : $"with {FittingWords.Grams(effect.BallastG)}";

    /// <summary>What the numbers rest on, and what is better known than they are.</summary>
    public static string Basis(IReadOnlyList<MassEffectEntry> effects)
    {
        MassEffectEntry heaviest = effects.MaxBy(e => e.BallastG)!;
        List<string> said =
        [
            effects.Any(e => e.From == "logbook")
                ? "From the model as the logbook’s flights have tuned it; the range beside a value holds the truth 9 times in 10."
                : "Predicted from the model’s geometry, no flight behind it; the range beside a value is meant to hold the truth 9 times in 10.",
        ];
        if (heaviest is { SpeedRatio: { } ratio, BallastG: >= FittingWords.Shown })
        {
            string with = Head(heaviest);
            said.Add($"Surer than any of the speeds: {with} they are about {Estimate.Number(ratio, 2)} times those without ballast.");
            if (Estimate.Known(heaviest.LaunchHeightRatio))
            {
                said.Add($"{Words.Capital(with)} a throw goes {Estimate.Plain(heaviest.LaunchHeightRatio, 2)} times as high.");
            }
        }
        said.Add(FormattableString.Invariant($"The stall is that of a clean wing with a largest lift coefficient of {MassEffects.LeastMaxCl:0.00} to {MassEffects.MostMaxCl:0.00}."));
        said.Add(heaviest.LaunchFrom switch
        {
            "logbook" => "Launch heights are those of your own launches, in a calm.",
            "usual" => "Launch heights start from what is usual, in a calm.",
            _ => "",
        });
        return string.Join(' ', said.Where(s => s.Length > 0));
    }
}

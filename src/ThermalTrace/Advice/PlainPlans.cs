using MathNet.Numerics.LinearAlgebra;

namespace ThermalTrace.Advice;

/// <summary>As many flights by plain rules, so that it is seen what choosing them brings. docs/models/plan.md.</summary>
internal static class PlainPlans
{
    private const int Random = 8; // plans by chance, averaged

    /// <summary>Covariance of the scaled terms after each of them.</summary>
    /// <param name="search">What can be flown.</param>
    /// <param name="plan">The plan they stand beside: as many flights, on as many days.</param>
    /// <param name="leading">The decision whose best is flown where one ballast is flown alone.</param>
    /// <param name="seed">Seed of the plans by chance.</param>
    public static IReadOnlyList<(string Name, Matrix<double> After)> Of(PlanSearch search, IReadOnlyList<FlightChoice>[] plan, PlanDecision leading, int seed)
    {
        int ballasts = search.Choices.Length, best = leading.Options[leading.Best];
        FlightChoice[] spread = [.. search.Choices.Select(Spread)];
        Matrix<double> With(Func<int, FlightChoice> flight)
        {
            int f = 0;
            return search.After([.. plan.Select(session => session.Select(_ => flight(f++)).ToArray())]);
        }
        System.Random random = new(seed);
        Matrix<double> chance = With(f => Any(random, search.Choices[f / 2 % ballasts]));
        for (int r = 1; r < Random; r++)
        {
            chance += With(f => Any(random, search.Choices[f / 2 % ballasts]));
        }
        return
        [
            ("every ballast in turn, slow to fast", With(f => spread[f / 2 % ballasts])),
            ("every ballast in turn, speeds by chance", chance / Random),
            ("only the ballast that leads, slow to fast", With(_ => spread[best])),
        ];
    }

    private static FlightChoice Any(System.Random random, IReadOnlyList<FlightChoice> choices) => choices[random.Next(choices.Count)];

    /// <summary>The card with the most speeds, as far apart as it has height for.</summary>
    private static FlightChoice Spread(IReadOnlyList<FlightChoice> choices) => choices
        .MaxBy(c => (c.Card.Pairs.Select(p => p.AirspeedMps).Distinct().Count(), c.Card.Pairs[^1].AirspeedMps - c.Card.Pairs[0].AirspeedMps))!;
}

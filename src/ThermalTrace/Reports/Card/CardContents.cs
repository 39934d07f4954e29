using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;

namespace ThermalTrace.Reports.Card;

/// <summary>Turns a grid of advice into the card's document.</summary>
internal static class CardContents
{
    private static readonly string[] PrintedLifts = ["weak", "middling", "strong"]; // the middles of their ranges are among the grid's lifts
    private static readonly double[] PrintedWinds = [0, 2, 4, 6, 8, 10, 12];

    /// <summary>The document.</summary>
    /// <param name="model">The season's.</param>
    /// <param name="grid">On the card's nodes.</param>
    /// <param name="choices">What the grid is of, and what was left out.</param>
    /// <param name="seed">Seed that was used.</param>
    /// <param name="made">Day, yyyy-MM-dd, or null.</param>
    public static CardDocument Of(SeasonModel model, AdviceGrid grid, CardOptions choices, int seed, string? made)
    {
        FlightFact[] flights = [.. model.Sessions.SelectMany(s => s.Evidence.Flights).Where(f => f.Counts)];
        GridNodes nodes = grid.Nodes;
        return new CardDocument
        {
            Program = DocumentBuilder.Program,
            Made = made,
            Seed = seed,
            Draws = grid.Draws,
            Airframe = DocumentBuilder.Airframe(model.Airframe),
            Model = new CardModel(model.Sessions.Count == 0 ? "prediction" : "tuned", model.Sessions.Count, flights.Length,
                model.Sessions.Select(s => s.Evidence.Date).Where(d => d is not null).Max(StringComparer.Ordinal)),
            Options = [.. grid.Options.Select(o => Option(o.Option, model, flights))],
            Turbulence = [.. ConditionWords.Turbulence.OrderBy(t => t.Value.Low).Select(t => new CardTurbulence(t.Key, t.Value.Low))],
            Lifts = [.. PrintedLifts.Select(word => new CardLift(word, ConditionWords.Lift[word].Middle))],
            PrintedWindsMps = PrintedWinds,
            Grid = new CardGrid(nodes.WindsMps, nodes.LiftsMps, nodes.Edrs,
                [.. grid.Best.Select(b => b < 0 ? (double?)null : grid.Options[b].Option.BallastG)], grid.Verdict,
                [.. Enumerable.Range(0, nodes.Cells).Select(grid.HardlyMatters)], grid.Alike,
                [.. grid.Options.Select(o => new CardOptionGrid(o.Option.BallastG, Of(o.RoundTripMps, b => b.Value), Of(o.RoundTripMps, b => b.Low), Of(o.RoundTripMps, b => b.High),
                    o.ProbabilityBest, o.ProbabilityAsGood, Of(o.ClimbMps, b => b.Value), Of(o.ClimbMps, b => b.Low), Of(o.ClimbMps, b => b.High)))],
                [.. grid.Differences.Select(d => new CardDifference(grid.Options[d.Option].Option.BallastG, grid.Options[d.Than].Option.BallastG, Of(d.Mps, b => b.Low), Of(d.Mps, b => b.High)))]),
            Cautions = Cautions(model, choices),
            Limits = LimitsOf(model),
        };
    }

    private static IReadOnlyList<double?> Of(Band[] bands, Func<Band, double> part) => [.. bands.Select(b => b.IsKnown ? part(b) : (double?)null)];

    private static CardOption Option(Option option, SeasonModel model, FlightFact[] flights)
    {
        FlightFact[] own = [.. flights.Where(f => Math.Abs(f.BallastG!.Value - option.BallastG) < TunedDrag.SameBallastG)];
        double[] winds = [.. own.Where(f => f.WindMps is not null).Select(f => f.WindMps!.Value).Order()];
        return new CardOption(option.BallastG, option.MassKg * 1000, option.MassKg * 1000 / model.Airframe.WingAreaDm2, own.Length,
            winds.Length == 0 ? [] : [winds[0], winds[^1]], Support(option, model.Drag));
    }

    /// <summary>How far an option's polar was measured: itself, between others, beyond them, or not at all.</summary>
    private static string Support(Option option, TunedDrag drag)
    {
        double[] measured = [.. drag.BallastsG.Where((_, k) => drag.Pieces[k] > 0)];
        return measured.Length == 0 ? "predicted"
            : drag.IndexOf(option.BallastG) is >= 0 and int k && drag.Pieces[k] > 0 ? "measured"
            : measured.Min() < option.BallastG && option.BallastG < measured.Max() ? "interpolated" : "extrapolated";
    }

    private static IReadOnlyList<string> Cautions(SeasonModel model, CardOptions choices)
    {
        List<string> cautions =
        [
            "More mass lands faster and hits harder.",
            "Beyond the height to come home, land out. No low turns downwind.",
        ];
        if (choices.TooHeavyG.Count > 0)
        {
            cautions.Add($"Left out, above the limit of {Words.Grams(model.Airframe.MaxFlyingMassG!.Value)} flying mass: {string.Join(", ", choices.TooHeavyG.Select(Words.Grams))}.");
        }
        if (choices.UnbalancedG.Count > 0)
        {
            cautions.Add($"Left out, outside the limits of balance: {string.Join(", ", choices.UnbalancedG.Select(Words.Grams))}.");
        }
        if (model.Airframe.MaxFlyingMassG is null)
        {
            cautions.Add($"No limit of flying mass is known; nothing above {Words.Grams(Math.Round(choices.Options.Max(o => o.MassKg) * 1000, 1))} is suggested. Look up the maker's limit.");
        }
        return cautions;
    }

    private static IReadOnlyList<string> LimitsOf(SeasonModel model)
    {
        List<string> limits =
        [
            "The wind is meant at flying height; at head height over grass little more than half of it is felt.",
            "Air that sinks on the way home, slope, trees and the room to land are not in the numbers.",
        ];
        if (model.Sessions.Count == 0)
        {
            limits.Insert(0, "No session stands behind this card: it is physics from the model's geometry alone.");
        }
        else if (model.Drag.Pieces.All(p => p == 0))
        {
            limits.Insert(0, "No session measured this model's polar: it is physics from the model's geometry.");
        }
        return limits;
    }
}

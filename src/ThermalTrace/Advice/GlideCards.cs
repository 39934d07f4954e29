using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Advice;

/// <summary>A pair of legs on one line, out and back, at one speed.</summary>
/// <param name="AirspeedMps">m/s at sea-level density.</param>
/// <param name="SecondsEach">Each leg.</param>
/// <param name="HeightM">That both and their turns cost in still air, m.</param>
internal sealed record LegPair(double AirspeedMps, double SecondsEach, double HeightM);

/// <summary>The pairs of one flight, slowest first.</summary>
internal sealed record GlideCard(IReadOnlyList<LegPair> Pairs)
{
    /// <summary>Gliding time, s.</summary>
    public double Seconds => Pairs.Sum(p => 2 * p.SecondsEach);

    /// <summary>As legs, out and back along the wind.</summary>
    public IReadOnlyList<PlannedLeg> Legs => [.. Pairs.SelectMany(p => new[] { new PlannedLeg(p.AirspeedMps, p.SecondsEach, 0), new PlannedLeg(p.AirspeedMps, p.SecondsEach, Math.PI) })];
}

/// <summary>
/// The cards that a flight of one ballast has the height for: speeds that a pilot can trim for, legs that end before the model is too
/// far to be flown by eye. docs/models/plan.md.
/// </summary>
internal static class GlideCards
{
    // All common practice, no source.
    private const double SlowCl = 0.85, FastCl = 0.17;       // from near the stall to as fast as a steady glide is held low down
    private const int Speeds = 6, MostPairs = 3;
    private static readonly double[] LegsS = [20, 16, 12];
    private const double LegSpans = 150;                     // a leg longer than so many spans takes the model out of sight
    private const double RoundMps = 0.5;                     // nobody holds a speed closer
    private const double HeightForLegs = 0.75;               // of the launch: the rest is for trimming out and for the landing
    private const double TurnsS = 8, TurnSink = 1.5;         // for a pair: two half circles at half as much sink again

    /// <summary>Every card that cannot take another pair; at least one.</summary>
    /// <param name="glides">Sink.</param>
    /// <param name="planform">Geometry.</param>
    /// <param name="option">The ballast.</param>
    /// <param name="launchHeightM">Height when its launch ends, m.</param>
    /// <param name="spanM">Wing span, m.</param>
    public static IReadOnlyList<GlideCard> For(GlideInformation glides, Planform planform, Option option, double launchHeightM, double spanM)
    {
        double slow = planform.AirspeedMps(SlowCl, option.MassKg), fast = planform.AirspeedMps(FastCl, option.MassKg), height = HeightForLegs * launchHeightM;
        List<LegPair> pairs = [];
        foreach (double v in Enumerable.Range(0, Speeds).Select(i => Math.Round((slow + (fast - slow) * i / (Speeds - 1)) / RoundMps) * RoundMps).Distinct())
        {
            double sink = glides.SinkMps(v, option.MassKg, option.Ballast);
            LegPair[] possible = [.. LegsS.Select(s => new LegPair(v, s, sink * (2 * s + TurnSink * TurnsS)))];
            // The longest leg that is seen and leaves height for a second pair; else the longest that fits at all.
            LegPair? Longest(double within) => possible.FirstOrDefault(p => p.HeightM <= within && v * p.SecondsEach <= LegSpans * spanM);
            if ((Longest(height / 2) ?? Longest(height)) is { } pair)
            {
                pairs.Add(pair);
            }
        }
        if (pairs.Count == 0)
        {
            // A model that comes down before any pair is done: one short pair, slow.
            double v = Math.Round(slow / RoundMps) * RoundMps;
            return [new GlideCard([new LegPair(v, LegsS[^1], glides.SinkMps(v, option.MassKg, option.Ballast) * (2 * LegsS[^1] + TurnSink * TurnsS))])];
        }
        List<GlideCard> cards = [];
        void Add(List<LegPair> taken, int from, double left)
        {
            bool full = taken.Count == MostPairs || pairs.All(p => p.HeightM > left);
            if (full && taken.Count > 0)
            {
                cards.Add(new GlideCard([.. taken]));
                return;
            }
            for (int i = from; i < pairs.Count; i++)
            {
                if (pairs[i].HeightM <= left)
                {
                    taken.Add(pairs[i]);
                    Add(taken, i, left - pairs[i].HeightM);
                    taken.RemoveAt(taken.Count - 1);
                }
            }
        }
        Add([], 0, height);
        // A card to which a slower pair could be added again was not finished above: it is found from that slower pair's own branch.
        return cards;
    }
}

using System.Globalization;
using ThermalTrace.Advice;
using ThermalTrace.Decisions;

namespace ThermalTrace.Reports;

/// <summary>Why one ballast is suggested, in a sentence or two, for people.</summary>
internal static class SuggestionSentences
{
    private const double Worth = 0.02; // m/s: a loss that is worth a word

    /// <summary>What is gained over none, where heavier stops paying, and whether the lift pays at all.</summary>
    public static string Why(Advised advised)
    {
        ComparisonOutcome comparison = advised.Comparison;
        if (comparison.Best < 0)
        {
            return advised.Choices.All.All(c => !c.Option.Allowed)
                ? "No ballast may be fitted: every one is above the mass limit or outside the balance limits."
                : "The wind is faster than the model flies, with any ballast.";
        }
        OptionAdvice best = advised.Options[comparison.Best];
        int[] allowed = [.. Enumerable.Range(0, advised.Options.Count).Where(k => advised.Options[k].Choice.Option.Allowed)];
        if (allowed.Length < 2)
        {
            return $"{Words.Capital(Mass(best))} is all that may be fitted, so there is nothing to compare it with.";
        }
        // Against the lightest; and where that is the best itself, against the heaviest.
        int other = comparison.Best == allowed[0] ? allowed[^1] : allowed[0];
        string where = comparison.RoundTrip ? $"against {Speeds(advised.Air.Draws.Select(d => d.WindMps), advised.Asked.WindHeightM is null ? advised.Asked.WindMps : null)}" : "in still air";
        string gain = comparison.RoundTrip ? ClimbGain(best, advised.Options[other]) : TimeGain(best, advised.Options[other]);
        string sentence = $"{Words.Capital(Mass(best))}: {gain} than {Mass(advised.Options[other])} {where}";
        string beyond = comparison.RoundTrip ? Beyond(advised, allowed) : "";
        string loss = comparison.RoundTrip && best.Outcome.RoundTripMps.Value < -Comparison.FeltMps
            ? Text($" Even so height is lost, {-best.Outcome.RoundTripMps.Value:0.00} m/s ({-best.Outcome.RoundTripMps.High:0.00} to {-best.Outcome.RoundTripMps.Low:0.00}): this lift does not pay for being carried off by this wind.")
            : "";
        return sentence + (beyond.Length > 0 ? "; " + beyond : "") + "." + loss;
    }

    /// <summary>Every change of ballast in a sentence.</summary>
    public static IEnumerable<string> Switches(SuggestionDocument document)
    {
        foreach (SwitchPointEntry point in document.SwitchPoints)
        {
            string bounds = point is { AtMpsLow: { } low, AtMpsHigh: { } high } ? Text($" ({low:0.0} to {high:0.0})")
                : point.AtMpsLow is { } least ? Text($" (or anywhere above {least:0.0})")
                : point.AtMpsHigh is { } most ? Text($" (or anywhere below {most:0.0})")
                : " (or anywhere)";
            // A pilot who reads the wind at head height will see it pass there.
            string read = point.Condition == "wind" && document.Conditions is { WindReadMps: { } seen, WindMps: > 0 and { } above, WindReadHeightM: { } height }
                ? Text($"; that is about {point.AtMps * seen / above:0.0} m/s read at {height:0.#} m")
                : "";
            yield return Text($"Change from {Grams(point.FromG)} to {Grams(point.ToG)} when the {point.Condition} passes {point.AtMps:0.0} m/s{bounds}{read}.");
        }
    }

    /// <summary>Where the climb is lost, or what the heaviest costs.</summary>
    private static string Beyond(Advised advised, int[] allowed)
    {
        int best = advised.Comparison.Best;
        for (int i = Array.IndexOf(allowed, best); i + 1 < allowed.Length; i++)
        {
            OptionOutcome here = advised.Options[allowed[i]].Outcome, next = advised.Options[allowed[i + 1]].Outcome;
            if (here.ClimbMps.Value > 0 && next.ClimbMps.Value <= 0)
            {
                double at = here.Option.BallastG + (next.Option.BallastG - here.Option.BallastG) * here.ClimbMps.Value / (here.ClimbMps.Value - next.ClimbMps.Value);
                return Text($"above {at:0} g the climb in this lift is lost");
            }
        }
        double cost = advised.Options[best].Outcome.RoundTripMps.Value - advised.Options[allowed[^1]].Outcome.RoundTripMps.Value;
        return best != allowed[0] && best != allowed[^1] && cost > Worth
            ? Text($"{Mass(advised.Options[allowed[^1]])} is {cost:0.00} m/s worse")
            : "";
    }

    private static string ClimbGain(OptionAdvice best, OptionAdvice other)
    {
        if (!other.Outcome.RoundTripMps.IsKnown)
        {
            return "makes way at all, which is more";
        }
        Band gain = Band.Of(best.Outcome.RoundTripDrawsMps.Zip(other.Outcome.RoundTripDrawsMps, (a, b) => a - b));
        return gain.Value < 0.005 ? "hardly better" : Text($"{gain.Value:0.00} m/s ({gain.Low:0.00} to {gain.High:0.00}) better");
    }

    private static string TimeGain(OptionAdvice best, OptionAdvice other)
    {
        Band gain = Band.Of(best.Outcome.StillAirDrawsS.Zip(other.Outcome.StillAirDrawsS, (a, b) => a - b));
        return !(gain.Value >= 0.5) ? "hardly longer aloft" : Text($"{gain.Value:0} s ({gain.Low:0} to {gain.High:0}) longer aloft");
    }

    private static string Mass(OptionAdvice advice) => advice.Choice.Option.BallastG == 0 ? "no ballast" : Grams(advice.Choice.Option.BallastG);

    /// <summary>Pieces add up to tenths; a pilot weighs whole grams.</summary>
    internal static string Grams(double ballastG) => ballastG == 0 ? "none" : Words.Grams(Math.Round(ballastG, 1));

    /// <summary>A range that was asked, or what a reading leaves open.</summary>
    private static string Speeds(IEnumerable<double> draws, AskedRange? asked)
    {
        Band band = Band.Of(draws);
        (double low, double high) = asked is { } range ? (range.Low, range.High) : (band.Low, band.High);
        return low == high ? Text($"{low:0.#} m/s") : Text($"{low:0.#} to {high:0.#} m/s");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

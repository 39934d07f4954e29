using System.Globalization;

namespace ThermalTrace.Reports;

/// <summary>Lines under a heading.</summary>
/// <param name="Head">Without its colon.</param>
/// <param name="Lines">Sentences.</param>
/// <param name="None">What is said in place of both where there is no line; empty for nothing.</param>
internal sealed record SuggestionList(string Head, IReadOnlyList<string> Lines, string None = "");

/// <summary>Advice in words, the same on a terminal and in a page.</summary>
internal static class SuggestionWords
{
    private const int MostRows = 9; // more scroll the answer off a phone
    private const double Wide = 20;         // grams: a range as wide as that is told to five
    private const double FeltChance = 0.02; // a difference that is worth a word; common practice, no source

    /// <summary>When another ballast would be better, where lift can be reached, and when the model changed.</summary>
    public static IEnumerable<SuggestionList> BeforeLearned(SuggestionDocument document)
    {
        SuggestedOptionEntry? best = Suggested(document);
        yield return new SuggestionList("When to change", best is null ? [] : [.. SuggestionSentences.Switches(document)],
            document.SwitchPoints.Count == 0 && document.Measure == "round_trip_climb" && document.Options.Count(o => o.Allowed) > 1
                ? "No change of ballast would be felt in winds up to 15 m/s, or in lift up to 5 m/s." : "");
        yield return new SuggestionList("Reach for lift", best is null ? [] : [.. best.Reach.Select(r => Reach(r, document.Conditions))]);
        yield return new SuggestionList("The model has changed", [.. document.Model.Changes.Select(c => $"{Changed(c)}; the advice is for the model as it is now.")]);
    }

    /// <summary>What to mind, and what the answer could not know.</summary>
    public static IEnumerable<SuggestionList> AfterLearned(SuggestionDocument document) =>
        [new SuggestionList("Mind", document.Cautions), new SuggestionList("What this could not know", document.Limits)];

    /// <summary>From when on, and by how much; without a full stop.</summary>
    public static string Changed(ModelChangeEntry change)
    {
        string since = change.Since is { } day ? "Since " + DateOnly.ParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture).ToString("d MMMM yyyy", CultureInfo.InvariantCulture) : $"Since session {change.Session}";
        (double share, double low, double high) = (change.SinkShare.Value!.Value, change.SinkShare.Low!.Value, change.SinkShare.High!.Value);
        string by = share > 0 ? Text($"{100 * share:0} % more ({100 * low:0} to {100 * high:0})") : Text($"{-100 * share:0} % less ({-100 * high:0} to {-100 * low:0})");
        return $"{since} it sinks {by}";
    }

    /// <summary>The option suggested; null where none is.</summary>
    public static SuggestedOptionEntry? Suggested(SuggestionDocument document) => document.Options.FirstOrDefault(o => o.BallastG == document.SuggestedBallastG);

    /// <summary>The answer in a line, beginning small.</summary>
    public static string Answer(SuggestionDocument document)
    {
        if (document.SuggestedBallastG is not { } ballast)
        {
            return "no suggestion.";
        }
        string range = Around(document) is (double low, double high)
            ? low < 0.5 ? Text($"; anything up to {high:0} g does as well") : Text($"; anything from {low:0} to {high:0} g does as well")
            : "";
        string choice = ballast == 0 ? "fly without ballast" : $"fit {SuggestionSentences.Grams(ballast)}";
        return choice + range + ".";
    }

    /// <summary>The range that does as well, drawn in to masses that one would name; null where it holds the suggestion alone.</summary>
    private static (double LowG, double HighG)? Around(SuggestionDocument document)
    {
        if (document.SuggestedRangeG is not [double low, double high] || document.SuggestedBallastG is not { } ballast)
        {
            return null;
        }
        double step = high - low >= Wide ? 5 : 1;
        // The suggestion itself and a bound that is as listed stay as they are.
        double Bound(double boundG, Func<double, double> inward) => boundG == ballast || document.Options.Any(o => o.BallastG == boundG) ? boundG : inward(boundG / step) * step;
        (low, high) = (Math.Min(Bound(low, Math.Ceiling), ballast), Math.Max(Bound(high, Math.Floor), ballast));
        return high - low >= 1 ? (low, high) : null;
    }

    /// <summary>The chance of making the time, and whether another ballast would be likelier to.</summary>
    public static string Chance(SuggestionDocument document)
    {
        if (document.Conditions.TimeS is not { } time || Suggested(document) is not { Chance: { Value: { } own } chance })
        {
            return "";
        }
        SuggestedOptionEntry likeliest = document.Options.Where(o => o.Allowed && o.Chance.Value is not null).MaxBy(o => o.Chance.Value)!;
        string other = likeliest.Chance.Value - own > FeltChance ? $"; {Words.Ballast(Math.Round(likeliest.BallastG, 1))} is likelier to, {Words.Percent(likeliest.Chance.Value!.Value)}" : "";
        string aim = time % 60 == 0 ? Text($"{time / 60:0} min") : Words.Duration(time);
        return $"Chance of making {aim}: {Words.Percent(own)} ({Words.Percent(chance.Low!.Value)} to {Words.Percent(chance.High!.Value)}){other}.";
    }

    /// <summary>How sure it is and what it rests on.</summary>
    public static string Sureness(SuggestionDocument document)
    {
        string rests = document.Support switch
        {
            "measured" => "It rests on flights in air like this.",
            "interpolated" => "It rests on flights with lighter and heavier ballast in air like this.",
            "extrapolated" => "It rests on flights with other ballast in air like this.",
            _ when document.Model.Flights == 0 => "It rests on the model's geometry alone.",
            _ => "In air like this it rests on physics.",
        };
        string odds = Suggested(document)?.ProbabilityBest is { } p ? $": {Words.Odds(p)} that it is the best of all" : "";
        return document.Verdict switch
        {
            "clear" => "This is clear: best, or so close to it that nobody could feel the difference, with more than 9 chances in 10. " + rests,
            "no_difference" => "It hardly matters: no two ballasts differ by more than anybody could feel. " + rests,
            "leaning" => $"This leans one way and is not settled{odds}. " + rests,
            _ => rests,
        };
    }

    /// <summary>The conditions as they were taken.</summary>
    public static string Conditions(SuggestionConditionsEntry c)
    {
        string read = c.WindReadMps is { } wind ? Text($" at {c.FlyingHeightM:0} m (from {wind:0.#} m/s read at {c.WindReadHeightM:0.#} m)") : "";
        string lift = c.LiftMps == 0 && c.ClimbSeenMps is null ? "no lift"
            : c.ClimbSeenMps is { } seen ? Text($"lift at the core {Range(c.LiftMps, c.LiftMpsLow, c.LiftMpsHigh)} m/s (from a climb of {seen:0.#} m/s with {SuggestionSentences.Grams(c.ClimbSeenWithG ?? 0)})")
            : $"lift at the core {Range(c.LiftMps, c.LiftMpsLow, c.LiftMpsHigh)} m/s";
        return $"wind {Range(c.WindMps, c.WindMpsLow, c.WindMpsHigh)} m/s{read}, {lift}, turbulence {Range(c.Edr, c.EdrLow, c.EdrHigh, "0.00")} m^(2/3)/s"
            + Text($", air density {c.AirDensityKgM3:0.00} kg/m3.");
    }

    private static string Range(double value, double low, double high, string format = "0.#") => low == high
        ? value.ToString(format, CultureInfo.InvariantCulture)
        : $"{low.ToString(format, CultureInfo.InvariantCulture)} to {high.ToString(format, CultureInfo.InvariantCulture)}";

    private static string Reach(ReachEntry reach, SuggestionConditionsEntry c)
    {
        string arrival = Estimate.Known(reach.ArrivalHeightM) ? $"{Estimate.Plain(reach.ArrivalHeightM, 0)} m up" : "at an unknown height";
        return Estimate.Known(reach.NetGainM)
            ? Text($"{reach.DistanceM:0} m off: flown to at {reach.AirspeedMps:0.0} m/s, {Estimate.Plain(reach.NetGainM, 0)} m gained {reach.WithinS / 60:0} min after setting off; flown slower it arrives {arrival}.")
            : Text($"{reach.DistanceM:0} m off: cannot be counted on to arrive above {c.ArriveM:0} m; at best it arrives {arrival}.");
    }

    /// <summary>All where they are few; else what is listed and the one suggested.</summary>
    public static IEnumerable<SuggestedOptionEntry> Shown(SuggestionDocument document) => document.Options.Count <= MostRows ? document.Options
        : document.Options.Where(o => o.Listed || o.BallastG == document.SuggestedBallastG);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

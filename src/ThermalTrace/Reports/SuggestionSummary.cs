using System.Globalization;
using System.Text;
using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Reports;

/// <summary>Advice on a terminal: plain text without colour, lines no longer than the width.</summary>
public static class SuggestionSummary
{
    private const int MostRows = 9; // more scroll the answer off a phone
    private const double Wide = 20;         // grams: a range as wide as that is told to five
    private const double FeltChance = 0.02; // a difference that is worth a word; common practice, no source

    /// <summary>The summary, lines ended by LF.</summary>
    /// <param name="document">The advice.</param>
    /// <param name="width">Columns of the terminal; taken as at least 40 and at most 100.</param>
    public static string Write(SuggestionDocument document, int width)
    {
        int columns = Math.Clamp(width, 40, 100);
        StringBuilder text = new();
        void Say(string paragraph, string hanging = "") => PlainSummary.Paragraph(text, PlainSummary.Together(Words.Tame(paragraph)), columns, hanging);
        Say($"{document.Airframe.Name}: {Answer(document)}");
        bool suggested = Suggested(document) is not null;
        if (suggested)
        {
            Say(Sureness(document));
        }
        if (document.Fitting is { } fitting)
        {
            Say(string.Join(' ', [Phrase.Plain(FittingWords.Line(fitting)), .. fitting.AsWished ? [] : fitting.Cautions]));
        }
        Say(document.Why);
        Say(Chance(document));
        text.Append('\n');
        Say("Conditions: " + Conditions(document.Conditions));
        text.Append('\n');
        Table(text, document, columns);
        Listed(suggested ? [.. SuggestionSentences.Switches(document)] : [], "When to change:", document.SwitchPoints.Count == 0 && document.Measure == "round_trip_climb" && document.Options.Count(o => o.Allowed) > 1
            ? "No change of ballast would be felt in winds up to 15 m/s, or in lift up to 5 m/s." : "");
        if (Suggested(document) is { } best)
        {
            Listed([.. best.Reach.Select(r => Reach(r, document.Conditions))], "Reach for lift:", "");
        }
        Listed([.. document.Model.Changes.Select(Changed)], "The model has changed:", "");
        if (document.Model.Sessions > 0)
        {
            text.Append('\n');
            Say(document.Model.Learned);
        }
        Listed(document.Cautions, "Mind:", "");
        Listed(document.Limits, "What this could not know:", "");
        return text.ToString();

        void Listed(IReadOnlyList<string> lines, string head, string none)
        {
            if (lines.Count == 0 && none.Length == 0)
            {
                return;
            }
            text.Append('\n');
            Say(lines.Count == 0 ? none : head);
            foreach (string line in lines)
            {
                Say("- " + line, "  ");
            }
        }
    }

    private static string Changed(ModelChangeEntry change)
    {
        string since = change.Since is { } day ? "Since " + DateOnly.ParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture).ToString("d MMMM yyyy", CultureInfo.InvariantCulture) : $"Since session {change.Session}";
        (double share, double low, double high) = (change.SinkShare.Value!.Value, change.SinkShare.Low!.Value, change.SinkShare.High!.Value);
        string by = share > 0 ? Text($"{100 * share:0} % more ({100 * low:0} to {100 * high:0})") : Text($"{-100 * share:0} % less ({-100 * high:0} to {-100 * low:0})");
        return $"{since} it sinks {by}; the advice is for the model as it is now.";
    }

    private static SuggestedOptionEntry? Suggested(SuggestionDocument document) => document.Options.FirstOrDefault(o => o.BallastG == document.SuggestedBallastG);

    private static string Answer(SuggestionDocument document)
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
    private static string Chance(SuggestionDocument document)
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

    private static string Sureness(SuggestionDocument document)
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

    private static string Conditions(SuggestionConditionsEntry c)
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

    private static void Table(StringBuilder text, SuggestionDocument document, int columns)
    {
        bool trips = document.Measure == "round_trip_climb", timed = document.Options.Any(o => Estimate.Known(o.Chance));
        SuggestedOptionEntry[] shown = [.. Shown(document)];
        int Decimals(Func<SuggestedOptionEntry, Interval> of) => Estimate.Decimals(shown.Select(of));
        int net = Math.Max(Decimals(o => o.RoundTripClimbMps), 2), aloft = Decimals(o => o.StillAirTimeS), home = Decimals(o => o.ReturnHeightMPer100M), ride = Decimals(o => o.LoadFactorRms);
        List<(string Head, Func<SuggestedOptionEntry, string> Cell)> table = [("", o => o.BallastG == document.SuggestedBallastG ? ">" : o.Allowed ? "" : "x"), ("ballast", o => SuggestionSentences.Grams(o.BallastG))];
        if (trips)
        {
            table.Add(("net climb|m/s", o => Estimate.Plain(o.RoundTripClimbMps, net)));
            table.Add(("climb|m/s", o => Value(o.ClimbMps, 2)));
            table.Add(("home|m/s", o => o.ReturnAirspeedMps is { } v ? Estimate.Number(v, 1) : "-"));
        }
        table.Add(("m per|100 m", o => Value(o.ReturnHeightMPer100M, home)));
        table.Add(("still|air s", o => trips ? Value(o.StillAirTimeS, aloft) : Estimate.Plain(o.StillAirTimeS, aloft)));
        table.Add(("ride|g", o => Value(o.LoadFactorRms, ride)));
        if (timed)
        {
            table.Add(("in|time", o => o.Chance.Value is { } chance ? Words.Percent(chance) : "-"));
        }
        table.Add(("best", o => o.ProbabilityBest is { } p ? Words.Percent(p) : "-"));
        table.Add(("rests on", o => o.Allowed ? o.FlownInOtherAir ? "physics" : Words.Support(o.Support) : o.NotAllowed == "balance" ? "balance!" : "too heavy"));
        // Columns that do not fit are left to the document, the last first, but never what decides.
        while (table.Count > 4 && Width(table, shown) > columns)
        {
            table.RemoveAt(table.FindLastIndex(c => c.Head is not "best" and not "in|time"));
        }
        int[] widths = [.. table.Select(c => Math.Max(HeadWidth(c.Head), shown.Max(o => c.Cell(o).Length)))];
        Row([.. table.Select(c => c.Head.Contains('|', StringComparison.Ordinal) ? c.Head.Split('|')[0] : "")]);
        Row([.. table.Select(c => c.Head.Split('|')[^1])]);
        foreach (SuggestedOptionEntry option in shown)
        {
            Row([.. table.Select(c => c.Cell(option))]);
        }
        if (shown.Length < document.Options.Count)
        {
            PlainSummary.Paragraph(text, $"({Words.Plural(document.Options.Count - shown.Length, "more mass", "more masses")} that the pieces make: --json lists them all.)", columns);
        }

        void Row(string[] cells) => text.Append(string.Join("  ", cells.Select((cell, i) => table[i].Head == "rests on" ? cell : cell.PadLeft(widths[i]))).TrimEnd()).Append('\n');
    }

    private static int Width(List<(string Head, Func<SuggestedOptionEntry, string> Cell)> table, SuggestedOptionEntry[] shown) =>
        table.Sum(c => Math.Max(HeadWidth(c.Head), shown.Max(o => c.Cell(o).Length)) + 2) - 2;

    private static int HeadWidth(string head) => head.Split('|').Max(line => line.Length);

    /// <summary>All where they are few; else what is listed and the one suggested.</summary>
    private static IEnumerable<SuggestedOptionEntry> Shown(SuggestionDocument document) => document.Options.Count <= MostRows ? document.Options
        : document.Options.Where(o => o.Listed || o.BallastG == document.SuggestedBallastG);

    private static string Value(Interval interval, int decimals) => interval.Value is { } value ? Estimate.Number(value, decimals) : "-";

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

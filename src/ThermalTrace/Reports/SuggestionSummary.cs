using System.Text;
using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Reports;

/// <summary>Advice on a terminal: plain text without colour, lines no longer than the width.</summary>
public static class SuggestionSummary
{
    /// <summary>The summary, lines ended by LF.</summary>
    /// <param name="document">The advice.</param>
    /// <param name="width">Columns of the terminal; taken as at least 40 and at most 100.</param>
    public static string Write(SuggestionDocument document, int width)
    {
        int columns = Math.Clamp(width, 40, 100);
        StringBuilder text = new();
        void Say(string paragraph, string hanging = "") => PlainSummary.Paragraph(text, PlainSummary.Together(Words.Tame(paragraph)), columns, hanging);
        Say($"{document.Airframe.Name}: {SuggestionWords.Answer(document)}");
        if (SuggestionWords.Suggested(document) is not null)
        {
            Say(SuggestionWords.Sureness(document));
        }
        if (document.Fitting is { } fitting)
        {
            Say(string.Join(' ', [Phrase.Plain(FittingWords.Line(fitting)), .. fitting.AsWished ? [] : fitting.Cautions]));
        }
        Say(document.Why);
        Say(SuggestionWords.Chance(document));
        text.Append('\n');
        Say("Conditions: " + SuggestionWords.Conditions(document.Conditions));
        text.Append('\n');
        Table(text, document, columns);
        foreach (SuggestionList list in SuggestionWords.BeforeLearned(document))
        {
            Listed(list);
        }
        if (document.Model.Sessions > 0)
        {
            text.Append('\n');
            Say(document.Model.Learned);
        }
        foreach (SuggestionList list in SuggestionWords.AfterLearned(document))
        {
            Listed(list);
        }
        return text.ToString();

        void Listed(SuggestionList list)
        {
            if (list.Lines.Count == 0 && list.None.Length == 0)
            {
                return;
            }
            text.Append('\n');
            Say(list.Lines.Count == 0 ? list.None : list.Head + ":");
            foreach (string line in list.Lines)
            {
                Say("- " + line, "  ");
            }
        }
    }

    private static void Table(StringBuilder text, SuggestionDocument document, int columns)
    {
        bool trips = document.Measure == "round_trip_climb", timed = document.Options.Any(o => Estimate.Known(o.Chance));
        SuggestedOptionEntry[] shown = [.. SuggestionWords.Shown(document)];
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

    private static string Value(Interval interval, int decimals) => interval.Value is { } value ? Estimate.Number(value, decimals) : "-";
}

using ThermalTrace.Reports.Fitting;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports;

/// <summary>Advice as part of a page: the same words as on the terminal, the options with all their bands.</summary>
public static class SuggestionSection
{
    /// <summary>Markup that is safe to put into a page as it stands; headings begin at the third level.</summary>
    public static string Write(SuggestionDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return Html.Of($"""
            <div class="suggestion">
            <h3 class="suggested">{Words.Capital(SuggestionWords.Answer(document))}</h3>
            {(SuggestionWords.Suggested(document) is null ? Html.Empty : Paragraph("certainty", SuggestionWords.Sureness(document)))}
            {Fit(document)}
            {Paragraph("why", document.Why)}
            {Paragraph("chance", SuggestionWords.Chance(document))}
            {Paragraph("remark", "Conditions: " + SuggestionWords.Conditions(document.Conditions))}
            {Options(document)}
            {Html.Join(SuggestionWords.BeforeLearned(document).Select(Listed))}
            {(document.Model.Sessions > 0 ? Paragraph("learned", document.Model.Learned) : Html.Empty)}
            {Html.Join(SuggestionWords.AfterLearned(document).Select(Listed))}
            </div>
            """).Source;
    }

    private static Html Paragraph(string kind, string text) => text.Length == 0 ? Html.Empty : Html.Of($"<p class=\"{kind}\">{Said(text)}</p>");

    private static string Said(string text) => OptionNames.AsFields(Words.Tame(text));

    private static Html Fit(SuggestionDocument document) => document.Fitting is not { } fitting ? Html.Empty : Html.Of(
        $"<p class=\"fit\">{Phrase.Marked(FittingWords.Line(fitting))}{(fitting.AsWished ? Html.Empty : Html.Of($" {Words.Tame(string.Join(' ', fitting.Cautions))}"))}</p>");

    private static Html Listed(SuggestionList list) => list.Lines.Count == 0 ? Paragraph("none-felt", list.None) : Html.Of($"""
        <h4>{list.Head}</h4>
        <ul>{Html.Join(list.Lines.Select(l => Html.Of($"<li>{Said(l)}</li>")))}</ul>
        """);

    private static Html Options(SuggestionDocument document)
    {
        bool trips = document.Measure == "round_trip_climb", timed = document.Options.Any(o => Estimate.Known(o.Chance));
        SuggestedOptionEntry[] shown = [.. SuggestionWords.Shown(document)];
        List<(Html Head, Func<SuggestedOptionEntry, Html> Cell)> columns = [(Parts.Head("Ballast"), o => Name(document, o))];
        void Band(string name, string unit, Func<SuggestedOptionEntry, Interval> of, int least = 0)
        {
            int decimals = Math.Max(Estimate.Decimals(shown.Select(of)), least);
            columns.Add((Parts.Head(name, unit), o => Parts.Estimated(of(o), decimals)));
        }
        if (trips)
        {
            Band("Net climb after coming home", "m/s", o => o.RoundTripClimbMps, 2);
            Band("Climb", "m/s", o => o.ClimbMps, 2);
            columns.Add((Parts.Head("Speed home", "m/s"), o => o.ReturnAirspeedMps is { } v ? Html.Of($"{Parts.Number(v, 1)}") : Html.Of($"{Parts.Dash}")));
        }
        Band("Height for 100 m home", "m", o => o.ReturnHeightMPer100M);
        Band("Time aloft in still air", "s", o => o.StillAirTimeS);
        Band("Ride", "g", o => o.LoadFactorRms);
        if (timed)
        {
            columns.Add((Parts.Head("Makes the time"), o => o.Chance.Value is { } chance ? Html.Of($"{Words.Percent(chance)}") : Html.Of($"{Parts.Dash}")));
        }
        columns.Add((Parts.Head("Chance of being best"), o => o.ProbabilityBest is { } p ? Html.Of($"{Words.Percent(p)}") : Html.Of($"{Parts.Dash}")));
        columns.Add((Parts.Head("Rests on"), o => Html.Of($"{Rests(o)}")));
        int more = document.Options.Count - shown.Length;
        return Html.Of($"""
            {Parts.Table("The options, each figure with its 90 % interval", columns.Select(c => c.Head),
            shown.Select(o => (o.BallastG == document.SuggestedBallastG, (IReadOnlyList<Html>)[.. columns.Select(c => c.Cell(o))])))}
            {(more > 0 ? Paragraph("remark", $"{Words.Plural(more, "more mass", "more masses")} that the pieces make {(more == 1 ? "is" : "are")} not shown.") : Html.Empty)}
            """);
    }

    private static Html Name(SuggestionDocument document, SuggestedOptionEntry option) =>
        Html.Of($"{SuggestionSentences.Grams(option.BallastG)}{(option.BallastG == document.SuggestedBallastG ? Html.Of($" <span class=\"tag\">suggested</span>") : Html.Empty)}");

    private static string Rests(SuggestedOptionEntry option) => option.Allowed ? option.FlownInOtherAir ? "physics" : Words.Support(option.Support)
        : option.NotAllowed == "balance" ? "outside the balance limits" : "above the mass limit";
}

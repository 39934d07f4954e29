using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Reports.Page;

/// <summary>Which pieces make the ballast that came out ahead, and where they lie; the other choices in a table.</summary>
internal static class FitSection
{
    public static Html Write(ResultsDocument doc)
    {
        if (doc.Fittings is not { } fittings)
        {
            return Html.Empty;
        }
        FittingEntry? best = doc.Comparison.BestBallastG is { } mass ? fittings.Options.FirstOrDefault(f => Math.Abs((f.BallastAskedG ?? f.BallastG ?? double.NaN) - mass) < FittingWords.Shown) : null;
        Html answer = best is null ? Html.Empty : Html.Of($"""
            <p class="fit">{Phrase.Marked(FittingWords.Headline(best))}.{(!best.AsWished ? Html.Of($" {Words.Tame(string.Join(" ", best.Cautions))}") : Html.Empty)}</p>
            {FittingTables.Drawing(best, fittings.Tube, fittings.BareCgMm, "fit", TubeDrawing.ReportPaperMm)}
            {FittingTables.Places(best, fittings.Tube, fittings.BareCgMm, TubeDrawing.ReportPaperMm)}
            {FittingTables.Totals(best, doc.Airframe, fittings.BareCgMm, fittings.CgLimitsMm)}
            """);
        string[] cautions = [.. (best is null ? fittings.Options : best.AsWished ? [best] : []).SelectMany(f => f.Cautions).Distinct()];
        Html mind = cautions.Length == 0 ? Html.Empty : Html.Of($"<p class=\"caution\"><b>Mind.</b> {Words.Tame(string.Join(" ", cautions))}</p>");
        return Parts.Section("fit", "Fit it", Html.Of($"{answer}{Others(fittings, best)}{mind}"));
    }

    private static Html Others(FittingsEntry fittings, FittingEntry? best)
    {
        FittingEntry[] others = [.. fittings.Options.Where(f => f != best && f.Pieces.Count > 0)];
        return others.Length == 0 ? Html.Empty : Parts.Table(best is null ? "How to fit each choice" : "How to fit the other choices",
            [Parts.Head("Ballast"), Parts.Head("Pieces, from the front"), Parts.Head("Spacers, front and rear", "mm"), Parts.Head("CG moves", "mm")],
            others.Select(f => (false, (IReadOnlyList<Html>)
            [
                Html.Of($"{Words.Grams(Math.Round(f.BallastAskedG ?? f.BallastG ?? 0, 1))}{(f is { BallastAskedG: { } asked, BallastG: { } got } && Math.Abs(asked - got) >= FittingWords.Shown ? Html.Of($" <span class=\"iv\">({FittingWords.Grams(got)})</span>") : Html.Empty)}"),
                Html.Join(PieceRun.InOrder(f.Pieces).Select((r, i) => Html.Of($"{(i > 0 ? ", " : "")}<span class=\"name\">{Phrase.Marked(r.Counted())}</span>"))),
                f is { SpacerFrontMm: { } front, SpacerRearMm: { } rear } ? Html.Of($"{Estimate.Number(front, 1)} / {Estimate.Number(rear, 1)}") : Html.Of($"{Parts.Dash}"),
                f.CgShiftMm is { } shift ? Math.Abs(shift) < FittingWords.Shown ? Html.Of($"0") : Html.Of($"{Estimate.Number(Math.Abs(shift), 1)} {(shift < 0 ? "forward" : "aft")}") : Html.Of($"{Parts.Dash}"),
            ])));
    }
}

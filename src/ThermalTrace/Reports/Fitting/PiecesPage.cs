using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Fitting;

/// <summary>
/// The page to print for the workshop and the lid: what goes into the tube drawn 1:1, the card of all steps, what the pieces cannot make. One file that needs
/// nothing else. Untrusted text is escaped wherever it goes.
/// </summary>
public static class PiecesPage
{
    private const string Document = "pieces"; // in the page's mark

    /// <summary>True where a page's first lines say that it is such a page.</summary>
    public static bool IsPage(string head) => PrintedPage.IsOne(head, Document);

    /// <summary>Writes the page; the same document gives the same text.</summary>
    public static void Write(TextWriter writer, PiecesDocument document)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(document);
        PrintedPage.Write(writer, Document, $"{PieceRun.Shortened(document.Airframe.Name, 60)}: ballast pieces", StyleSheet.Resource("Fitting.pieces.css") + StyleSheet.Resource("Fitting.tube.css"), Html.Of($"""
            {(document.BallastAskedG is null ? Title(document) : Answer(document))}
            {Alternatives(document)}
            {Card(document)}
            {Stock(document.Stock)}
            {EffectTable.Section(document.Effects)}
            {Mind(document)}
            """));
    }

    private static Html Title(PiecesDocument document) => Html.Of($"""
        <header><p class="eyebrow"><b>{Html.Foreign(document.Airframe.Name)}</b></p><h1>Ballast in steps, from empty to the limit</h1>
        <p class="lead">{(document.Steps.Count == 0 ? "Nothing can be fitted with these pieces." : $"{Words.Plural(document.Steps.Count, "step")}, {FittingWords.Wish(document.CgForwardMm)}.")}</p></header>
        """);

    private static Html Answer(PiecesDocument document)
    {
        string off = string.Join(' ', document.Cautions.Take(document.OwnCautions));
        return Html.Of($"""
            <header><p class="eyebrow"><b>{Html.Foreign(document.Airframe.Name)}</b></p><h1>{Phrase.Marked(FittingWords.Headline(document))}</h1>
            {(off.Length > 0 ? Html.Of($"<p class=\"lead\">{Words.Tame(off)}</p>") : Html.Empty)}</header>
            {FittingTables.Drawing(document, document.Tube, document.BareCgMm, "tube")}
            {(document.Pieces.Count > 0 && document.Tube is null ? Html.Of($"<p class=\"mind\">airframe.json gives no ballast_tube: where the pieces lie, and with it the CG, is left to you. Lay them around the CG, the heaviest nearest to it.</p>") : Html.Empty)}
            {FittingTables.Places(document, document.Tube, document.BareCgMm)}
            {FittingTables.Totals(document, document.Airframe, document.BareCgMm, document.CgLimitsMm)}
            """);
    }

    private static Html Alternatives(PiecesDocument document) => document.Alternatives.Count == 0 ? Html.Empty : Html.Of($"""
        <section><h2>What else would do</h2><ol class="others">{Html.Join(document.Alternatives.Select(a => Html.Of($"<li><b>{Phrase.Marked(FittingWords.Other(a))}</b> {Words.Tame(FittingWords.Cost(a))}</li>")))}</ol></section>
        """);

    private static Html Card(PiecesDocument document) => document.Steps.Count == 0 ? Html.Empty : Html.Of($"""
        <section class="lid"><h2>For the lid</h2><p class="cut">Cut out along the broken line and tape it in. Pieces stand in order from the front.</p><div class="cards">{LidCard.Write(document)}</div></section>
        """);

    private static Html Stock(StockEntry? stock) => stock is null ? Html.Empty : Html.Of($"""
        <section><h2>What the pieces make</h2><ul>{Html.Join(StockSentences.Of(stock).Select(s => Html.Of($"<li>{s}</li>")))}</ul></section>
        """);

    private static Html Mind(PiecesDocument document) => document.Cautions.Skip(document.OwnCautions).ToArray() is not { Length: > 0 } cautions ? Html.Empty : Html.Of($"""
        <section class="mind"><h2>Mind</h2><ul>{Html.Join(cautions.Select(c => Html.Of($"<li>{Words.Tame(c)}</li>")))}</ul></section>
        """);
}

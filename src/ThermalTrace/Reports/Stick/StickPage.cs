using ThermalTrace.Reports.Fitting;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Stick;

/// <summary>The page to print and take to the workshop: every stick that fits, full size, with how to make it. One file that needs nothing else. Untrusted text is escaped wherever it goes.</summary>
public static class StickPage
{
    private const string Document = "stick"; // in the page's mark

    /// <summary>True where a page's first lines say that it is such a page.</summary>
    public static bool IsPage(string head) => PrintedPage.IsOne(head, Document);

    /// <summary>True where a file's first lines say that it is a drawing written here.</summary>
    public static bool IsDrawing(string head)
    {
        ArgumentNullException.ThrowIfNull(head);
        return StickDrawing.IsDrawing(head);
    }

    /// <summary>False where no stick fits and may be flown, so that there is none to draw.</summary>
    public static bool CanDraw(StickDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return StickSentences.Best(document) is not null;
    }

    /// <summary>Writes the drawing of the best stick alone.</summary>
    /// <returns>False where none can be drawn (<see cref="CanDraw"/>): nothing is written.</returns>
    public static bool WriteDrawing(TextWriter writer, StickDocument document)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(document);
        if (StickSentences.Best(document) is not { } best)
        {
            return false;
        }
        StickDrawing.WriteFile(writer, document, best);
        return true;
    }

    /// <summary>Writes the page; the same document gives the same text.</summary>
    public static void Write(TextWriter writer, StickDocument document)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(document);
        StickOptionEntry[] fit = [.. document.Options.Where(o => o.Fits)];
        bool sideways = fit.Any(o => StickDrawing.IsWide(document, o));
        string close = StickSentences.AsGood(document), load = StickSentences.Throw(document), title = $"{Words.Grams(document.BallastAskedG)} stick";
        PrintedPage.Write(writer, Document, $"{Words.Tame(document.Airframe.Name)}: {title}", StyleSheet.Resource("Stick.stick.css") + StickDrawing.Css() + (sideways ? "@page{size:landscape}\n" : "@page{size:portrait}\n"), Html.Of($"""
            <header>
            <h1>{Html.Foreign(document.Airframe.Name)}: {title}</h1>
            <p class="lead">{StickSentences.Headline(document)}</p>
            {(close.Length > 0 ? Html.Of($"<p>{close}</p>") : Html.Empty)}
            </header>
            <div class="wide">{Table(document)}</div>
            <section class="mind">
            <h2>Mind</h2>
            <ul>{Html.Join(StickSummary.Cautions(document).Select(c => Html.Of($"<li>{c}</li>")))}</ul>
            {(load.Length > 0 ? Html.Of($"<p>{load}</p>") : Html.Empty)}
            </section>
            {Html.Join(fit.Select(o => Made(document, o)))}
            <div class="wide">{EffectTable.Section(document.Effects)}</div>
            """));
    }

    private static Html Table(StickDocument document) => Html.Of($"""
        <table class="sticks"><thead><tr><th scope="col">Stick</th><th scope="col">thick, mm</th><th scope="col">long, mm</th><th scope="col">pitch slower by, %</th><th scope="col">CG, mm aft</th><th scope="col">middle, mm aft</th></tr></thead>
        <tbody>{Html.Join(document.Options.Select(o => Html.Of($"<tr class=\"{(o == StickSentences.Best(document) ? "best" : o.Fits && StickSentences.MayBeFlown(document, o) ? "" : "out")}\">{Html.Join(StickSummary.Cells(document, o).Select((c, i) => Cell(document, o, c, i)))}</tr>\n")))}</tbody></table>
        """);

    private static Html Cell(StickDocument document, StickOptionEntry option, string text, int column) => column == 0
        ? Html.Of($"<td><bdi>{Words.Capital(text)}</bdi>{(!option.Fits ? " (does not fit)" : StickSentences.MayBeFlown(document, option) ? "" : " (not to be flown)")}</td>") : text.IndexOf(" (", StringComparison.Ordinal) is > 0 and var at ? Html.Of($"<td>{text[..at]} <span class=\"iv\">{text[(at + 1)..]}</span></td>")
        : Html.Of($"<td>{text}</td>");

    private static Html Made(StickDocument document, StickOptionEntry option) => Html.Of($"""
        <section class="made">
        <h2><bdi>{StickSentences.Name(option)}</bdi></h2>
        {Html.Join(option.Cautions.Select(c => Html.Of($"<p class=\"warn\">{c}</p>")))}
        <div class="wide">{StickDrawing.Draw(document, option)}</div>
        <dl>{Html.Join(StickSentences.Details(document, option).Select(d => Html.Of($"<dt>{d.Head}</dt><dd>{Words.Capital(d.Text)}</dd>")))}</dl>
        </section>
        """);
}

using ThermalTrace.Reports.Page;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports;

/// <summary>
/// Writes report.html: one file that needs nothing else, no network and no script, for screen, phone and paper. Untrusted
/// text is escaped wherever it goes.
/// </summary>
public static class ReportHtml
{
    /// <summary>Writes the page; the same document and traces give the same text.</summary>
    public static void Write(TextWriter writer, ResultsDocument doc, SessionTraces traces) => Write(writer, doc, ReportContents.Of(doc, traces));

    /// <summary>Writes the page from contents that were made before.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="doc">The document.</param>
    /// <param name="contents">Of the same document.</param>
    public static void Write(TextWriter writer, ResultsDocument doc, ReportContents contents)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(contents);
        doc = ResultsJson.AsWritten(doc);
        Html links = Html.Join(contents.Parts.Select(s => Html.Of($"<a href=\"#{s.Id}\">{s.Name}</a>")));
        Html page = Html.Of($"""
            <!DOCTYPE html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; font-src data:">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta name="color-scheme" content="light dark">
            <meta name="generator" content="{Words.Tame(doc.Program)}">
            <title>{Words.Answer(doc.Comparison)} {Words.Tame(doc.Airframe.Name)}</title>
            <style>
            {new Html(StyleSheet.Write())}
            </style>
            </head>
            <body>
            <main>
            {new Html(contents.Opening)}
            <nav aria-label="On this page">{links}</nav>
            {Html.Join(contents.Parts.Select(s => new Html(s.Markup)))}
            </main>
            <footer>Made by {Words.Tame(doc.Program)} from {Words.Plural(doc.Logs.Count, "log")}. The figures are estimates, and the decision to fly stays with the pilot.</footer>
            </body>
            </html>

            """);
        writer.Write(page.Source.ReplaceLineEndings("\n"));
    }
}

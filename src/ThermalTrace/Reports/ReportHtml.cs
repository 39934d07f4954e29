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
    public static void Write(TextWriter writer, ResultsDocument doc, SessionTraces traces)
    {
        doc = ResultsJson.AsWritten(doc);
        var key = new SeriesKey(doc);
        (string Id, string Name, Html Body)[] sections =
        [
            ("choices", "Choices", BallastSection.Choices(doc, key)),
            ("polars-each", "Polars", BallastSection.Polars(doc, traces, key)),
            ("wind", "Into the wind", WindSection.Write(doc, key)),
            ("launch", "Launch and ride", LaunchSection.Write(doc, key)),
            ("fit", "Fit it", FitSection.Write(doc)),
            ("trust", "Hangs on", TrustSection.Write(doc)),
            ("limits", "Not known", ClosingSections.Limits(doc)),
            ("next", "Fly next", ClosingSections.Next(doc)),
            ("flights", "Flights", FlightSection.Write(doc, traces, key)),
            ("method", "Method", ClosingSections.Method(doc)),
            ("logs", "Logs", ClosingSections.Logs(doc)),
        ];
        Html links = Html.Join(sections.Where(s => s.Body.Source.Length > 0).Select(s => Html.Of($"<a href=\"#{s.Id}\">{s.Name}</a>")));
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
            {AnswerSection.Write(doc, key)}
            <nav aria-label="On this page">{links}</nav>
            {Html.Join(sections.Select(s => s.Body))}
            </main>
            <footer>Made by {Words.Tame(doc.Program)} from {Words.Plural(doc.Logs.Count, "log")}. The figures are estimates, and the decision to fly stays with the pilot.</footer>
            </body>
            </html>

            """);
        writer.Write(page.Source.ReplaceLineEndings("\n"));
    }
}

namespace ThermalTrace.Reports.Page;

/// <summary>A page to print: one file that needs nothing else, may load nothing and run nothing, and is known again by a mark in its head.</summary>
internal static class PrintedPage
{
    /// <summary>True where a page's first lines say that it is one of this document.</summary>
    /// <param name="head">The first lines.</param>
    /// <param name="document">As the mark names it, such as "plan".</param>
    public static bool IsOne(string head, string document)
    {
        ArgumentNullException.ThrowIfNull(head);
        return head.Contains(Mark(document), StringComparison.Ordinal);
    }

    /// <summary>Writes the page, its lines ended by LF.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="document">As the mark names it.</param>
    /// <param name="title">For the window; tame.</param>
    /// <param name="style">Without the font's faces.</param>
    /// <param name="main">What is on it.</param>
    public static void Write(TextWriter writer, string document, string title, string style, Html main)
    {
        Html page = Html.Of($"""
            <!DOCTYPE html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            {new Html(Mark(document))}
            <meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'; font-src data:">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta name="color-scheme" content="light dark">
            <title>{title}</title>
            <style>
            {new Html(StyleSheet.Faces() + style)}
            </style>
            </head>
            <body>
            <main>
            {main}
            </main>
            </body>
            </html>

            """);
        writer.Write(page.Source.ReplaceLineEndings("\n"));
    }

    private static string Mark(string document) => $"<meta name=\"page\" content=\"thermaltrace.{document}/1\">";
}

using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Card;

/// <summary>
/// Writes card.html: one file for the phone and the pocket. It fetches nothing; its one style and one script are named by their
/// hashes, so nothing else runs. The document is in it as data. Without scripts the printed tables remain.
/// </summary>
public static class CardPage
{
    private const string Mark = "<meta name=\"page\" content=\"thermaltrace.card/1\">";

    private static readonly string[] Scripts = ["answer.js", "advice.js", "kept.js", "handover.js", "flights.js", "page.js"];

    private static readonly JsonSerializerOptions Compact = new(ResultsJson.Style) { WriteIndented = false };

    /// <summary>True where a page's first lines say that it is a card.</summary>
    public static bool IsCard(string head)
    {
        ArgumentNullException.ThrowIfNull(head);
        return head.Contains(Mark, StringComparison.Ordinal);
    }

    /// <summary>What the card rests on, as the end of a sentence about it.</summary>
    public static string Basis(CardDocument doc)
    {
        ArgumentNullException.ThrowIfNull(doc);
        CardModel model = doc.Model;
        string rests = model.Sessions == 0 ? "physics alone, no session"
            : $"{Words.Plural(model.Sessions, "session")} with {Words.Plural(model.Flights, "flight")}{(model.Latest is { } day ? $", the latest of {day}" : "")}";
        return $"rests on {rests}";
    }

    /// <summary>Writes the page; the same document gives the same text.</summary>
    public static void Write(TextWriter writer, CardDocument doc)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(doc);
        string style = "\n" + StyleSheet.Faces() + Resource("card.css");
        string script = "\n(function () {\n\"use strict\";\n" + string.Concat(Scripts.Select(Resource)) + "})();\n";
        Html page = Html.Of($"""
            <!DOCTYPE html>
            <html lang="en">
            <head>
            <meta charset="utf-8">
            {new Html(Mark)}
            <meta http-equiv="Content-Security-Policy" content="{Policy(style, script)}">
            <meta name="viewport" content="width=device-width, initial-scale=1">
            <meta name="color-scheme" content="light dark">
            <meta name="format-detection" content="telephone=no, date=no">
            <meta name="mobile-web-app-capable" content="yes">
            <meta name="generator" content="{Words.Tame(doc.Program)}">
            <link rel="icon" href="data:,">
            <title>{Words.Tame(doc.Airframe.Name)}: field card</title>
            <style>{new Html(style)}</style>
            </head>
            <body>
            {Heading(doc)}
            <main>
            {CardViews.Advice(doc)}
            {CardViews.Flights(doc)}
            {CardTables.Write(doc)}
            </main>
            {CardViews.Views()}
            <script type="application/json" id="card-data">{new Html(JsonSerializer.Serialize(doc, Compact))}</script>
            <script>{new Html(script)}</script>
            </body>
            </html>

            """);
        writer.Write(page.Source.ReplaceLineEndings("\n"));
    }

    private static Html Heading(CardDocument doc) => Html.Of($"""
        <header>
        <h1>{Html.Foreign(doc.Airframe.Name)}</h1>
        <div class="units live" role="group" aria-label="Units of speed">
        <button type="button" data-unit="m/s" aria-pressed="true">m/s</button><button type="button" data-unit="km/h" aria-pressed="false">km/h</button><button type="button" data-unit="kn" aria-pressed="false">kn</button>
        </div>
        </header>
        """);

    /// <summary>Nothing is fetched from anywhere; the icon and the fonts are in the page.</summary>
    private static string Policy(string style, string script) =>
        $"default-src 'none'; style-src '{Hash(style)}'; script-src '{Hash(script)}'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'";

    private static string Hash(string text) => "sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text.ReplaceLineEndings("\n"))));

    private static string Resource(string name) => StyleSheet.Resource("Card." + name);
}

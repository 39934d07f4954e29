using ThermalTrace.Reports.Page;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports;

/// <summary>A section of the report.</summary>
/// <param name="Id">By which links lead to it.</param>
/// <param name="Name">In the report's list of contents.</param>
/// <param name="Markup">A section element, safe to put into a page as it stands.</param>
public sealed record ReportPart(string Id, string Name, string Markup);

/// <summary>What stands in the report, in its order: for report.html and for pages that show the same. Markup needs the sheet of <see cref="PageStyle"/>.</summary>
/// <param name="Opening">The first screen: the answer, the conditions, the polars, the options; markup.</param>
/// <param name="Parts">All that follows; sections that have nothing to say are not among them.</param>
public sealed record ReportContents(string Opening, IReadOnlyList<ReportPart> Parts)
{
    /// <summary>Of a debrief.</summary>
    /// <param name="doc">Its document.</param>
    /// <param name="traces">What its pictures need.</param>
    public static ReportContents Of(ResultsDocument doc, SessionTraces traces)
    {
        ArgumentNullException.ThrowIfNull(doc);
        ArgumentNullException.ThrowIfNull(traces);
        doc = ResultsJson.AsWritten(doc);
        var key = new SeriesKey(doc);
        ReportPart[] parts =
        [
            new("choices", "Choices", BallastSection.Choices(doc, key).Source),
            new("polars-each", "Polars", BallastSection.Polars(doc, traces, key).Source),
            new("wind", "Into the wind", WindSection.Write(doc, key).Source),
            new("launch", "Launch and ride", LaunchSection.Write(doc, key).Source),
            new("fit", "Fit it", FitSection.Write(doc).Source),
            new("trust", "Hangs on", TrustSection.Write(doc).Source),
            new("limits", "Not known", ClosingSections.Limits(doc).Source),
            new("next", "Fly next", ClosingSections.Next(doc).Source),
            new("flights", "Flights", FlightSection.Write(doc, traces, key).Source),
            new("method", "Method", ClosingSections.Method(doc).Source),
            new("logs", "Logs", ClosingSections.Logs(doc).Source),
        ];
        return new ReportContents(AnswerSection.Write(doc, key).Source, [.. parts.Where(p => p.Markup.Length > 0)]);
    }

    /// <summary>Another comparison of the same session's choices, as the report shows its own: the sentence, the picture, the figures.</summary>
    /// <param name="doc">The debrief's document, for the style of each ballast.</param>
    /// <param name="comparison">The choices in other air.</param>
    public static LiveAnswerMarkup Answer(ResultsDocument doc, ComparisonEntry comparison)
    {
        ArgumentNullException.ThrowIfNull(doc);
        ArgumentNullException.ThrowIfNull(comparison);
        // Each ballast looks as it does in the report above.
        var key = new SeriesKey(doc, comparison.Options);
        doc = doc with { Comparison = comparison };
        return new LiveAnswerMarkup(Words.Suggested(comparison), Words.Tame(comparison.Why), OptionPicture.Write(doc, key, id: "live-options").Source,
            AnswerSection.Options(comparison, key, "The choices in this air").Source);
    }
}

/// <summary>An answer for conditions that were chosen.</summary>
/// <param name="Answer">In one sentence; plain text.</param>
/// <param name="Why">Why, and how surely; plain text.</param>
/// <param name="Picture">Each choice with its band; markup.</param>
/// <param name="Table">The same in figures; markup.</param>
public sealed record LiveAnswerMarkup(string Answer, string Why, string Picture, string Table);

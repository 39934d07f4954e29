using ScottPlot;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>What each choice gains, with its interval: the comparison as a picture.</summary>
internal static class OptionPicture
{
    public static Html Write(ResultsDocument doc, SeriesKey key, string before = "", string id = "options")
    {
        OptionEntry[] options = [.. doc.Comparison.Options.Where(o => Estimate.Known(Words.Measured(doc.Comparison, o)))];
        if (options.Length == 0)
        {
            return Html.Of($"<p class=\"note\">{before}There is nothing to draw: no choice has a figure.</p>");
        }

        Interval[] gains = [.. options.Select(o => Words.Measured(doc.Comparison, o))];
        double low = gains.Min(g => g.Low!.Value), high = gains.Max(g => g.High!.Value);
        double margin = Math.Max(0.12 * (high - low), 0.01);
        var x = new AxisRange(-0.6, options.Length - 0.4);
        var y = new AxisRange(low - margin, high + margin);
        using var picture = new Picture(560, 300, x, y);
        string unit = Words.MeasureUnit(doc.Comparison);
        picture.Axes("ballast", options.Select((o, i) => ((double)i, Words.Grams(o.BallastG))), $"{Words.MeasureName(doc.Comparison).ToLowerInvariant()}, {unit}", Picture.Ticks(y, 5));
        if (y.Low < 0 && y.High > 0)
        {
            picture.Line([x.Low, x.High], [0, 0], Inks.Muted, 1.5f);
        }

        for (int i = 0; i < options.Length; i++)
        {
            SeriesStyle style = key.Style(options[i].BallastG);
            picture.Line([i, i], [gains[i].Low!.Value, gains[i].High!.Value], style.Ink, 3);
            picture.Line([i - 0.08, i + 0.08], [gains[i].Low!.Value, gains[i].Low!.Value], style.Ink, 3);
            picture.Line([i - 0.08, i + 0.08], [gains[i].High!.Value, gains[i].High!.Value], style.Ink, 3);
            picture.Points([i], [gains[i].Value!.Value], style.Ink, style.Marker, 13);
        }

        string words = string.Join(" ", options.Select((o, i) => $"With {Words.Ballast(o.BallastG)}: {Estimate.Plain(gains[i])} {unit}."));
        return Parts.Figure(picture.Svg(id, $"{Words.MeasureName(doc.Comparison)} for each ballast", words),
            Html.Of($"{before}{Words.MeasureName(doc.Comparison)} for each ballast; the bars are 90&nbsp;% sure. The choices share one drag curve, so they differ more surely than the overlap of their bars suggests."), kind: "wide");
    }
}

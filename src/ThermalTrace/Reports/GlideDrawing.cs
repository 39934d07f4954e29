using ThermalTrace.Reports.Page;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports;

/// <summary>A piece of steady glide in the picture.</summary>
/// <param name="XPx">From the picture's left, px of its view box.</param>
/// <param name="YPx">From its top.</param>
/// <param name="Ink">Name of the ballast's colour in <see cref="PageStyle"/>: class f-NAME fills, s-NAME strokes.</param>
/// <param name="Shape">The ballast's marker as in the key: path data, its middle at (17, 7).</param>
/// <param name="Open">True where the marker is stroked, not filled.</param>
/// <param name="Flight">Index of its flight in the document.</param>
/// <param name="FromS">Time of flight at which it begins, s.</param>
/// <param name="ToS">And ends.</param>
/// <param name="Words">What it is, in a sentence; plain text, untrusted names in it.</param>
public sealed record DrawnGlide(double XPx, double YPx, string Ink, string Shape, bool Open, int Flight, double FromS, double ToS, string Words);

/// <summary>The polars, and where each glide lies over them.</summary>
/// <param name="Picture">The polars alone.</param>
/// <param name="Key">The ballasts' lines; markup.</param>
/// <param name="Glides">By ballast, then airspeed.</param>
/// <param name="Outside">Glides beyond the axes.</param>
public sealed record GlidePicture(Drawing Picture, string Key, IReadOnlyList<DrawnGlide> Glides, int Outside);

/// <summary>The measured polars with the glides that they rest on, each of which can be pointed at.</summary>
public static class GlideDrawing
{
    private const int WidthPx = 640, HeightPx = 420;

    /// <summary>Draws it; null where no polar was measured.</summary>
    /// <param name="doc">The debrief's document.</param>
    /// <param name="traces">Its glides.</param>
    public static GlidePicture? Of(ResultsDocument doc, SessionTraces traces)
    {
        ArgumentNullException.ThrowIfNull(doc);
        ArgumentNullException.ThrowIfNull(traces);
        PolarEntry[] polars = [.. doc.Polars.Where(p => p.Curve.Any(c => c.Flown && c.SinkMps is not null))];
        if (polars.Length == 0)
        {
            return null;
        }
        var key = new SeriesKey(doc);
        (AxisRange x, AxisRange y) = PolarPictures.Limits(polars);
        using var picture = new Picture(WidthPx, HeightPx, x, y);
        picture.Axes("airspeed, m/s", Picture.Ticks(x, 6), "sink, m/s", Picture.Ticks(y, 5));
        foreach (PolarEntry polar in polars)
        {
            SeriesStyle style = key.Style(polar);
            PolarPictures.Flown(polar, out double[] v, out double[] low, out double[] high);
            picture.Band(v, low, high, style.Ink, 0.12);
            PolarPictures.Curve(picture, polar, style, 2.4f);
        }
        PlotArea area = picture.Area;
        var flights = doc.Flights.Index().DistinctBy(f => (f.Item.Log, f.Item.Number)).ToDictionary(f => (f.Item.Log, f.Item.Number), f => (f.Index, f.Item));
        List<DrawnGlide> drawn = [];
        int outside = 0;
        foreach (GlidePoint glide in traces.Glides.Where(g => g.BallastG is not null && flights.ContainsKey((g.Log, g.Flight))).OrderBy(g => g.BallastG).ThenBy(g => g.AirspeedMps))
        {
            if (!(glide.AirspeedMps >= x.Low && glide.AirspeedMps <= x.High && glide.SinkMps <= y.Low && glide.SinkMps >= y.High))
            {
                outside++;
                continue;
            }
            (int index, FlightEntry flight) = flights[(glide.Log, glide.Flight)];
            SeriesStyle style = key.Style(glide.BallastG!.Value);
            (string shape, bool open) = SeriesKey.Outline(style.Marker);
            double from = glide.StartS - flight.StartS, to = glide.EndS - flight.StartS;
            drawn.Add(new DrawnGlide(area.ShareOfX(glide.AirspeedMps) * area.WidthPx, area.ShareOfY(glide.SinkMps) * area.HeightPx, style.Ink.Name, shape, open, index, from, to,
                $"Flight {index + 1} with {Words.Ballast(glide.BallastG.Value)}, {FlightDrawings.TimeOfFlight(from)} to {FlightDrawings.TimeOfFlight(to)}: airspeed {Around(glide.AirspeedMps, glide.AirspeedStandardErrorMps)} m/s, sink {Around(glide.SinkMps, glide.SinkStandardErrorMps)} m/s, {Words.Tame(glide.Log)}"));
        }
        string svg = picture.Svg("glides", "Polars with the glides that they rest on",
            $"Sink in still air over airspeed, sink growing downwards. {Words.Plural(drawn.Count, "piece")} of steady glide can be chosen one by one.");
        return new GlidePicture(new Drawing(svg, area), key.Of(polars).Source, drawn, outside);
    }

    /// <summary>A mean with the interval that its standard error gives: 90 % of a normal spread.</summary>
    private static string Around(double value, double error) => Estimate.Plain(new Interval(value, value - 1.645 * error, value + 1.645 * error));
}

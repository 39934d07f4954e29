using ScottPlot;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>Sink over airspeed: all ballasts in one picture, and each measured against its prediction.</summary>
internal static class PolarPictures
{
    private const string FaintDash = "1.5 3.5";

    /// <summary>All polars together, for the first screen; without a measured polar, the options' measure instead.</summary>
    public static Html Together(ResultsDocument doc, SeriesKey key)
    {
        PolarEntry[] polars = [.. doc.Polars.Where(p => p.Curve.Any(c => c.Flown && c.SinkMps is not null))];
        if (polars.Length == 0)
        {
            return OptionPicture.Write(doc, key, "No polar could be measured in this session, so here is the comparison itself. ");
        }

        (AxisRange x, AxisRange y) = Limits(polars);
        using var picture = new Picture(560, 420, x, y);
        picture.Axes("airspeed, m/s", Picture.Ticks(x, 6), "sink, m/s", Picture.Ticks(y, 5));
        foreach (PolarEntry polar in polars)
        {
            SeriesStyle style = key.Style(polar);
            Flown(polar, out double[] v, out double[] low, out double[] high);
            picture.Band(v, low, high, style.Ink, polars.Length > 4 ? 0.06 : 0.13);
        }

        foreach ((int index, PolarEntry polar) in polars.Index())
        {
            Curve(picture, polar, key.Style(polar), 2.4f);
            Marks(picture, polar, key.Style(polar), (index + 0.5) / polars.Length);
        }

        string what = $"Sink in still air over airspeed for {Words.Plural(polars.Length, "polar")}, sink growing downwards. "
            + string.Join(" ", polars.Select(InWords));
        return Parts.Figure(picture.Svg("polars", "Polars of all ballasts", what),
            Html.Of($"Sink in level flight through still air at sea level. Lower on the picture is worse. Shaded: 90&nbsp;% sure. Fine dots: faster than anything flown, so the fit carried on."),
            key.Of(polars), "wide");
    }

    /// <summary>A ballast's measured polar, its prediction and the glides behind it.</summary>
    public static Html Each(ResultsDocument doc, SessionTraces traces, SeriesKey key)
    {
        PolarEntry[] polars = [.. doc.Polars.Where(p => p.Curve.Count > 0)];
        (AxisRange x, AxisRange y) = Limits(polars);
        return Html.Join(polars.Select((polar, i) => One(doc, polar, i, x, y, traces, key)));
    }

    private static Html One(ResultsDocument doc, PolarEntry polar, int index, AxisRange x, AxisRange y, SessionTraces traces, SeriesKey key)
    {
        SeriesStyle style = key.Style(polar);
        var camber = doc.Flights.DistinctBy(f => (f.Log, f.Number)).ToDictionary(f => (f.Log, f.Number), f => f.Camber);
        GlidePoint[] glides = [.. traces.Glides.Where(g => g.BallastG == polar.BallastG && (polar.Camber is null || camber.GetValueOrDefault((g.Log, g.Flight)) == polar.Camber))];
        using var picture = new Picture(360, 300, x, y);
        picture.Axes("airspeed, m/s", Picture.Ticks(x, 4), "sink, m/s", Picture.Ticks(y, 4));
        Flown(polar, out double[] v, out double[] low, out double[] high);
        picture.Band(v, low, high, style.Ink, 0.2);
        picture.Points([.. glides.Select(g => g.AirspeedMps)], [.. glides.Select(g => g.SinkMps)], style.Ink, MarkerShape.FilledCircle, 5, 0.45);
        picture.Line([.. polar.Curve.Select(c => c.AirspeedMps)], [.. polar.Curve.Select(c => c.PredictedMps)], Inks.Text, 1.6f, "6 4");
        Curve(picture, polar, style with { Dash = "" }, 2.4f);
        int outside = glides.Count(g => !(g.AirspeedMps >= x.Low && g.AirspeedMps <= x.High && g.SinkMps <= y.Low && g.SinkMps >= y.High));
        string beyond = outside > 0 ? $" {Words.Plural(outside, "piece")} of glide {(outside == 1 ? "lies" : "lie")} outside the picture." : "";
        Html caption = Html.Of($"<b>{SeriesKey.Marker(style.Ink, style.Marker)}{Words.Grams(polar.BallastG)}</b>{SeriesKey.Camber(polar)}, all up {Words.Grams(polar.FlyingMassG)}. {Words.Plural(glides.Length, "piece")} of steady glide, as good as about {Parts.Number(polar.EffectiveGlides, 0)} in air of their own.{beyond}");
        return Parts.Figure(picture.Svg($"polar-{index + 1}", $"Measured against predicted with {Words.Ballast(polar.BallastG)}",
            InWords(polar) + " Solid line measured, dashed line predicted from geometry, dots pieces of glide."), caption);
    }

    internal static void Curve(Picture picture, PolarEntry polar, SeriesStyle style, float widthPx)
    {
        CurvePoint[] flown = [.. polar.Curve.Where(c => c.Flown)];
        CurvePoint[] beyond = [.. polar.Curve.Where(c => !c.Flown || c == flown.LastOrDefault())];
        picture.Line(Airspeeds(flown), Sinks(flown), style.Ink, widthPx, style.Dash);
        picture.Line(Airspeeds(beyond), Sinks(beyond), style.Ink, widthPx * 0.7f, FaintDash);
    }

    /// <summary>A few markers on the flown line, at another place for each ballast so that they do not pile up.</summary>
    private static void Marks(Picture picture, PolarEntry polar, SeriesStyle style, double place)
    {
        CurvePoint[] flown = [.. polar.Curve.Where(c => c.Flown)];
        CurvePoint[] marks = [.. Enumerable.Range(0, 4).Select(k => flown[(int)((k + place) / 4 * flown.Length)])];
        picture.Points(Airspeeds(marks), Sinks(marks), style.Ink, style.Marker, 9);
    }

    private static double[] Airspeeds(CurvePoint[] points) => [.. points.Select(c => c.AirspeedMps)];

    private static double[] Sinks(CurvePoint[] points) => [.. points.Select(c => c.SinkMps ?? double.NaN)];

    internal static void Flown(PolarEntry polar, out double[] airspeed, out double[] low, out double[] high)
    {
        CurvePoint[] flown = [.. polar.Curve.Where(c => c.Flown)];
        airspeed = Airspeeds(flown);
        low = [.. flown.Select(c => c.LowMps ?? double.NaN)];
        high = [.. flown.Select(c => c.HighMps ?? double.NaN)];
    }

    /// <summary>Sink runs downwards from nothing, as polars are drawn; what was flown fills the picture.</summary>
    internal static (AxisRange X, AxisRange Y) Limits(IReadOnlyList<PolarEntry> polars)
    {
        CurvePoint[] points = [.. polars.SelectMany(p => p.Curve)];
        CurvePoint[] flown = [.. points.Where(c => c.Flown && c.SinkMps is not null)];
        double slow = points.Min(c => c.AirspeedMps), fast = flown.Length > 0 ? flown.Max(c => c.AirspeedMps) : points.Max(c => c.AirspeedMps);
        double most = flown.Length > 0 ? flown.Max(c => c.HighMps ?? c.SinkMps!.Value) : points.Max(c => c.PredictedMps);
        return (new AxisRange(Math.Floor(slow - 0.3), Math.Ceiling(fast + 0.12 * (fast - slow))), new AxisRange(most * 1.12, 0));
    }

    private static string InWords(PolarEntry polar) =>
        $"With {Words.Ballast(polar.BallastG)}: least sink {Estimate.Plain(polar.MinSink.SinkMps)} m/s, best glide {Estimate.Plain(polar.BestGlide.Ratio)}.";
}

using ScottPlot;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>Into the wind: glide over the ground, and the height that coming home costs.</summary>
internal static class WindSection
{
    /// <summary>m of height for 100 m of return beyond which nobody sets out.</summary>
    private const double MostHeightM = 60;

    public static Html Write(ResultsDocument doc, SeriesKey key)
    {
        PolarEntry[] polars = [.. doc.Polars.Where(p => p.Penetration.Any(Usable))];
        if (polars.Length == 0)
        {
            return Html.Empty;
        }

        double most = polars.SelectMany(p => p.Penetration).Where(Usable).Max(p => p.HeadwindMps);
        Html keys = key.Of(polars);
        return Parts.Section("wind", "Into the wind", Html.Of($"""
            <p>The farther a ballast carries you over the ground against the wind, the less height the way home costs. Each point is flown at the airspeed that is best for that head wind.</p>
            {keys}
            <div class="grid two">{Penetration(polars, most, key)}{ComeHome(polars, most, key)}</div>
            {Table(polars, key)}
            """));
    }

    private static bool Usable(PenetrationEntry entry) => Estimate.Known(entry.GlideRatio) && entry.GlideRatio.Value > 0;

    private static Html Penetration(PolarEntry[] polars, double most, SeriesKey key)
    {
        double top = polars.SelectMany(p => p.Penetration).Where(Usable).Max(p => p.GlideRatio.High!.Value);
        AxisRange x = new(0, most), y = new(0, top * 1.06);
        using var picture = new Picture(480, 340, x, y);
        picture.Axes("head wind, m/s", Picture.Ticks(x, 6), "glide over the ground", Picture.Ticks(y, 5));
        Draw(picture, polars, key, ratio => ratio);
        string words = string.Join(" ", polars.Select(p => $"With {Words.Ballast(p.BallastG)}: "
            + string.Join(", ", p.Penetration.Where(Usable).Where((_, i) => i % 4 == 0).Select(e => $"{Estimate.Plain(e.GlideRatio)} against {Parts.Chosen(e.HeadwindMps)} m/s")) + "."));
        return Parts.Figure(picture.Svg("penetration", "Glide over the ground into wind", words),
            Html.Of($"<b>Glide over the ground into wind</b>: metres forward for each metre of height. Shaded: 90&nbsp;% sure."), kind: "mid");
    }

    private static Html ComeHome(PolarEntry[] polars, double most, SeriesKey key)
    {
        double top = Math.Min(MostHeightM, polars.SelectMany(p => p.Penetration).Where(Usable).Max(p => 100 / p.GlideRatio.Value!.Value) * 1.1);
        AxisRange x = new(0, most), y = new(0, top);
        using var picture = new Picture(480, 340, x, y);
        picture.Axes("head wind, m/s", Picture.Ticks(x, 6), "height for 100 m of return, m", Picture.Ticks(y, 5));
        Draw(picture, polars, key, ratio => ratio > 0 ? 100 / ratio : double.NaN);
        string words = string.Join(" ", polars.Select(p => $"With {Words.Ballast(p.BallastG)}: "
            + string.Join(", ", p.Penetration.Where(Usable).Where((_, i) => i % 4 == 0).Select(e => $"{Estimate.Plain(HeightHome(e))} m against {Parts.Chosen(e.HeadwindMps)} m/s")) + "."));
        return Parts.Figure(picture.Svg("height-home", "Height to come home", words),
            Html.Of($"<b>Height to come home</b>: what 100&nbsp;m of return against the wind costs in still air, without any reserve."), kind: "mid");
    }

    private static Interval HeightHome(PenetrationEntry entry) => entry.GlideRatio.Low > 0
        ? new Interval(100 / entry.GlideRatio.Value, 100 / entry.GlideRatio.High, 100 / entry.GlideRatio.Low)
        : Interval.Unknown;

    private static void Draw(Picture picture, PolarEntry[] polars, SeriesKey key, Func<double, double> of)
    {
        foreach (PolarEntry polar in polars)
        {
            PenetrationEntry[] points = [.. polar.Penetration.Where(Usable)];
            picture.Band([.. points.Select(p => p.HeadwindMps)], [.. points.Select(p => of(p.GlideRatio.Low!.Value))], [.. points.Select(p => of(p.GlideRatio.High!.Value))], key.Style(polar).Ink, 0.12);
        }

        foreach (PolarEntry polar in polars)
        {
            PenetrationEntry[] points = [.. polar.Penetration.Where(Usable)];
            SeriesStyle style = key.Style(polar);
            double[] xs = [.. points.Select(p => p.HeadwindMps)], ys = [.. points.Select(p => of(p.GlideRatio.Value!.Value))];
            picture.Line(xs, ys, style.Ink, 2.2f, style.Dash);
            int[] marks = [.. Enumerable.Range(0, points.Length).Where(i => i % 3 == 1)];
            picture.Points([.. marks.Select(i => xs[i])], [.. marks.Select(i => ys[i])], style.Ink, style.Marker, 9);
        }
    }

    private static Html Table(PolarEntry[] polars, SeriesKey key)
    {
        double[] winds = [.. polars.SelectMany(p => p.Penetration).Where(Usable).Select(p => p.HeadwindMps).Distinct().Order()];
        double[] shown = winds.Length <= 5 ? winds : [.. winds.Where((_, i) => i % (int)Math.Ceiling(winds.Length / 5.0) == 0)];
        return Parts.Table("Airspeed to fly home, and the glide over the ground that it gives",
            [Parts.Head("Head wind"), .. shown.Select(w => Parts.Head($"{Parts.Chosen(w)} m/s"))],
            polars.Select(p => (false, (IReadOnlyList<Html>)
            [
                key.Name(p),
                .. shown.Select(w => p.Penetration.FirstOrDefault(e => e.HeadwindMps == w && Usable(e)) is { } entry
                    ? Html.Of($"<span class=\"speed\">at {Parts.Number(entry.AirspeedMps, 1)} m/s</span> {Parts.Estimated(entry.GlideRatio)}")
                    : Html.Of($"<span class=\"none\">out of reach</span>")),
            ])));
    }
}

using ScottPlot;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>One flight: height over time by phase, and the track over the ground with the wind.</summary>
internal static class FlightPictures
{
    private static readonly string[] PhaseKinds = ["launch", "glide", "climb", "landing", "ground"];

    /// <summary>Colour, width and dash of a phase; climbs are the heaviest line, the ground the faintest.</summary>
    public static (Ink Ink, float WidthPx, string Dash) Phase(string kind) => kind switch
    {
        "launch" => (Inks.Launch, 2.6f, "2 2.5"),
        "climb" => (Inks.Climb, 3.6f, ""),
        "landing" => (Inks.Landing, 2.2f, "7 3"),
        "ground" => (Inks.Ground, 1.4f, "1.5 4"),
        _ => (Inks.Glide, 1.7f, ""),
    };

    public static Html Key() => Parts.Key(PhaseKinds.Select(kind =>
    {
        (Ink ink, float width, string dash) = Phase(kind);
        return (SeriesKey.Line(ink, dash, Estimate.Number(width, 1)), Html.Of($"{Words.Phase(kind)}"));
    }));

    public static Html Height(FlightEntry flight, FlightTrace trace, int index)
    {
        double[] heights = [.. trace.HeightM.Where(double.IsFinite)];
        if (heights.Length < 2)
        {
            return Html.Of($"<p class=\"note\">No height trace.</p>");
        }

        double low = Math.Min(0, heights.Min()), high = Math.Max(heights.Max(), low + 5);
        AxisRange x = new(0, Math.Max(1, flight.EndS - flight.StartS)), y = new(low - 0.03 * (high - low), high + 0.14 * (high - low));
        using var picture = new Picture(640, 360, x, y);
        picture.Axes("time of flight, min", Minutes(x.High), "height above the launch, m", Picture.Ticks(y, 4));
        Lines(picture, flight, trace);
        return Parts.Figure(picture.Svg($"flight-{index}-height", $"Height over time, flight {index}", InWords(flight, heights.Max())), Html.Empty, kind: "wide");
    }

    /// <summary>A stretch of a flight, from and to in seconds of flight; null without heights in it.</summary>
    public static (string Svg, PlotArea Area)? HeightBetween(FlightEntry flight, FlightTrace trace, int index, double fromS, double toS, int widthPx, int heightPx)
    {
        int from = FirstAtOrAfter(trace.TimeS, flight.StartS + fromS), to = Math.Min(trace.TimeS.Length, FirstAtOrAfter(trace.TimeS, flight.StartS + toS) + 1);
        double[] heights = [.. trace.HeightM[Math.Max(0, from - 1)..to].Where(double.IsFinite)];
        if (heights.Length < 2)
        {
            return null;
        }

        double least = heights.Min(), low = fromS <= 0 ? Math.Min(0, least) : least, high = Math.Max(heights.Max(), low + 5);
        AxisRange x = new(fromS, toS), y = new(low - 0.05 * (high - low), high + 0.14 * (high - low));
        using var picture = new Picture(widthPx, heightPx, x, y);
        picture.Axes("time of flight, min", Clock(x, widthPx / 90), "height above the launch, m", Picture.Ticks(y, 4));
        Lines(picture, flight, trace, fromS, toS);
        string svg = picture.Svg($"flight-{index}-height", $"Height over time, flight {index}", InWords(flight, heights.Max()));
        return (svg, picture.Area);
    }

    /// <summary>A flight's height by phase, small, without axes: to know it again in a list.</summary>
    public static Html Small(FlightEntry flight, FlightTrace trace, int index, int widthPx, int heightPx)
    {
        double[] heights = [.. trace.HeightM.Where(double.IsFinite)];
        double low = Math.Min(0, heights.DefaultIfEmpty(0).Min()), high = Math.Max(heights.DefaultIfEmpty(0).Max(), low + 5);
        double seconds = Math.Max(1, flight.EndS - flight.StartS);
        const double edge = 2; // half of the widest line, so that none is cut off
        double X(int i) => edge + (trace.TimeS[i] - flight.StartS) / seconds * (widthPx - 2 * edge);
        double Y(int i) => heightPx - edge - (trace.HeightM[i] - low) / (high - low) * (heightPx - 2 * edge);
        Html lines = Html.Join(flight.Segments.Select(segment =>
        {
            (int from, int to) = Rows(trace, segment);
            (Ink ink, float width, _) = Phase(segment.Kind);
            int[] known = [.. Enumerable.Range(from, Math.Max(0, to - from)).Where(i => double.IsFinite(trace.HeightM[i]))];
            int[] keep = Thinning.Keep(..known.Length, i => X(known[i]), i => Y(known[i]), 0.3);
            string path = string.Join(' ', keep.Select((k, n) => $"{(n == 0 ? "M" : "L")}{Estimate.Number(X(known[k]), 1)} {Estimate.Number(Y(known[k]), 1)}"));
            return Html.Of($"<path class=\"s-{ink.Name}\" fill=\"none\" stroke=\"{ink.Light}\" stroke-width=\"{Estimate.Number(width * 0.7, 1)}\" stroke-linejoin=\"round\" d=\"{path}\"/>");
        }));
        return Html.Of($"<svg class=\"small-trace\" viewBox=\"0 0 {widthPx} {heightPx}\" role=\"img\" aria-label=\"Height over time, flight {index}: {InWords(flight, heights.DefaultIfEmpty(0).Max())}\">{lines}</svg>");
    }

    private static void Lines(Picture picture, FlightEntry flight, FlightTrace trace, double fromS = double.NegativeInfinity, double toS = double.PositiveInfinity)
    {
        int climb = 0;
        foreach (SegmentEntry segment in flight.Segments)
        {
            (int from, int to) = Rows(trace, segment);
            // Beyond the window one point more either way, so that lines run to its edge.
            from = Math.Max(from, FirstAtOrAfter(trace.TimeS, flight.StartS + fromS) - 1);
            to = Math.Min(to, FirstAtOrAfter(trace.TimeS, flight.StartS + toS) + 1);
            if (to <= from)
            {
                climb += segment.Kind == "climb" ? 1 : 0;
                continue;
            }

            (Ink ink, float width, string dash) = Phase(segment.Kind);
            double[] t = [.. trace.TimeS[from..to].Select(s => s - flight.StartS)];
            picture.Line(t, trace.HeightM[from..to], ink, width, dash);
            if (segment.Kind == "climb")
            {
                climb++;
                int peak = Enumerable.Range(from, to - from).Where(i => double.IsFinite(trace.HeightM[i])).DefaultIfEmpty(from).MaxBy(i => trace.HeightM[i]);
                picture.Words($"{climb}", trace.TimeS[peak] - flight.StartS, trace.HeightM[peak], Inks.Climb, Alignment.LowerCenter, offsetYPx: -4, bold: true);
            }
        }
    }

    public static Html Track(FlightEntry flight, FlightTrace trace, int index)
    {
        (string Svg, PlotArea Area)? drawn = Over(flight, trace, index);
        return drawn is { } picture ? Parts.Figure(picture.Svg, Html.Empty, kind: "mid") : Html.Of($"<p class=\"note\">{NoPosition}</p>");
    }

    public const string NoPosition = "No position in this log, so no track over the ground and no wind.";

    /// <summary>The track over the ground with the wind; null without position.</summary>
    public static (string Svg, PlotArea Area)? Over(FlightEntry flight, FlightTrace trace, int index)
    {
        double[] east = [.. trace.EastM.Where(double.IsFinite)], north = [.. trace.NorthM.Where(double.IsFinite)];
        if (east.Length < 2 || north.Length < 2)
        {
            return null;
        }

        (int insideX, int insideY) = Picture.Inside(420, 380);
        double metresPerPx = Math.Max((east.Max() - east.Min()) / insideX, (north.Max() - north.Min()) / insideY) * 1.2;
        metresPerPx = Math.Max(metresPerPx, 20.0 / insideX);
        double midEast = (east.Max() + east.Min()) / 2, midNorth = (north.Max() + north.Min()) / 2;
        AxisRange x = new(midEast - metresPerPx * insideX / 2, midEast + metresPerPx * insideX / 2);
        AxisRange y = new(midNorth - metresPerPx * insideY / 2, midNorth + metresPerPx * insideY / 2);
        using var picture = new Picture(420, 380, x, y);
        picture.Axes("east of the launch, m", Picture.Ticks(x, 4), "north, m", Picture.Ticks(y, 4));
        int climb = 0;
        var numbers = new List<(string Text, double East, double North)>();
        foreach (SegmentEntry segment in flight.Segments)
        {
            (int from, int to) = Rows(trace, segment);
            climb += segment.Kind == "climb" ? 1 : 0;
            if (to <= from)
            {
                continue;
            }

            (Ink ink, float width, string dash) = Phase(segment.Kind);
            picture.Line(trace.EastM[from..to], trace.NorthM[from..to], ink, width * 0.75f, dash);
            int end = Enumerable.Range(from, to - from).LastOrDefault(i => double.IsFinite(trace.EastM[i]), -1);
            if (segment.Kind == "climb" && end >= 0)
            {
                numbers.Add(($"{climb}", trace.EastM[end], trace.NorthM[end]));
            }
        }

        foreach ((string text, double atEast, double atNorth) in numbers)
        {
            picture.Words(text, atEast, atNorth, Inks.Climb, Alignment.LowerLeft, 5, -3, bold: true);
        }

        picture.Points([0], [0], Inks.Text, MarkerShape.Cross, 12);
        Wind(picture, flight.Wind, EmptiestCorner(trace, x, y), metresPerPx);
        string wind = WindInWords(flight.Wind);
        return (picture.Svg($"flight-{index}-track", $"Track over the ground, flight {index}",
                $"Reached from {Estimate.Number(east.Min(), 0)} to {Estimate.Number(east.Max(), 0)} m east and from {Estimate.Number(north.Min(), 0)} to {Estimate.Number(north.Max(), 0)} m north of the launch. Wind: {wind}"), picture.Area);
    }

    public static string WindInWords(WindEntry wind) => wind is { SpeedMps: { } speed, FromDeg: { } from }
        ? $"{Estimate.Plain(SpeedInterval(wind))} m/s from {Estimate.Number(from, 0)}\u00B0".Replace("- m/s", $"{Estimate.Significant(speed)} m/s", StringComparison.Ordinal)
        : "not known";

    /// <summary>90 % of a normal spread lies within 1.645 standard errors.</summary>
    public static Interval SpeedInterval(WindEntry wind) => wind is { SpeedMps: { } speed, StandardErrorMps: { } error }
        ? new Interval(speed, Math.Max(0, speed - 1.645 * error), speed + 1.645 * error)
        : Interval.Unknown;

    /// <summary>The corner, right or left and up or down, whose neighbourhood the track leaves free the widest.</summary>
    private static (double East, double North) EmptiestCorner(FlightTrace trace, AxisRange x, AxisRange y)
    {
        double inEast = 0.14 * x.Span, inNorth = 0.14 * y.Span;
        (double East, double North)[] corners =
            [(x.High - inEast, y.High - inNorth), (x.Low + inEast, y.High - inNorth), (x.High - inEast, y.Low + inNorth), (x.Low + inEast, y.Low + inNorth)];
        return corners.MaxBy(c => Enumerable.Range(0, trace.EastM.Length)
            .Select(i => Math.Pow(trace.EastM[i] - c.East, 2) + Math.Pow(trace.NorthM[i] - c.North, 2)).Where(double.IsFinite).Min());
    }

    private static void Wind(Picture picture, WindEntry wind, (double East, double North) at, double metresPerPx)
    {
        if (wind is not { EastMps: { } east, NorthMps: { } north, SpeedMps: { } speed } || !(speed > 0))
        {
            return;
        }

        // Its length grows with the wind and stays readable: 30 px in still air, 66 px at 12 m/s.
        double length = metresPerPx * (30 + 3 * Math.Min(speed, 12));
        double halfEast = east / speed * length / 2, halfNorth = north / speed * length / 2;
        picture.Arrow(at.East - halfEast, at.North - halfNorth, at.East + halfEast, at.North + halfNorth, Inks.Accent);
        picture.Words($"{Estimate.Significant(speed)} m/s", at.East, at.North - Math.Abs(halfNorth), Inks.Accent, Alignment.UpperCenter, 0, 9, bold: true);
    }

    /// <summary>Rows of a phase, with the first of the next so that the line has no gaps.</summary>
    private static (int From, int To) Rows(FlightTrace trace, SegmentEntry segment)
    {
        int from = FirstAtOrAfter(trace.TimeS, segment.StartS), to = FirstAtOrAfter(trace.TimeS, segment.EndS);
        return (from, Math.Min(trace.TimeS.Length, to + 1));
    }

    private static int FirstAtOrAfter(double[] times, double t)
    {
        int at = Array.BinarySearch(times, t);
        return at < 0 ? ~at : at;
    }

    private static IEnumerable<(double At, string Label)> Minutes(double seconds)
    {
        double step = ((double[])[10, 30, 60, 120, 300, 600, 1200, 3600]).FirstOrDefault(s => seconds / s <= 6.5, Math.Ceiling(seconds / 3600 / 6) * 3600);
        for (double t = 0; t <= seconds; t += step)
        {
            yield return (t, step < 60 ? $"{(int)(t / 60)}:{(int)(t % 60):00}" : $"{(int)Math.Round(t / 60)}");
        }
    }

    /// <summary>Round times over a window, to the second where it is short.</summary>
    private static IEnumerable<(double At, string Label)> Clock(AxisRange window, int wanted)
    {
        double step = ((double[])[1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 1200, 3600]).FirstOrDefault(s => window.Span / s <= Math.Max(wanted, 2), Math.Ceiling(window.Span / 3600 / 6) * 3600);
        for (double t = Math.Ceiling(window.Low / step - 1e-6) * step; t <= window.High + 1e-6; t += step)
        {
            yield return (t, $"{(int)(t / 60)}:{(int)(t % 60):00}");
        }
    }

    private static string InWords(FlightEntry flight, double highest) => string.Join(" ",
    [
        $"Highest {Estimate.Number(highest, 0)} m.",
        .. flight.Segments.Where(s => s.Kind is "launch" or "climb").Select(s => $"{Words.Capital(Words.Phase(s.Kind))} from {Words.Duration(s.StartS - flight.StartS)} to {Words.Duration(s.EndS - flight.StartS)}, {Estimate.Number(s.HeightChangeM, 0)} m."),
    ]);
}

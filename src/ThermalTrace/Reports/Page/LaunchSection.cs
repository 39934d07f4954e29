using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>Launch height, and how much the model was thrown about, for each ballast.</summary>
internal static class LaunchSection
{
    public static Html Write(ResultsDocument doc, SeriesKey key)
    {
        FlightEntry[] flights = [.. doc.Flights.Where(f => f.BallastG is not null && !f.Spoiled)];
        if (flights.Length == 0)
        {
            return Html.Empty;
        }

        return Parts.Section("launch", "Launch height and steadiness", Html.Of($"""
            <p>What ballast costs at the launch, and what it brings in rough air: a heavier model is thrown about less by the same gust.</p>
            <div class="grid two">{Heights(doc, flights, key)}{Ride(flights, key)}</div>
            {Table(doc, flights, key)}
            """));
    }

    private static Html Heights(ResultsDocument doc, FlightEntry[] flights, SeriesKey key)
    {
        double[] ballasts = [.. key.BallastsG];
        (double X, double Y, double BallastG)[] points =
            [.. flights.SelectMany(f => f.Launches.Where(l => double.IsFinite(l.HeightM)).Select((l, i) => ((double)Array.IndexOf(ballasts, f.BallastG!.Value), l.HeightM, f.BallastG!.Value)))];
        OptionEntry[] options = [.. doc.Comparison.Options.Where(o => Estimate.Known(o.LaunchHeightM))];
        if (points.Length == 0 && options.Length == 0)
        {
            return Html.Empty;
        }

        AxisRange x = new(-0.6, ballasts.Length - 0.4);
        AxisRange y = Around([.. points.Select(p => p.Y), .. options.SelectMany(o => (double[])[o.LaunchHeightM.Low!.Value, o.LaunchHeightM.High!.Value])], 10);
        using var picture = new Picture(480, 320, x, y);
        picture.Axes("ballast", ballasts.Select((b, i) => ((double)i, ballasts.Length > 6 && i % 2 == 1 ? "" : Words.Grams(b))), "launch height, m", Picture.Ticks(y, 5));
        foreach (OptionEntry option in options)
        {
            double at = Array.IndexOf(ballasts, option.BallastG);
            picture.Band([at - 0.3, at + 0.3], [option.LaunchHeightM.Low!.Value, option.LaunchHeightM.Low!.Value], [option.LaunchHeightM.High!.Value, option.LaunchHeightM.High!.Value], key.Style(option.BallastG).Ink, 0.18);
            picture.Line([at - 0.3, at + 0.3], [option.LaunchHeightM.Value!.Value, option.LaunchHeightM.Value!.Value], key.Style(option.BallastG).Ink, 2.5f);
        }

        foreach (IGrouping<double, (double X, double Y, double BallastG)> group in points.GroupBy(p => p.BallastG))
        {
            // Spread sideways in the order flown, so that equal launches do not hide each other.
            (double X, double Y, double BallastG)[] own = [.. group];
            picture.Points([.. own.Select((p, i) => p.X + (own.Length == 1 ? 0 : 0.36 * (i / (own.Length - 1.0) - 0.5)))], [.. own.Select(p => p.Y)], key.Style(group.Key).Ink, key.Style(group.Key).Marker, 9, 0.8);
        }

        string words = string.Join(" ", options.Select(o => $"With {Words.Ballast(o.BallastG)}: {Estimate.Plain(o.LaunchHeightM)} m."));
        return Parts.Figure(picture.Svg("launch-height", "Launch height for each ballast", words),
            Html.Of($"<b>Launch height</b>: each marker is a launch, the bar what to expect with that ballast, 90&nbsp;% sure."), kind: "mid");
    }

    private static Html Ride(FlightEntry[] flights, SeriesKey key)
    {
        bool felt = flights.Any(f => Thrown(f) is not null);
        (double X, double Y, double BallastG)[] points =
        [
            .. flights.Where(f => f.Turbulence.Edr is not null && (felt ? Thrown(f) : Surge(f)) is not null)
                .Select(f => (f.Turbulence.Edr!.Value, (felt ? Thrown(f) : Surge(f))!.Value, f.BallastG!.Value)),
        ];
        if (points.Length == 0)
        {
            return Html.Of($"<p class=\"note\">How much the model was thrown about cannot be told: these logs hold neither an accelerometer nor airspeed.</p>");
        }

        AxisRange x = Around([.. points.Select(p => p.X)], 0.05), y = Around([.. points.Select(p => p.Y)], 0.05);
        using var picture = new Picture(480, 320, x, y);
        picture.Axes("turbulence, m^(2/3)/s", Picture.Ticks(x, 5), felt ? "thrown about, g" : "height energy thrown about, m/s", Picture.Ticks(y, 5));
        foreach (IGrouping<double, (double X, double Y, double BallastG)> group in points.GroupBy(p => p.BallastG).OrderBy(g => g.Key))
        {
            picture.Points([.. group.Select(p => p.X)], [.. group.Select(p => p.Y)], key.Style(group.Key).Ink, key.Style(group.Key).Marker, 11);
        }

        string words = string.Join(" ", points.GroupBy(p => p.BallastG).OrderBy(g => g.Key).Select(g => $"With {Words.Ballast(g.Key)}: {Estimate.Significant(g.Average(p => p.Y))} on average over {Words.Plural(g.Count(), "flight")}."));
        return Parts.Figure(picture.Svg("ride", "How much the model was thrown about", words),
            Html.Of($"<b>Thrown about</b>: each marker is a flight, farther right in rougher air. {(felt ? "Root mean square of the load felt while gliding, in g." : "Root mean square of the rate at which height energy came and went while gliding, 0.3 to 3 s.")} Compare ballasts at the same turbulence."),
            Parts.Key(points.Select(p => p.BallastG).Distinct().Order().Select(b => (key.Sample(b, line: false), Html.Of($"{Words.Grams(b)}")))), "mid");
    }

    /// <summary>A range that holds all values with some room, at least so wide and never below nothing.</summary>
    private static AxisRange Around(double[] values, double atLeast)
    {
        double room = Math.Max(0.25 * (values.Max() - values.Min()), (atLeast - (values.Max() - values.Min())) / 2);
        return new AxisRange(Math.Max(0, values.Min() - room), values.Max() + room);
    }

    private static double? Thrown(FlightEntry flight) => Known(flight.Ride.LoadFactorRms);

    private static double? Surge(FlightEntry flight) => Known(flight.Ride.EnergyRateRmsMps);

    private static double? Known(double? value) => value is { } known && double.IsFinite(known) ? known : null;

    private static Html Table(ResultsDocument doc, FlightEntry[] flights, SeriesKey key)
    {
        int heights = Estimate.Decimals(doc.Comparison.Options.Select(o => o.LaunchHeightM));
        return Parts.Table("Launches and ride", [Parts.Head("Ballast"), Parts.Head("Launches"), Parts.Head("Launch height to expect", "m"), Parts.Head("Thrown about", "g"), Parts.Head("Energy thrown about", "m/s"), Parts.Head("in turbulence of", Parts.EdrUnit)],
            key.BallastsG.Select(b =>
            {
                FlightEntry[] own = [.. flights.Where(f => f.BallastG == b)];
                OptionEntry? option = doc.Comparison.Options.FirstOrDefault(o => o.BallastG == b);
                return (false, (IReadOnlyList<Html>)
                [
                    key.Name(b), Html.Of($"{own.Sum(f => f.Launches.Count)}"),
                    option is null ? Html.Of($"{Parts.Dash}") : Parts.Estimated(option.LaunchHeightM, heights),
                    Mean(own.Select(Thrown)), Mean(own.Select(Surge)), Mean(own.Select(f => Known(f.Turbulence.Edr))),
                ]);
            }));
    }

    private static Html Mean(IEnumerable<double?> values)
    {
        double[] known = [.. values.OfType<double>()];
        return known.Length == 0 ? Html.Of($"{Parts.Dash}") : Html.Of($"{Parts.Significant(known.Average())}");
    }
}

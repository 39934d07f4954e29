using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>Every choice in figures, and the polars measured against predicted.</summary>
internal static class BallastSection
{
    public static Html Choices(ResultsDocument doc, SeriesKey key)
    {
        ComparisonEntry comparison = doc.Comparison;
        if (comparison.Options.Count == 0)
        {
            return Html.Empty;
        }

        int Column(Func<OptionEntry, Interval> of) => Estimate.Decimals(comparison.Options.Select(of));
        bool climb = Words.ByClimb(comparison);
        int climbs = Column(o => o.ClimbMps), heights = Column(o => o.LaunchHeightM), times = Column(o => o.StillAirTimeS);
        var heads = new List<Html> { Parts.Head("Ballast"), Parts.Head("All-up weight", "g"), Parts.Head("Flights flown") };
        if (climb)
        {
            heads.AddRange([Parts.Head("Climb in this lift", "m/s"), Parts.Head("Climb seen", "m/s"), Parts.Head("Airspeed home", "m/s"), Parts.Head("Glide home, over the ground")]);
        }

        heads.AddRange([Parts.Head("Launch height", "m"), Parts.Head("Aloft from there in still air", "s")]);
        Html table = Parts.Table("Each choice in figures", heads, comparison.Options.Select(o =>
        {
            var cells = new List<Html> { key.Name(o.BallastG), Html.Of($"{Estimate.Number(o.FlyingMassG, 0)}"), Html.Of($"{o.Flown.Flights}") };
            if (climb)
            {
                cells.AddRange([Parts.Estimated(o.ClimbMps, climbs), Html.Of($"{Parts.Significant(o.Flown.ClimbMps)}"),
                    Html.Of($"{Parts.Significant(o.ReturnAirspeedMps)}"), Html.Of($"{Parts.Significant(o.ReturnGlideRatio)}")]);
            }

            cells.AddRange([Parts.Estimated(o.LaunchHeightM, heights), Parts.Estimated(o.StillAirTimeS, times)]);
            return (AnswerSection.IsBest(comparison, o), (IReadOnlyList<Html>)cells);
        }));
        bool pictureAbove = !doc.Polars.Any(p => p.Curve.Any(c => c.Flown && c.SinkMps is not null));
        Html picture = pictureAbove ? Html.Empty : OptionPicture.Write(doc, key);
        return Parts.Section("choices", "The choices side by side", Html.Of($"""
            <div class="grid two"><div><p>{Explain(climb)}</p>{Terms(climb)}</div>{picture}</div>
            {table}
            """));
    }

    private static string Explain(bool climb) => climb
        ? "Net climb after coming home is what is left of a climb once the model has drifted downwind with the lift and glided back to where it began: the rate at which a round trip gains height. Below nothing, the trip costs more than it brings."
        : "No lift was worked, so the choices are compared by time aloft in still air, each from its own launch height.";

    private static Html Terms(bool climb) => climb
        ? Html.Of($"""
            <dl class="terms">
            <dt>Climb in this lift</dt><dd>What each ballast would climb at in the lift of this session, sink while circling and time off the core included.</dd>
            <dt>Climb seen</dt><dd>What the flights with it averaged. It scatters with the luck of each thermal, so it decides nothing by itself.</dd>
            <dt>Airspeed home, glide home</dt><dd>The airspeed that makes the most of the way back against this wind, and the metres over the ground for each metre of height at it.</dd>
            </dl>
            """)
        : Html.Empty;

    public static Html Polars(ResultsDocument doc, SessionTraces traces, SeriesKey key)
    {
        if (doc.Polars.Count == 0)
        {
            return Parts.Section("polars-each", "Measured against predicted",
                Html.Of($"<p class=\"note\">No polar could be measured in this session; the list of what it could not tell says why.</p>{Parameters(doc)}"));
        }

        int Column(Func<PolarEntry, Interval> of) => Estimate.Decimals(doc.Polars.Select(of));
        (int sink, int slow, int ratio, int fast) = (Column(p => p.MinSink.SinkMps), Column(p => p.MinSink.AirspeedMps), Column(p => p.BestGlide.Ratio), Column(p => p.BestGlide.AirspeedMps));
        Html table = Parts.Table("The polars in figures",
            [Parts.Head("Ballast"), Parts.Head("Least sink", "m/s"), Parts.Head("at airspeed", "m/s"), Parts.Head("Best glide"), Parts.Head("at airspeed", "m/s"), Parts.Head("Flown between", "m/s")],
            doc.Polars.Select(p => (false, (IReadOnlyList<Html>)
            [
                key.Name(p),
                Parts.Estimated(p.MinSink.SinkMps, sink), Parts.Estimated(p.MinSink.AirspeedMps, slow),
                Parts.Estimated(p.BestGlide.Ratio, ratio), Parts.Estimated(p.BestGlide.AirspeedMps, fast),
                Html.Of($"{(p.FlownAirspeedMps.Count == 2 ? $"{Parts.Number(p.FlownAirspeedMps[0], 1)} to {Parts.Number(p.FlownAirspeedMps[1], 1)}" : Parts.Dash)}"),
            ])));
        Html keys = Parts.Key([(SeriesKey.Line(Inks.Muted), Html.Of($"measured")), (SeriesKey.Band(Inks.Muted), Html.Of($"90&nbsp;% sure")),
            (SeriesKey.Line(Inks.Text, "6 4"), Html.Of($"predicted from geometry")), (SeriesKey.Line(Inks.Muted, "1.5 3.5"), Html.Of($"beyond what was flown")),
            (SeriesKey.Marker(Inks.Muted, ScottPlot.MarkerShape.FilledCircle), Html.Of($"a piece of steady glide"))]);
        return Parts.Section("polars-each", "Measured against predicted", Html.Of($"""
            <p>One drag curve serves the whole airframe, with a small departure for each ballast. Single glides scatter, because the air itself rises and sinks; the curve is what they agree on.</p>
            {keys}
            <div class="grid three">{PolarPictures.Each(doc, traces, key)}</div>
            {table}
            {Parameters(doc)}
            """));
    }

    private static Html Parameters(ResultsDocument doc) => doc.Model.Parameters.Count == 0
        ? Html.Empty
        : Parts.Table("The airframe’s drag curve: predicted from span, area and mass, then tuned by these flights",
            [Parts.Head("Term"), Parts.Head("Predicted"), Parts.Head("Tuned")],
            doc.Model.Parameters.Select(p => (false, (IReadOnlyList<Html>)[Html.Foreign(p.Name.Replace('_', ' ')), Parts.Estimated(p.Predicted), Parts.Estimated(p.Tuned)])));
}

namespace ThermalTrace.Reports.Page;

/// <summary>The flights: a table of all, then each with its pictures.</summary>
internal static class FlightSection
{
    public static Html Write(ResultsDocument doc, SessionTraces traces, SeriesKey key)
    {
        int windDecimals = Estimate.Decimals(doc.Flights.Select(f => FlightPictures.SpeedInterval(f.Wind)));
        bool manyLogs = doc.Flights.Select(f => f.Log).Distinct().Count() > 1;
        Html table = Parts.Table("All flights",
            [Parts.Head("Flight"), Parts.Head("Ballast"), Parts.Head("Length"), Parts.Head("Launch height", "m"), Parts.Head("Climbs"), Parts.Head("Climb", "m/s"), Parts.Head("Wind", "m/s"), Parts.Head("from"), Parts.Head("Turbulence", Parts.EdrUnit)],
            doc.Flights.Select((f, i) => (false, (IReadOnlyList<Html>)
            [
                Html.Of($"<a href=\"#flight-{i + 1}\">{i + 1}</a>{(manyLogs ? Html.Of($" {Html.Foreign(f.Log)}, {f.Number}") : Html.Empty)}{(f.Spoiled ? Html.Of($" <span class=\"tag\">set aside</span>") : Html.Empty)}"),
                f.BallastG is { } ballast ? key.Name(ballast) : Html.Of($"<span class=\"none\">not known</span>"),
                Html.Of($"<span class=\"name\">{Words.Duration(f.EndS - f.StartS)}</span>"),
                Html.Of($"{(f.Launch is { } launch ? Parts.Number(launch.HeightM, 0) : Parts.Dash)}"),
                Html.Of($"{f.Lift.Climbs}"),
                Html.Of($"{Parts.Significant(f.Lift.ClimbMps)}"),
                Parts.Estimated(FlightPictures.SpeedInterval(f.Wind), windDecimals),
                Html.Of($"{(f.Wind.FromDeg is { } from ? Parts.Number(from, 0) + "\u00B0" : Parts.Dash)}"),
                f.Turbulence is { Edr: { } edr, Low: { } low, High: { } high } ? Parts.Estimated(new Interval(edr, low, high)) : Html.Of($"{Parts.Dash}"),
            ])));
        return Parts.Section("flights", "The flights", Html.Of($"""
            {table}
            <p>Climbs carry the same number in both pictures of a flight. The track over the ground has north up and the launch at the cross; the arrow is the wind.</p>
            {FlightPictures.Key()}
            {Html.Join(doc.Flights.Select((f, i) => Card(f, traces.Flights.ElementAtOrDefault(i), i + 1, key)))}
            """));
    }

    private static Html Card(FlightEntry flight, FlightTrace? trace, int index, SeriesKey key)
    {
        Html ballast = flight.BallastG is { } mass ? Html.Of($"{key.Sample(mass, line: false)}{Words.Capital(Words.Ballast(mass))}") : Html.Of($"Ballast not known");
        Html camber = flight.Camber is null ? Html.Empty : Html.Of($", {Html.Foreign(flight.Camber)}");
        string loading = flight.WingLoadingGDm2 is { } w ? $", {Estimate.Number(w, 1)} g/dm\u00B2" : "";
        string lift = flight.Lift is { Climbs: > 0, LiftMps: { } core }
            ? $" Lift at the core {Estimate.Plain(new Interval(core, flight.Lift.LiftMpsLow, flight.Lift.LiftMpsHigh))} m/s.".Replace("- m/s", $"about {Estimate.Significant(core)} m/s", StringComparison.Ordinal)
            : "";
        string launches = flight.Launches.Count > 1 ? $" {Words.Plural(flight.Launches.Count, "launch", "launches")}, motor restarts among them." : "";
        string aside = flight.Spoiled ? " Set aside by the pilot: not used in any result." : flight.BallastG is null ? " Left out of every result for a ballast." : "";
        string wind = flight.Wind.SpeedMps is null ? "" : $" Wind {FlightPictures.WindInWords(flight.Wind)}.";
        Html pictures = trace is null
            ? Html.Of($"<p class=\"note\">No trace was kept of this flight.</p>")
            : Html.Of($"<div class=\"grid flight\">{FlightPictures.Height(flight, trace, index)}{FlightPictures.Track(flight, trace, index)}</div>");
        return Html.Of($"""
            <article id="flight-{index}"><h3>Flight {index} <span class="where">{Html.Foreign(flight.Log)}, number {flight.Number}</span></h3>
            <p>{ballast}{camber}{loading}. {Words.Duration(flight.EndS - flight.StartS)}.{wind}{lift}{launches}{aside}</p>
            {pictures}</article>
            """);
    }
}

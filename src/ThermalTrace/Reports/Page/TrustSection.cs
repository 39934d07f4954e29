using ScottPlot;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>What the answer hangs on: how well the curve fits, which flights pull, what would narrow it.</summary>
internal static class TrustSection
{
    private const int MostFlights = 6;

    public static Html Write(ResultsDocument doc)
    {
        if (doc.Diagnostics is not { ByFlight.Count: > 0, BySpeed.Count: > 0 } diagnostics)
        {
            return Html.Empty;
        }

        return Parts.Section("trust", "What the answer hangs on", Html.Of($"""
            <div class="grid two"><div><ul class="limits">{Html.Join(Sentences(diagnostics).Select(s => Html.Of($"<li>{s}</li>")))}</ul></div>{Leftover(diagnostics)}</div>
            {Flights(diagnostics)}
            """));
    }

    private static IEnumerable<Html> Sentences(DiagnosticsEntry diagnostics)
    {
        if (diagnostics.MisfitProbability is { } chance)
        {
            yield return chance >= Doubts.MisfitChance
                ? Html.Of($"<b>The curve fits.</b> What it leaves over at each airspeed is no more than the air’s own rise and fall makes.")
                : Html.Of($"<b>The curve misfits.</b> What it leaves over at some airspeeds is more than the air’s own rise and fall makes.");
        }

        BallastDiagnosticsEntry[] flown = [.. diagnostics.ByBallast.Where(b => b.EffectiveGlides >= 0.5)];
        if (flown.Length > 0)
        {
            yield return Html.Of($"<b>It rests on</b> as much as {Listed([.. flown.Select(b => $"{Estimate.Number(b.EffectiveGlides, 0)} independent glides with {Words.Ballast(b.BallastG)}")])}. A long glide through different air counts as several.");
        }

        if (Pulls(diagnostics).FirstOrDefault() is { } hardest)
        {
            yield return Html.Of($"<b>The flight that pulls hardest</b> is {Html.Foreign(hardest.Log)} flight {hardest.Number}: without it the sink at {Parts.Significant(diagnostics.ReferenceAirspeedMps)} m/s would be {Step(hardest.SinkChangeMps, "m/s")}{Lead(hardest)}.");
        }

        if (diagnostics.NextGlides is [{ } next, ..] && (next.LeadErrorNowMps ?? next.LeadErrorNowS) is { } now && (next.LeadErrorThenMps ?? next.LeadErrorThenS) is { } then && now > 0)
        {
            string unit = next.LeadErrorNowMps is null ? "s" : "m/s";
            yield return then < 0.97 * now
                ? Html.Of($"<b>What would narrow it most:</b> {next.Glides} more glides of {Estimate.Number(next.SecondsEach, 0)} s at {Parts.Number(next.AirspeedMps, 0)} m/s with {Words.Ballast(next.BallastG)}. The polar’s part in the lead’s standard error would fall from {Parts.Significant(now)} to {Parts.Significant(then)} {unit}.")
                : Html.Of($"<b>Few more glides would hardly narrow it:</b> the best {next.Glides} of {Estimate.Number(next.SecondsEach, 0)} s, at {Parts.Number(next.AirspeedMps, 0)} m/s with {Words.Ballast(next.BallastG)}, would take less than 3 % off the polar’s part in the lead’s standard error, {Parts.Significant(now)} {unit}. It takes another day’s flying.");
        }
    }

    private static Html Leftover(DiagnosticsEntry diagnostics)
    {
        SpeedResidualEntry[] bins = [.. diagnostics.BySpeed.Where(b => Estimate.Known(b.ExcessSinkMps))];
        double most = Math.Max(bins.Select(b => Math.Max(Math.Abs(b.ExcessSinkMps.Low!.Value), Math.Abs(b.ExcessSinkMps.High!.Value))).DefaultIfEmpty(0.05).Max() * 1.1, 0.02);
        AxisRange x = new(diagnostics.BySpeed[0].AirspeedLowMps, diagnostics.BySpeed[^1].AirspeedHighMps), y = new(-most, most);
        using var picture = new Picture(480, 280, x, y);
        picture.Axes("airspeed, m/s", Picture.Ticks(x, 6), "sink left over, m/s", Picture.Ticks(y, 5));
        picture.Line([x.Low, x.High], [0, 0], Inks.Muted, 1.5f);
        foreach (SpeedResidualEntry bin in bins)
        {
            double middle = (bin.AirspeedLowMps + bin.AirspeedHighMps) / 2;
            picture.Line([middle, middle], [bin.ExcessSinkMps.Low!.Value, bin.ExcessSinkMps.High!.Value], Inks.Accent, 2.5f);
        }

        picture.Points([.. bins.Select(b => (b.AirspeedLowMps + b.AirspeedHighMps) / 2)], [.. bins.Select(b => b.ExcessSinkMps.Value!.Value)], Inks.Accent, MarkerShape.FilledCircle, 10);
        string words = string.Join(" ", bins.Select(b => $"{Parts.Chosen(b.AirspeedLowMps)} to {Parts.Chosen(b.AirspeedHighMps)} m/s: {Estimate.Plain(b.ExcessSinkMps)}."));
        return Parts.Figure(picture.Svg("left-over", "Sink left over at each airspeed", words),
            Html.Of($"<b>Sink left over</b>: what was seen less what the curve says. Bars that cross the line at nothing are as they should be, 9 in 10 of them."), kind: "mid");
    }

    private static Html Flights(DiagnosticsEntry diagnostics)
    {
        FlightDiagnosticsEntry[] flights = [.. Pulls(diagnostics).Take(MostFlights)];
        bool lead = flights.Any(f => Change(f) is not null);
        string more = diagnostics.ByFlight.Count > flights.Length ? $"; the other {diagnostics.ByFlight.Count - flights.Length} pull less" : "";
        return Parts.Table($"Flights that pull the answer, hardest first{more}",
            [Parts.Head("Flight"), Parts.Head("Gliding"), Parts.Head("Air rose by", "m/s"), Parts.Head("Without it: sink", "m/s"),
                .. lead ? [Parts.Head("Without it: lead of the best", diagnostics.ByFlight.Any(f => f.LeadChangeMps is not null) ? "m/s" : "s")] : Array.Empty<Html>()],
            flights.Select(f => (false, (IReadOnlyList<Html>)
            [
                Html.Of($"{Html.Foreign(f.Log)} {f.Number}"), Html.Of($"{(f.GlidingS is { } s ? Words.Duration(s) : Parts.Dash)}"), Parts.Estimated(f.AirRiseMps),
                Html.Of($"{Signed(f.SinkChangeMps)}"), .. lead ? [Html.Of($"{Signed(Change(f))}")] : Array.Empty<Html>(),
            ])));
    }

    private static IEnumerable<FlightDiagnosticsEntry> Pulls(DiagnosticsEntry diagnostics) => diagnostics.ByFlight.Where(f => f.SinkChangeMps is not null)
        .OrderByDescending(f => Math.Abs(f.SinkChangeMps!.Value));

    private static double? Change(FlightDiagnosticsEntry flight) => flight.LeadChangeMps ?? flight.LeadChangeS;

    private static string Lead(FlightDiagnosticsEntry flight) => Change(flight) is { } change
        ? $" and the lead of the best ballast {Step(change, flight.LeadChangeMps is null ? "s" : "m/s")}"
        : "";

    /// <summary>"0.007 m/s more" or "0.003 m/s less".</summary>
    private static string Step(double? change, string unit) => change is not { } known ? Parts.Dash
        : Math.Abs(known) < 0.0005 ? "hardly other" : $"{Estimate.Number(Math.Abs(known), 3)} {unit} {(known > 0 ? "more" : "less")}";

    private static string Signed(double? change) => change is not { } known ? Parts.Dash
        : Math.Abs(known) < 0.0005 ? "0.000" : (known > 0 ? "+" : "") + Parts.Number(known, 3);

    private static string Listed(string[] parts) => parts.Length < 2 ? string.Concat(parts) : string.Join(", ", parts[..^1]) + " and " + parts[^1];
}

using System.Globalization;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Plan;

/// <summary>
/// The sheet to print and take along: flights in order, what to hold in each, boxes for a pencil from which flights.csv is typed. One file
/// that needs nothing else. Untrusted text is escaped wherever it goes.
/// </summary>
public static class PlanSheet
{
    private const string Document = "plan"; // in the page's mark

    /// <summary>True where a page's first lines say that it is such a sheet.</summary>
    public static bool IsSheet(string head) => PrintedPage.IsOne(head, Document);

    /// <summary>Writes the page; the same plan gives the same text.</summary>
    public static void Write(TextWriter writer, PlanDocument plan)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(plan);
        PrintedPage.Write(writer, Document, $"{Words.Tame(plan.Airframe.Name)}: test flights", StyleSheet.Resource("Plan.plan.css"), Html.Of($"""
            <header>
            <h1>{Html.Foreign(plan.Airframe.Name)}: test flights</h1>
            <p class="lead">{Words.Tame(PlanSentences.Headline(plan))}</p>
            <p>{Words.Tame(plan.Why)}</p>
            </header>
            <p class="blanks"><span>Date</span><span>Field</span><span>Log file</span><span>Wind, where read</span></p>
            {Html.Join(plan.Flights.GroupBy(f => f.Session).Select(s => Day(s.Key, [.. s], plan.Flights[^1].Session > 1)))}
            <section class="how">
            <h2>In the air</h2>
            <p>{PlanSentences.HowToFly}</p>
            <p>Two full circles each way, early and late in every flight, show the wind. Wait ten seconds on the ground before the launch and after the landing. A flight that comes down early still counts; put a cross in “spoiled” only where something was wrong with it.</p>
            <p class="mind">{Words.Tame(string.Join(" ", plan.Cautions))}</p>
            </section>
            <section class="how">
            <h2>At home</h2>
            <p>Times of day on the log’s own clock. Each flight is one line of <b>flights.csv</b> beside the logs:</p>
            <pre>{Example(plan)}</pre>
            </section>
            <section>
            <h2>What to expect</h2>
            <ul>{Html.Join(PlanSentences.Expectations(plan).Select(e => Html.Of($"<li>{e}</li>")))}</ul>
            {ComparedTable(plan)}
            <h3>This takes for granted</h3>
            <ul class="small">{Html.Join(plan.Assumptions.Select(a => Html.Of($"<li>{Words.Tame(a)}</li>")))}</ul>
            </section>
            """));
    }

    private static Html Day(int day, IReadOnlyList<PlanFlightEntry> flights, bool several) => Html.Of($"""
        {(several ? Html.Of($"<h2>Day {day}</h2>") : Html.Empty)}
        <table class="flights">
        <thead><tr><th scope="col">Flight</th><th scope="col">Ballast</th><th scope="col">Hold, out and back</th><th scope="col">Take-off</th><th scope="col">Landing</th><th scope="col">Spoiled</th><th scope="col">Notes</th></tr></thead>
        <tbody>{Html.Join(flights.Select(Flight))}</tbody>
        </table>
        """);

    private static Html Flight(PlanFlightEntry flight) => Html.Of($"""
        <tr><th scope="row" class="number">{flight.Number}</th><td class="ballast"><b>{PlanSentences.Short(flight.BallastG)}</b> <small>{Words.Grams(flight.FlyingMassG)} all up</small></td>
        <td class="hold">{Html.Join(PlanSentences.Pairs(flight).Select(p => Html.Of($"<span>{p}</span>")))}</td>
        <td class="box time" data-name="Take-off"></td><td class="box time" data-name="Landing"></td><td class="box tick" data-name="Spoiled"></td><td class="box notes" data-name="Notes"></td></tr>
        """);

    private static Html ComparedTable(PlanDocument plan) => Html.Of($"""
        <table class="compared"><thead><tr><th scope="col">{Words.Plural(plan.Flights.Count, "flight")} chosen</th><th scope="col">narrow what drag leaves open by</th></tr></thead>
        <tbody>{Html.Join(plan.Compared.Select(c => Html.Of($"<tr><td>{c.Name}</td><td>{PlanSentences.Narrows(plan, c)}</td></tr>")))}</tbody></table>
        """);

    /// <summary>The first two flights as they would be typed, at made-up times.</summary>
    private static string Example(PlanDocument plan)
    {
        List<string> lines = ["log,flight,ballast_g,spoiled,notes"];
        int minute = 10 * 60 + 5;
        foreach (PlanFlightEntry flight in plan.Flights.Take(2))
        {
            int end = minute + (int)Math.Ceiling(flight.FlightTimeS / 60);
            lines.Add(string.Create(CultureInfo.InvariantCulture, $"day.csv,{minute / 60:00}:{minute % 60:00}-{end / 60:00}:{end % 60:00},{flight.BallastG:0.#},{(flight.Number == 2 ? "yes" : "")},{(flight.Number == 2 ? "let go too early" : "")}"));
            minute = end + 4;
        }
        return string.Join("\n", lines);
    }
}

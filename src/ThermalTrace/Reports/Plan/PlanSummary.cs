using System.Globalization;
using System.Text;

namespace ThermalTrace.Reports.Plan;

/// <summary>The plan on a terminal: what is open, what to fly, what to expect; plain text without colour.</summary>
public static class PlanSummary
{
    private static readonly string[] Heads = ["flight", "ballast", "all up", "hold, out and back"];
    private static readonly string[] ComparedHeads = ["flights chosen", "narrow what drag leaves open by"];

    /// <summary>The text, lines ended by LF.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="width">Columns of the terminal; taken as at least 40 and at most 100. Tables may be wider.</param>
    public static string Write(PlanDocument plan, int width)
    {
        ArgumentNullException.ThrowIfNull(plan);
        int columns = Math.Clamp(width, 40, 100), days = plan.Flights.Select(f => f.Session).DefaultIfEmpty(1).Max();
        StringBuilder text = new();
        void Say(string paragraph, string hanging = "") => PlainSummary.Paragraph(text, PlainSummary.Together(Words.Tame(paragraph)), columns, hanging);
        Say($"{plan.Airframe.Name}: what to fly next");
        text.Append('\n');
        Say(plan.Why);
        text.Append('\n');
        Say(PlanSentences.Headline(plan) + ":");
        Table(text, [Heads, .. plan.Flights.Select(f => new[] { Number(f, days), PlanSentences.Short(f.BallastG), Words.Grams(f.FlyingMassG), string.Join(", ", PlanSentences.Pairs(f)) })]);
        Say(PlanSentences.HowToFly);
        text.Append('\n');
        Say("What to expect:");
        foreach (string expected in PlanSentences.Expectations(plan))
        {
            Say("- " + expected, "  ");
        }
        text.Append('\n');
        Table(text, [ComparedHeads, .. plan.Compared.Select(c => new[] { c.Name ?? "", PlanSentences.Narrows(plan, c) })]);
        text.Append('\n');
        Say("This takes for granted, and mind:");
        foreach (string assumption in plan.Assumptions.Concat(plan.Cautions))
        {
            Say("- " + assumption, "  ");
        }
        return text.ToString();
    }

    private static string Number(PlanFlightEntry flight, int days) =>
        flight.Number.ToString(CultureInfo.InvariantCulture) + (days > 1 ? string.Create(CultureInfo.InvariantCulture, $", day {flight.Session}") : "");

    private static void Table(StringBuilder text, IReadOnlyList<string[]> rows)
    {
        int[] widths = [.. Enumerable.Range(0, rows[0].Length).Select(i => rows.Max(r => r[i].Length))];
        foreach (string[] row in rows)
        {
            text.Append(("  " + string.Join("  ", row.Select((cell, i) => cell.PadRight(widths[i])))).TrimEnd()).Append('\n');
        }
    }
}

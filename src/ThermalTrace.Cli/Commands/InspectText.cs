using System.Globalization;

namespace ThermalTrace.Cli.Commands;

/// <summary>What the importer found, for a person.</summary>
internal static class InspectText
{
    // A log with a fault on every row must not scroll the rest away; --json has them all.
    private const int ShownProblems = 12;
    private const int ShownGaps = 8;
    private const int LongestName = 44;

    public static void Write(Terminal terminal, InspectedLog log)
    {
        TextWriter output = terminal.Output;
        CultureInfo invariant = CultureInfo.InvariantCulture;
        output.WriteLine(Terminal.Visible(log.File));
        output.WriteLine(string.Create(invariant, $"  {log.Rows:N0} rows over {ClockText.Length(log.LengthS)}")
            + (log.RateHz is { } rate ? string.Create(invariant, $", {rate:0.##} a second") : "")
            + (log.StartedAt is { } stamp ? $", begun {stamp}" : log.ClockAtStart is { } clock ? $", begun {clock}" : ", without a clock"));
        WriteChannels(terminal, log);
        if (log.Gaps.Count > 0)
        {
            output.WriteLine(string.Create(invariant, $"  {log.Gaps.Count} {(log.Gaps.Count == 1 ? "gap" : "gaps")}: ")
                + string.Join(", ", log.Gaps.Take(ShownGaps).Select(g => string.Create(invariant, $"{g.LengthS:0.#} s at {g.StartS:0.#} s")))
                + (log.Gaps.Count > ShownGaps ? ", …" : ""));
        }
        foreach (InspectedProblem problem in log.Problems.Take(ShownProblems))
        {
            output.WriteLine(Terminal.Visible("  " + (problem.Line > 0 ? string.Create(invariant, $"line {problem.Line}: ") : "") + problem.Text));
        }
        if (log.Problems.Count > ShownProblems)
        {
            output.WriteLine(string.Create(invariant, $"  and {log.Problems.Count - ShownProblems:N0} more; --json lists them all"));
        }
        output.WriteLine();
    }

    private static void WriteChannels(Terminal terminal, InspectedLog log)
    {
        string[][] rows =
        [
            ["quantity", "column", "unit", "values", "least", "greatest"],
            .. log.Channels.Select(c => new[]
            {
                c.Quantity, Shortened(Terminal.Visible(c.Column)) + (c.Derived ? " (computed)" : ""), Terminal.Visible(c.Unit),
                c.Values.ToString("N0", CultureInfo.InvariantCulture), Number(c.Least), Number(c.Greatest),
            }),
        ];
        int[] widths = [.. Enumerable.Range(0, rows[0].Length).Select(i => rows.Max(r => r[i].Length))];
        foreach (string[] row in rows)
        {
            IEnumerable<string> cells = row.Select((cell, i) => i < 3 ? cell.PadRight(widths[i]) : cell.PadLeft(widths[i]));
            terminal.Output.WriteLine("  " + string.Join("  ", cells));
        }
    }

    private static string Shortened(string text) => text.Length <= LongestName ? text : text[..(LongestName - 1)] + "…";

    private static string Number(double? value) => value?.ToString("0.####", CultureInfo.InvariantCulture) ?? "–";
}

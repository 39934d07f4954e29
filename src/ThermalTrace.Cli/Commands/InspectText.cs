using System.Globalization;
using Spectre.Console;

namespace ThermalTrace.Cli.Commands;

/// <summary>What the importer found, for a person.</summary>
internal static class InspectText
{
    // A log with a fault on every row must not scroll the rest away; --json has them all.
    private const int ShownProblems = 12;
    private const int ShownGaps = 8;

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
        CultureInfo invariant = CultureInfo.InvariantCulture;
        Table table = new() { Border = TableBorder.None, ShowHeaders = true };
        foreach (string header in new[] { "  quantity", "column", "unit", "values", "least", "greatest" })
        {
            table.AddColumn(new TableColumn(new Text(header)) { NoWrap = header is not "column", Alignment = header is "values" or "least" or "greatest" ? Justify.Right : Justify.Left });
        }
        foreach (InspectedChannel channel in log.Channels)
        {
            table.AddRow(new Text("  " + channel.Quantity), new Text(Terminal.Visible(channel.Column) + (channel.Derived ? " (computed)" : "")),
                new Text(Terminal.Visible(channel.Unit)), new Text(channel.Values.ToString("N0", invariant)),
                new Text(Number(channel.Least)), new Text(Number(channel.Greatest)));
        }
        IAnsiConsole console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Out = new AnsiConsoleOutput(terminal.Output),
            Ansi = AnsiSupport.No,
            ColorSystem = ColorSystemSupport.NoColors,
            Interactive = InteractionSupport.No,
        });
        console.Profile.Width = terminal.Width;
        console.Write(table);
    }

    private static string Number(double? value) => value?.ToString("0.####", CultureInfo.InvariantCulture) ?? "–";
}

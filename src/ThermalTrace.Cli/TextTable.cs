namespace ThermalTrace.Cli;

/// <summary>A table of plain text: columns as wide as they need, so that a number is never broken.</summary>
internal static class TextTable
{
    /// <summary>Writes the rows, heads first, indented by two.</summary>
    /// <param name="output">Where to.</param>
    /// <param name="numbersFrom">The first column that is set to the right.</param>
    /// <param name="rows">Cells; all rows of one length.</param>
    public static void Write(TextWriter output, int numbersFrom, IReadOnlyList<string[]> rows)
    {
        int[] widths = [.. Enumerable.Range(0, rows[0].Length).Select(i => rows.Max(r => r[i].Length))];
        foreach (string[] row in rows)
        {
            IEnumerable<string> cells = row.Select((cell, i) => i < numbersFrom ? cell.PadRight(widths[i]) : cell.PadLeft(widths[i]));
            output.WriteLine(("  " + string.Join("  ", cells)).TrimEnd());
        }
    }
}

using System.Text;

namespace ThermalTrace.Reports.Fitting;

/// <summary>Columns of plain text.</summary>
internal static class TextColumns
{
    /// <summary>Writes rows, the first so many columns (or, below 0, the last) read from the left, the others lined up at the right.</summary>
    /// <param name="text">To write to.</param>
    /// <param name="rows">With their heads first.</param>
    /// <param name="left">How many columns are words; -1 for the last alone, which then breaks at commas.</param>
    /// <param name="columns">Of the terminal, for a last column that breaks.</param>
    public static void Write(StringBuilder text, IReadOnlyList<string[]> rows, int left, int columns = int.MaxValue)
    {
        int[] widths = Widths(rows);
        foreach (string[] row in rows)
        {
            string line = string.Join("  ", row.Select((cell, i) => Plain(left < 0 ? i == row.Length - 1 ? cell : cell.PadLeft(widths[i]) : i < left ? cell.PadRight(widths[i]) : cell.PadLeft(widths[i]))));
            if (left >= 0 || line.Length <= columns)
            {
                text.Append(line.TrimEnd()).Append('\n');
                continue;
            }
            int indent = widths[..^1].Sum() + 2 * (widths.Length - 1);
            StringBuilder words = new();
            // Too narrow beside the numbers: beneath them.
            bool beneath = columns - indent < 16;
            string hanging = new(' ', beneath ? 4 : indent);
            PlainSummary.Paragraph(words, Words.Tame(row[^1]), columns - hanging.Length);
            string[] lines = words.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries);
            string numbers = string.Join("  ", row[..^1].Select((cell, i) => Plain(cell.PadLeft(widths[i]))));
            text.Append(beneath ? numbers + "\n" + hanging : numbers + "  ").Append(string.Join("\n" + hanging, lines)).Append('\n');
        }
    }

    /// <summary>Of the widest row.</summary>
    public static int Width(IReadOnlyList<string[]> rows) => Widths(rows) is var widths ? widths.Sum() + 2 * (widths.Length - 1) : 0;

    private static int[] Widths(IReadOnlyList<string[]> rows) => [.. Enumerable.Range(0, rows[0].Length).Select(i => rows.Max(r => r[i].Length))];

    private static string Plain(string cell) => Words.Tame(cell).Replace('\u00A0', ' ');
}

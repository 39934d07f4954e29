using System.Globalization;
using System.Text;
using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Reports.Stick;

/// <summary>The sticks on a terminal: a table, the best in detail, what to mind; plain text without colour.</summary>
public static class StickSummary
{
    // The most telling first: what has no room on a narrow terminal is left out from the right.
    private static readonly string[] Heads = ["", "thick", "long", "pitch slower", "CG", "middle"], Units = ["", "mm", "mm", "%", "mm", "mm"];
    private const int NameWidth = 28;

    /// <summary>The text, lines ended by LF.</summary>
    /// <param name="document">The sticks.</param>
    /// <param name="width">Columns of the terminal; taken as at least 40 and at most 100. The table leaves out what has no room, from the right, down to the lengths.</param>
    public static string Write(StickDocument document, int width)
    {
        ArgumentNullException.ThrowIfNull(document);
        int columns = Math.Clamp(width, 40, 100);
        StringBuilder text = new();
        void Say(string paragraph, string hanging = "") => PlainSummary.Paragraph(text, PlainSummary.Together(Words.Tame(paragraph)), columns, hanging);
        Say($"{document.Airframe.Name}: {Words.Grams(document.BallastAskedG)} as a stick for the tube");
        text.Append('\n');
        Say(StickSentences.Headline(document));
        if (StickSentences.AsGood(document) is { Length: > 0 } close)
        {
            Say(close);
        }
        text.Append('\n');
        Table(text, document, columns);
        if (StickSentences.Best(document) is { } best)
        {
            text.Append('\n');
            Say(StickSentences.Name(best) + ":");
            foreach ((string head, string detail) in StickSentences.Details(document, best))
            {
                Say($"- {head}: {detail}", "  ");
            }
        }
        if (StickSentences.Throw(document) is { Length: > 0 } load)
        {
            text.Append('\n');
            Say(load);
        }
        EffectTable.Write(text, document.Effects, columns);
        text.Append('\n');
        Say("Mind:");
        foreach (string caution in Cautions(document))
        {
            Say("- " + caution, "  ");
        }
        return text.ToString();
    }

    /// <summary>Each caution once: those of single options, then those of all.</summary>
    internal static IEnumerable<string> Cautions(StickDocument document) => [.. StickSentences.OfOptions(document), .. document.Cautions];

    private static void Table(StringBuilder text, StickDocument document, int columns)
    {
        List<string[]> rows = [Heads, Units, .. document.Options.Select(o => Row(document, o, o == StickSentences.Best(document)))];
        int shown = Heads.Length;
        int[] widths = [.. Enumerable.Range(0, shown).Select(i => rows.Max(r => r[i].Length))];
        while (shown > 3 && widths.Take(shown).Sum() + 2 * (shown - 1) > columns)
        {
            shown--;
        }
        foreach (string[] row in rows)
        {
            text.Append(string.Join("  ", row.Take(shown).Select((cell, i) => i == 0 ? cell.PadRight(widths[i]) : cell.PadLeft(widths[i]))).TrimEnd()).Append('\n');
        }
    }

    private static string[] Row(StickDocument document, StickOptionEntry option, bool best)
    {
        string[] cells = Cells(document, option);
        string name = cells[0];
        return [(best ? "> " : !option.Fits ? "x " : StickSentences.MayBeFlown(document, option) ? "  " : "! ") + PieceRun.Shortened(name, NameWidth), .. cells[1..]];
    }

    /// <summary>An option's numbers: name, thickness, length, slowness in pitch, centre of gravity, place of its middle.</summary>
    internal static string[] Cells(StickDocument document, StickOptionEntry option) =>
    [
        $"{Words.Tame(option.Material)} {option.Form}",
        option.DiameterMm.ToString("0.##", CultureInfo.InvariantCulture),
        Estimate.Plain(StickSentences.Length(option), 1),
        Estimate.Plain(Slower(option), SlowerDecimals(document)),
        Number(option.CgMm),
        Number(option.CentreMm),
    ];

    private static Interval Slower(StickOptionEntry option) => FittingWords.SlowerPercent(option.PitchPeriodRatio);

    /// <summary>One rounding for the column, that of the narrowest interval: by any other a compact stick would be slower by "0.1 (0.0 to 0.2)".</summary>
    private static int SlowerDecimals(StickDocument document) =>
        document.Options.Select(Slower).Where(Estimate.Known).Select(i => Estimate.Decimals(i.Low!.Value, i.High!.Value)).DefaultIfEmpty(2).Max();

    private static string Number(double? value) => value is { } v ? Estimate.Number(v, 1) : "-";
}

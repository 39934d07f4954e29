using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace ThermalTrace.Reports;

/// <summary>The short answer on a terminal: plain text without colour, lines no longer than the width.</summary>
public static partial class PlainSummary
{
    /// <summary>The summary, lines ended by LF.</summary>
    /// <param name="doc">The result.</param>
    /// <param name="width">Columns of the terminal; taken as at least 40 and at most 100.</param>
    public static string Write(ResultsDocument doc, int width)
    {
        doc = ResultsJson.AsWritten(doc);
        int columns = Math.Clamp(width, 40, 100);
        ComparisonEntry comparison = doc.Comparison;
        int ballasts = doc.Flights.Select(f => f.BallastG).OfType<double>().Distinct().Count();
        var text = new StringBuilder();
        Paragraph(text, $"{Shortened(Words.Tame(doc.Airframe.Name), 60)}: {Words.Plural(doc.Flights.Count, "flight")}, {Words.Plural(ballasts, "ballast")} flown, {Words.Plural(doc.Logs.Count, "log")}", columns);
        text.Append('\n');
        Paragraph(text, Words.Answer(comparison), columns);
        Paragraph(text, Words.Certainty(comparison), columns);
        Paragraph(text, Words.Tame(comparison.Why), columns);
        text.Append('\n');
        Paragraph(text, "Conditions: " + Conditions(comparison.Conditions), columns);
        if (comparison.Options.Count > 0)
        {
            text.Append('\n');
            Table(text, comparison, columns);
        }

        if (!string.IsNullOrWhiteSpace(comparison.FlyNext))
        {
            text.Append('\n');
            Paragraph(text, "Fly next: " + Words.Tame(comparison.FlyNext), columns);
        }

        if (doc.Limits.Count > 0)
        {
            text.Append('\n');
            Paragraph(text, $"What this session could not tell ({doc.Limits.Count.ToString(CultureInfo.InvariantCulture)}):", columns);
            foreach (string limit in doc.Limits)
            {
                Paragraph(text, "- " + Words.Tame(limit), columns, "  ");
            }
        }

        return text.ToString();
    }

    private static string Conditions(ConditionsEntry c) => string.Join(", ",
    [
        c.WindMps is { } wind
            ? "wind " + (c is { WindMpsLow: { } calmer, WindMpsHigh: { } stronger } ? Estimate.Plain(new Interval(wind, calmer, stronger)) : Estimate.Significant(wind)) + " m/s"
            : "wind not known",
        c.LiftMps is { } lift
            ? "lift at the core " + (c is { LiftMpsLow: { } low, LiftMpsHigh: { } high } ? Estimate.Plain(new Interval(lift, low, high)) : Estimate.Significant(lift)) + " m/s"
            : "no lift worked",
        c.Edr is { } edr ? $"turbulence {Words.Turbulence(edr)} ({Estimate.Significant(edr)} m^(2/3)/s)" : "turbulence not known",
    ]) + ".";

    private static void Table(StringBuilder text, ComparisonEntry comparison, int columns)
    {
        int decimals = Estimate.Decimals(comparison.Options.Select(o => Words.Measured(comparison, o)));
        var rows = new List<string[]> { new[] { "", "Ballast", Words.MeasureName(comparison) + ", " + Words.MeasureUnit(comparison), "Best", "Rests on" } };
        rows.AddRange(comparison.Options.Select(o => new[]
        {
            Words.Best(comparison) == o && comparison.Verdict != "unknown" && comparison.Options.Count > 1 ? ">" : "",
            Words.Grams(o.BallastG),
            Estimate.Plain(Words.Measured(comparison, o), decimals),
            o.ProbabilityBest is { } share ? Words.Percent(share) : "-",
            Words.Support(o.Support),
        }));
        int[] widths = [.. Enumerable.Range(0, 5).Select(c => rows.Skip(1).Max(r => r[c].Length))];
        string[] heads = rows[0];
        // A long heading goes over several lines so that the table stays narrow.
        string[][] stacked = [.. heads.Select((h, c) => Wrap(h, Math.Max(widths[c], c == 2 ? 16 : h.Length)).ToArray())];
        int[] full = [.. widths.Select((w, c) => Math.Max(w, stacked[c].Select(l => l.Length).DefaultIfEmpty(0).Max()))];
        int last = columns - full.Take(4).Sum() - 8;
        bool withSupport = last >= full[4];
        int height = stacked.Max(s => s.Length);
        for (int line = 0; line < height; line++)
        {
            Row(text, [.. stacked.Select(s => line >= height - s.Length ? s[line - (height - s.Length)] : "")], full, withSupport);
        }

        foreach (string[] row in rows.Skip(1))
        {
            Row(text, row, full, withSupport);
        }
    }

    private static void Row(StringBuilder text, string[] cells, int[] widths, bool withSupport)
    {
        string row = cells[0].PadRight(widths[0]) + " " + string.Join("  ", cells.Skip(1).Take(3).Select((c, i) => c.PadLeft(widths[i + 1])))
            + (withSupport ? "  " + cells[4] : "");
        text.Append(row.TrimEnd()).Append('\n');
    }

    internal static void Paragraph(StringBuilder text, string paragraph, int columns, string hanging = "")
    {
        foreach ((int index, string line) in Wrap(paragraph, columns - hanging.Length).Index())
        {
            text.Append(index == 0 ? "" : hanging).Append(line).Append('\n');
        }
    }

    /// <summary>A paragraph in which no line ends between a number and its unit.</summary>
    internal static string Together(string paragraph) => NumberAndUnit().Replace(paragraph, "$1\u00A0");

    [GeneratedRegex(@"(?<=^|[\s(±<>-])([0-9][0-9.]*) (?=(?:g|m|s|%|min|m/s|kg/m3|m\^\(2/3\)/s)(?:$|[\s,.:;)]))", RegexOptions.CultureInvariant)]
    private static partial Regex NumberAndUnit();

    private static IEnumerable<string> Wrap(string paragraph, int columns) => Lines(paragraph, columns).Select(line => line.Replace('\u00A0', ' '));

    private static IEnumerable<string> Lines(string paragraph, int columns)
    {
        var line = new StringBuilder();
        foreach (string word in paragraph.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > columns)
            {
                yield return line.ToString();
                line.Clear();
            }

            string rest = word;
            while (line.Length == 0 && rest.Length > columns)
            {
                yield return rest[..columns];
                rest = rest[columns..];
            }

            line.Append(line.Length > 0 ? " " : "").Append(rest);
        }

        if (line.Length > 0)
        {
            yield return line.ToString();
        }
    }

    private static string Shortened(string text, int most) => text.Length <= most ? text : text[..(most - 3)] + "...";
}

using System.Text;
using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>What stands before the rows of a delimited log, and the first rows as a sample.</summary>
internal sealed record Preamble
{
    /// <summary>Columns beyond this many are a mistake, not a log.</summary>
    public const int MaxColumns = 4096;

    private const int LinesLookedAt = 400;
    private const int SampleRows = 400;

    /// <summary>Beyond this many lines a quote that opens is a slip in a row, not a header of several lines.</summary>
    private const int HeaderLinesAtMost = 20;

    public required byte Separator { get; init; }

    /// <summary>The columns' names; <c>column 1</c> and so on where the log has no header.</summary>
    public required IReadOnlyList<string> Headers { get; init; }

    /// <summary>Fields of a units row under the header; empty where there is none.</summary>
    public required IReadOnlyList<string> Units { get; init; }

    /// <summary>The header line's bytes, to know it again further down.</summary>
    public required byte[] HeaderBytes { get; init; }

    /// <summary>Line of the header, counted from 1; 0 where the log has none.</summary>
    public required int HeaderLine { get; init; }

    /// <summary>Where the rows begin: line counted from 1, and offset in the text.</summary>
    public required int DataLine { get; init; }

    public required int DataOffset { get; init; }

    /// <summary>Fields of the first rows.</summary>
    public required IReadOnlyList<byte[][]> Sample { get; init; }

    /// <summary>The decimal mark that most numbers of the sample have; 0 where none has one.</summary>
    public byte DecimalMark { get; private init; }

    private readonly record struct Line(int Start, int Length, int Number);

    /// <summary>Finds separator and header.</summary>
    /// <param name="head">The text's beginning, without a byte order mark.</param>
    /// <param name="whole">True where that is all of it.</param>
    /// <exception cref="UnusableInputException">It is no table.</exception>
    public static Preamble Find(ReadOnlySpan<byte> head, bool whole, string name, IReadOnlyList<ColumnNote> notes)
    {
        List<Line> lines = SplitLines(head, whole);
        if (lines.Count == 0)
        {
            throw new UnusableInputException(whole
                ? $"{name}: the file holds no text; expected a header line and rows of a log"
                : $"{name}: there is no line end in the first {Words.Count(head.Length, "byte")}; expected rows of a log, at most 1 MiB a line and {MaxColumns:N0} columns");
        }
        byte hint = SeparatorHint(head, lines);
        (int best, byte separator, double bestScore) = (-1, 0, 0);
        foreach (byte candidate in hint != 0 ? [hint] : ",;\t|"u8.ToArray())
        {
            int[] counts = new int[lines.Count];
            for (int i = 0; i < lines.Count; i++)
            {
                counts[i] = CountFields(head.Slice(lines[i].Start, lines[i].Length), candidate);
            }
            for (int i = 0; i < lines.Count; i++)
            {
                if (counts[i] < 2)
                {
                    continue;
                }
                double score = Score(head, lines, counts, i, candidate, notes);
                if (score > bestScore + 1e-9)
                {
                    (best, separator, bestScore) = (i, candidate, score);
                }
            }
        }
        if (best < 0)
        {
            throw new UnusableInputException(
                $"{name}: no columns were found; looked for commas, semicolons, tabs or bars between at least two columns, and line {lines[0].Number} is \"{ProblemList.Quote(head.Slice(lines[0].Start, lines[0].Length))}\"");
        }
        return Cut(head, whole, lines, best, separator, name);
    }

    private static Preamble Cut(ReadOnlySpan<byte> head, bool whole, List<Line> lines, int header, byte separator, string name)
    {
        byte[][] fields = SplitFields(StripComment(head.Slice(lines[header].Start, lines[header].Length)), separator);
        if (fields.Length > MaxColumns)
        {
            throw new UnusableInputException($"{name}:{lines[header].Number}: {fields.Length:N0} columns; a log has at most {MaxColumns:N0}");
        }
        bool noHeader = Array.TrueForAll(fields, LooksLikeData);
        string[] headers = noHeader
            ? [.. Enumerable.Range(1, fields.Length).Select(i => $"column {i}")]
            : Array.ConvertAll(fields, f => Encoding.UTF8.GetString(f).Trim());
        int first = noHeader ? header : header + 1;
        string[] units = [];
        if (!noHeader && first < lines.Count)
        {
            byte[][] next = SplitFields(StripComment(head.Slice(lines[first].Start, lines[first].Length)), separator);
            if (IsUnitsRow(next, headers))
            {
                units = Array.ConvertAll(next, f => Encoding.UTF8.GetString(f).Trim());
                first++;
            }
        }
        List<byte[][]> sample = [];
        for (int i = first; i < lines.Count && sample.Count < SampleRows; i++)
        {
            ReadOnlySpan<byte> text = head.Slice(lines[i].Start, lines[i].Length);
            if (text[0] != '#' && text.Trim(" \t,;|\""u8).Length > 0)
            {
                sample.Add(SplitFields(text, separator));
            }
        }
        bool rows = first < lines.Count;
        if (!rows && !whole && lines.Count < LinesLookedAt)
        {
            throw new UnusableInputException($"{name}:{lines[^1].Number + 1}: the line goes on for more than {Words.Count(head.Length - lines[^1].Start - lines[^1].Length, "byte")}; expected a row of {Words.Count(fields.Length, "field")}");
        }
        return new Preamble
        {
            Separator = separator,
            Headers = headers,
            Units = units,
            HeaderBytes = noHeader ? [] : head.Slice(lines[header].Start, lines[header].Length).ToArray(),
            HeaderLine = noHeader ? 0 : lines[header].Number,
            DataLine = rows ? lines[first].Number : lines[^1].Number + 1,
            DataOffset = rows ? lines[first].Start : head.Length,
            Sample = sample,
            DecimalMark = UsualMark(sample),
        };
    }

    /// <summary>How much a line looks like the header: names understood, and rows below with as many fields.</summary>
    private static double Score(ReadOnlySpan<byte> head, List<Line> lines, int[] counts, int at, byte separator, IReadOnlyList<ColumnNote> notes)
    {
        int below = 0, agree = 0;
        for (int i = at + 1; i < lines.Count && below < 60; i++)
        {
            below++;
            agree += counts[i] == counts[at] || counts[i] == counts[at] + 1 ? 1 : 0;
        }
        double agreement = below == 0 ? 0.5 : (double)agree / below;
        byte[][] fields = SplitFields(StripComment(head.Slice(lines[at].Start, lines[at].Length)), separator);
        if (fields.Length > MaxColumns)
        {
            return 0.02 * (0.1 + agreement);
        }
        int understood = 0, words = 0;
        foreach (byte[] field in fields)
        {
            if (LooksLikeData(field))
            {
                continue;
            }
            string text = Encoding.UTF8.GetString(field).Trim();
            words += text.Length > 0 ? 1 : 0;
            bool noted = notes.Any(n => string.Equals(n.Column.Trim(), text, StringComparison.OrdinalIgnoreCase));
            understood += noted || ColumnHeader.Read(text).Meanings.Count > 0 ? 1 : 0;
        }
        // Understood names decide; then names at all; then, for a log without a header, the shape alone.
        double name = understood + 0.05 * (double)words / fields.Length + 0.01 * Math.Min(fields.Length, 20) / 20;
        return name * (0.1 + agreement);
    }

    private static bool LooksLikeData(byte[] field)
    {
        ReadOnlySpan<byte> text = NumberText.Trim(field);
        return text.Length == 0 || NumberText.TryParse(text, out _, out _) || TimeText.TryClock(text, out _, out _)
            || TimeText.TryDateTime(text, DateOrder.DayMonthYear, out _, out _, out _) || TimeText.TryDateTime(text, DateOrder.MonthDayYear, out _, out _, out _)
            || TimeText.TryDate(text, DateOrder.DayMonthYear, out _, out _) || text.Length > 2 && PositionText.TryPair(text, out _, out _) && (uint)(text[0] - '0') <= 9;
    }

    private static bool IsUnitsRow(byte[][] fields, string[] headers)
    {
        if (fields.Length > headers.Length + 1)
        {
            return false;
        }
        int units = 0, others = 0;
        foreach (byte[] field in fields)
        {
            string text = Encoding.UTF8.GetString(NumberText.Trim(field)).Trim('[', ']', '(', ')', '{', '}', '<', '>', ' ');
            if (text.Length == 0 || text is "-" or "--" or "n/a" or "none")
            {
                continue;
            }
            if (NumberText.TryParse(text, out _))
            {
                return false;
            }
            bool known = UnitWords.All(text).Length > 0 || ColumnHeader.Read("x [" + text + "]").UnitText.Length == 0;
            units += known ? 1 : 0;
            others += known ? 0 : 1;
        }
        return units > 0 && units >= others;
    }

    private static byte UsualMark(List<byte[][]> sample)
    {
        int points = 0, commas = 0;
        foreach (byte[] field in sample.SelectMany(r => r))
        {
            if (NumberText.TryParse(field, out _, out byte mark))
            {
                points += mark == '.' ? 1 : 0;
                commas += mark == ',' ? 1 : 0;
            }
        }
        return points + commas == 0 ? (byte)0 : points >= commas ? (byte)'.' : (byte)',';
    }

    private static byte SeparatorHint(ReadOnlySpan<byte> head, List<Line> lines)
    {
        ReadOnlySpan<byte> first = head.Slice(lines[0].Start, lines[0].Length).Trim("\""u8);
        return first.Length == 5 && first.StartsWith("sep="u8) && first[4] is (byte)',' or (byte)';' or (byte)'\t' or (byte)'|' ? first[4] : (byte)0;
    }

    /// <summary>A header may hide behind a comment mark.</summary>
    private static ReadOnlySpan<byte> StripComment(ReadOnlySpan<byte> line)
    {
        if (line.Length > 1 && line[0] is (byte)'#' or (byte)'%')
        {
            line = line.TrimStart("#% "u8);
        }
        else if (line.StartsWith("//"u8))
        {
            line = line.TrimStart("/ "u8);
        }
        return line;
    }

    /// <summary>The first lines that are not blank; a last line that may go on beyond the text is left out.</summary>
    private static List<Line> SplitLines(ReadOnlySpan<byte> head, bool whole)
    {
        List<Line> lines = [];
        int start = 0, number = 1;
        while (start < head.Length && lines.Count < LinesLookedAt)
        {
            int length = head[start..].IndexOfAny((byte)'\n', (byte)'\r');
            if (length < 0)
            {
                if (!whole)
                {
                    break;
                }
                length = head.Length - start;
            }
            int joined = lines.Count < HeaderLinesAtMost ? JoinQuoted(head[start..], ref length) : 0;
            if (head.Slice(start, length).Trim(" \t"u8).Length > 0)
            {
                lines.Add(new Line(start, length, number));
            }
            start += length;
            if (start < head.Length)
            {
                start += head[start] == '\r' && start + 1 < head.Length && head[start + 1] == '\n' ? 2 : 1;
            }
            number += 1 + joined;
        }
        return lines;
    }

    /// <summary>A quoted header may run over two or three lines; gives how many line ends it holds.</summary>
    private static int JoinQuoted(ReadOnlySpan<byte> text, ref int length)
    {
        int joined = length, breaks = 0;
        while (text[..joined].Count((byte)'"') % 2 == 1 && breaks < 3 && joined < text.Length)
        {
            int after = joined + (text[joined] == '\r' && joined + 1 < text.Length && text[joined + 1] == '\n' ? 2 : 1);
            int more = text[after..].IndexOfAny((byte)'\n', (byte)'\r');
            if (more < 0)
            {
                return 0;
            }
            joined = after + more;
            breaks++;
        }
        if (breaks == 0 || text[..joined].Count((byte)'"') % 2 == 1)
        {
            return 0;
        }
        length = joined;
        return breaks;
    }

    private static int CountFields(ReadOnlySpan<byte> line, byte separator)
    {
        int count = 1;
        bool quoted = false;
        foreach (byte c in line)
        {
            quoted ^= c == '"';
            count += c == separator && !quoted ? 1 : 0;
        }
        return count;
    }

    private static byte[][] SplitFields(ReadOnlySpan<byte> line, byte separator)
    {
        List<byte[]> fields = [];
        int start = 0;
        bool quoted = false;
        for (int i = 0; i <= line.Length; i++)
        {
            if (i == line.Length || line[i] == separator && !quoted)
            {
                ReadOnlySpan<byte> field = line[start..i].Trim(" "u8);
                if (field.Length >= 2 && field[0] == '"' && field[^1] == '"')
                {
                    field = field[1..^1];
                }
                fields.Add(field.ToArray());
                start = i + 1;
            }
            else if (line[i] == '"')
            {
                quoted = !quoted;
            }
        }
        return [.. fields];
    }
}

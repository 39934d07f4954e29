using CsvHelper;

namespace ThermalTrace.Logs;

/// <summary>The rows of one block of a delimited log, read without knowing of the others.</summary>
internal sealed class BlockRows
{
    private readonly LineBlock _block;
    private readonly Preamble _table;
    private readonly ColumnPlan _plan;
    private readonly StampReader _stamps;
    private readonly int _stampIndex, _dateIndex, _columns;

    private BlockRows(LineBlock block, Preamble table, ColumnPlan plan)
    {
        _block = block;
        _table = table;
        _plan = plan;
        _stamps = new StampReader(plan.Stamps);
        Marks = new DecimalMarks(table.DecimalMark);
        Ticks = new List<long>(block.Lines + 1);
        Lines = new List<int>(block.Lines + 1);
        Cells = [.. plan.Columns.Select(c => Logs.Cells.For(c, block.Lines + 1, Marks, Problems))];
        _stampIndex = plan.Stamp.Index;
        _dateIndex = plan.Date?.Index ?? -1;
        _columns = table.Headers.Count;
    }

    public ProblemList Problems { get; } = new();

    public DecimalMarks Marks { get; }

    public Cells[] Cells { get; }

    public List<long> Ticks { get; }

    public List<int> Lines { get; }

    /// <summary>Rows that had fields, whether or not they could be read.</summary>
    public int Seen { get; private set; }

    public DateCounts Dates => _stamps.Dates;

    public int? OffsetMinutes => _stamps.OffsetMinutes;

    /// <summary>Reads a block.</summary>
    public static BlockRows Read(LineBlock block, Preamble table, ColumnPlan plan)
    {
        BlockRows rows = new(block, table, plan);
        CsvReaderOptions options = new()
        {
            Separator = (char)table.Separator,
            HasHeader = false,
            TrackLineNumbers = true,
            // One bad quote must not swallow the rest of the file.
            AllowLineBreaksInQuotes = false,
        };
        using CsvReader reader = CsvReader.Create(block.Bytes.AsMemory(0, block.Length), options);
        while (reader.Read())
        {
            rows.Add(reader);
        }
        return rows;
    }

    private void Add(CsvReader row)
    {
        int line = _block.FirstLine - 1 + (int)row.LineNumber;
        int fields = row.FieldCount;
        if (fields != _columns && !Accept(row, fields, line))
        {
            return;
        }
        ReadOnlySpan<byte> stamp = row.GetSpan(_stampIndex);
        ReadOnlySpan<byte> date = _dateIndex >= 0 ? row.GetSpan(_dateIndex) : default;
        Seen++;
        if (!_stamps.TryRead(stamp, date, out long ticks))
        {
            SkipNoTime(row, stamp, line);
            return;
        }
        Ticks.Add(ticks);
        Lines.Add(line);
        foreach (Cells cells in Cells)
        {
            cells.Read(row.GetSpan(cells.Index), line);
        }
    }

    /// <summary>Decides on a row with too few or too many fields.</summary>
    private bool Accept(CsvReader row, int fields, int line)
    {
        ReadOnlySpan<byte> raw = row.RawRecord;
        if (IsBlank(raw) || IsComment(raw, line))
        {
            return false;
        }
        if (fields < _columns)
        {
            if (_block.EndsText && row.ByteOffset + raw.Length == _block.Length)
            {
                Problems.Add(line, $"the last line breaks off; it was left out: \"{ProblemList.Quote(raw)}\"");
                return false;
            }
            if (fields <= Math.Max(_stampIndex, _dateIndex) || fields == 1)
            {
                Problems.Count(ProblemKind.BadRecord, -1, line, raw, (example, n) => $"\"{example}\" is no row of this table; {Words.Count(n, "such line")} skipped");
                return false;
            }
            Problems.Count(ProblemKind.ShortRow, -1, line, raw, (_, n) => $"{fields:N0} fields where the header has {_columns:N0}; the missing ones were left empty ({Words.Count(n, "such row")})");
            return true;
        }
        for (int i = _columns; i < fields; i++)
        {
            if (!NumberText.IsMissing(row.GetSpan(i)))
            {
                Seen++;
                Problems.Count(ProblemKind.LongRow, -1, line, raw, (_, n) => $"{fields:N0} fields where the header has {_columns:N0}; the row was skipped ({Words.Count(n, "such row")})");
                return false;
            }
        }
        return true;
    }

    private void SkipNoTime(CsvReader row, ReadOnlySpan<byte> stamp, int line)
    {
        ReadOnlySpan<byte> raw = row.RawRecord;
        if (IsBlank(raw) || IsComment(raw, line))
        {
            Seen--;
        }
        else if (_table.HeaderBytes.Length > 0 && raw.SequenceEqual(_table.HeaderBytes))
        {
            Problems.Count(ProblemKind.HeaderAgain, -1, line, raw, (_, n) => $"the header again, {Words.Count(n, "time")}; the logger was switched on anew");
        }
        else
        {
            string header = ColumnPlan.ProblemText(_plan.Stamp.Header);
            Problems.Count(ProblemKind.NotATime, -1, line, stamp, (example, n) => $"{header} \"{example}\" is not a time; the row was skipped{(n > 1 ? $" ({n:N0} such rows)" : "")}");
        }
    }

    private static bool IsBlank(ReadOnlySpan<byte> raw) => raw.Trim(" \t\r,;|\""u8).Length == 0;

    private bool IsComment(ReadOnlySpan<byte> raw, int line)
    {
        if (raw[0] is not ((byte)'#' or (byte)'%') && !raw.StartsWith("//"u8))
        {
            return false;
        }
        Problems.Count(ProblemKind.CommentRow, -1, line, raw, (example, n) => $"{Words.Count(n, "comment line")} among the rows passed over: \"{example}\"");
        return true;
    }
}

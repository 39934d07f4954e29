using CsvHelper;
using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>Reads a delimited log into columns.</summary>
internal static class DelimitedReader
{
    /// <summary>Rows beyond this many are refused: more would be no log of a model's day, and memory has an end.</summary>
    private const int MaxRows = 20_000_000;

    /// <summary>A longer line is a broken file.</summary>
    private const int MaxLineBytes = 1 << 20;

    /// <summary>The text looked at to find header and separator.</summary>
    private const int HeadBytes = 1 << 18;

    /// <exception cref="UnusableInputException">No table, no time, no height or no rows.</exception>
    public static RawLog Read(Utf8Stream text, string name, IReadOnlyList<ColumnNote> notes, ProblemList problems)
    {
        ReadOnlySpan<byte> head = text.Peek(HeadBytes);
        if (head.Length == HeadBytes && head.IndexOfAny((byte)'\n', (byte)'\r') < 0)
        {
            head = text.Peek(MaxLineBytes);
        }
        Preamble table = Preamble.Find(head, head.Length < HeadBytes, name, notes);
        if (table.HeaderLine == 0)
        {
            problems.Add(0, $"no header was found; the columns are called \"column 1\" to \"column {table.Headers.Count}\", and columns.csv can say what they are");
        }
        ColumnPlan plan = ColumnPlan.Decide(table, name, notes, problems);
        text.Skip(table.DataOffset);
        Rows rows = new(text, table, plan, problems);
        CsvReaderOptions options = new()
        {
            Separator = (char)table.Separator,
            HasHeader = false,
            TrackLineNumbers = true,
            // One bad quote must not swallow the rest of the file.
            AllowLineBreaksInQuotes = false,
            MaxRecordSize = MaxLineBytes,
        };
        using CsvReader reader = CsvReader.Create(text, options, false);
        try
        {
            while (reader.Read())
            {
                rows.Add(reader);
                if (rows.Count > MaxRows)
                {
                    throw new UnusableInputException($"{name}: more than {MaxRows:N0} rows; split the log");
                }
            }
        }
        catch (CsvFormatException)
        {
            problems.Add(rows.LastLine + 1, $"the line is longer than {MaxLineBytes:N0} bytes; it and what follows were not read");
        }
        return rows.Finish(name);
    }

    /// <summary>The rows as they come in.</summary>
    private sealed class Rows
    {
        private readonly Utf8Stream _text;
        private readonly Preamble _table;
        private readonly ColumnPlan _plan;
        private readonly ProblemList _problems;
        private readonly DecimalMarks _marks = new();
        private readonly Cells[] _cells;
        private readonly ColumnBuffer _ticks = new();
        private readonly List<int> _lines = [];
        private readonly int _stampIndex, _dateIndex, _columns, _lineBase;
        private long _base;
        private int _seen;

        public Rows(Utf8Stream text, Preamble table, ColumnPlan plan, ProblemList problems)
        {
            _text = text;
            _table = table;
            _plan = plan;
            _problems = problems;
            _cells = [.. plan.Columns.Select(c => Cells.For(c, _marks, problems))];
            _stampIndex = plan.Stamp.Index;
            _dateIndex = plan.Date?.Index ?? -1;
            _columns = table.Headers.Count;
            _lineBase = table.DataLine - 1;
        }

        public int Count => _lines.Count;

        public int LastLine { get; private set; }

        public void Add(CsvReader row)
        {
            int line = _lineBase + (int)row.LineNumber;
            LastLine = line;
            int fields = row.FieldCount;
            if (fields != _columns && !Accept(row, fields, line))
            {
                return;
            }
            _seen++;
            ReadOnlySpan<byte> stamp = row.GetSpan(_stampIndex);
            ReadOnlySpan<byte> date = _dateIndex >= 0 ? row.GetSpan(_dateIndex) : default;
            if (!_plan.Stamps.TryRead(stamp, date, out long ticks))
            {
                SkipNoTime(row, stamp, line);
                return;
            }
            if (_lines.Count == 0)
            {
                _base = ticks;
            }
            _ticks.Add(ticks - _base);
            _lines.Add(line);
            foreach (Cells cells in _cells)
            {
                cells.Read(row.GetSpan(cells.Index), line);
            }
        }

        /// <summary>Decides on a row with too few or too many fields.</summary>
        private bool Accept(CsvReader row, int fields, int line)
        {
            ReadOnlySpan<byte> raw = row.RawRecord;
            if (raw.Trim(" \t\r,;|"u8).Length == 0)
            {
                return false;
            }
            if (raw[0] == '#' || raw.StartsWith("//"u8) || raw[0] == '%')
            {
                _problems.Count(ProblemKind.CommentRow, -1, line, raw, (example, n) => $"{Words.Count(n, "comment line")} among the rows passed over: \"{example}\"");
                return false;
            }
            if (fields < _columns)
            {
                if (_text.Exhausted && row.ByteOffset + raw.Length == _text.BytesGiven)
                {
                    _problems.Add(line, $"the last line breaks off; it was left out: \"{ProblemList.Quote(raw)}\"");
                    return false;
                }
                if (fields <= Math.Max(_stampIndex, _dateIndex) || fields == 1)
                {
                    _problems.Count(ProblemKind.BadRecord, -1, line, raw, (example, n) => $"\"{example}\" is no row of this table; {Words.Count(n, "such line")} skipped");
                    return false;
                }
                _problems.Count(ProblemKind.ShortRow, -1, line, raw, (_, n) => $"{fields:N0} fields where the header has {_columns:N0}; the missing ones were left empty ({Words.Count(n, "such row")})");
                return true;
            }
            for (int i = _columns; i < fields; i++)
            {
                if (!NumberText.IsMissing(row.GetSpan(i)))
                {
                    _problems.Count(ProblemKind.LongRow, -1, line, raw, (_, n) => $"{fields:N0} fields where the header has {_columns:N0}; the row was skipped ({Words.Count(n, "such row")})");
                    return false;
                }
            }
            return true;
        }

        private void SkipNoTime(CsvReader row, ReadOnlySpan<byte> stamp, int line)
        {
            ReadOnlySpan<byte> raw = row.RawRecord;
            if (_table.HeaderBytes.Length > 0 && raw.SequenceEqual(_table.HeaderBytes))
            {
                _problems.Count(ProblemKind.HeaderAgain, -1, line, raw, (_, n) => $"the header again, {Words.Count(n, "time")}; the logger was switched on anew");
            }
            else if (raw.Length > 0 && raw[0] == '#')
            {
                _problems.Count(ProblemKind.CommentRow, -1, line, raw, (example, n) => $"{Words.Count(n, "comment line")} among the rows passed over: \"{example}\"");
            }
            else if (raw.Trim(" \t\r,;|"u8).Length > 0)
            {
                string header = ColumnPlan.ProblemText(_plan.Stamp.Header);
                _problems.Count(ProblemKind.NotATime, -1, line, stamp, (example, n) => $"{header} \"{example}\" is not a time; the row was skipped{(n > 1 ? $" ({n:N0} such rows)" : "")}");
            }
        }

        public RawLog Finish(string name)
        {
            if (_lines.Count == 0)
            {
                int tooLong = _problems.CountOf(ProblemKind.LongRow, -1);
                throw new UnusableInputException(
                    tooLong > 0 ? $"{name}: every row has more fields than the header's {_columns:N0}; a decimal comma in a file separated by commas? Export it with semicolons"
                    : _seen > 0 ? $"{name}: none of {Words.Count(_seen, "row")} has a time that can be read in column \"{ColumnPlan.ProblemText(_plan.Stamp.Header)}\""
                    : $"{name}: there is no row below the header in line {_table.HeaderLine}");
            }
            if (_marks.Others > 0)
            {
                bool comma = _marks.Usual == '.';
                _problems.Add(_marks.FirstOtherLine, $"a decimal {(comma ? "comma" : "point")} in {Words.Count(_marks.Others, "number")} of a file with decimal {(comma ? "points" : "commas")}; both were read as decimals");
            }
            Dictionary<Quantity, double[]> columns = [];
            List<LogChannel> channels = [new LogChannel(Quantity.Time, _plan.Stamp.Header, _plan.Stamps.UnitText)];
            foreach (Cells cells in _cells)
            {
                cells.Finish(columns, channels);
            }
            return new RawLog
            {
                Ticks = _ticks.ToArray(),
                BaseTicks = _base,
                Lines = [.. _lines],
                Columns = columns,
                Channels = channels,
                CamberLabels = _cells.OfType<LabelCells>().FirstOrDefault()?.Labels ?? [],
                HasClock = _plan.Stamps.HasClock,
                HasDate = _plan.Stamps.HasDate,
                OffsetMinutes = _plan.Stamps.OffsetMinutes,
            };
        }
    }
}

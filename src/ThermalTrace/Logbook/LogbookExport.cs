using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Unicode;
using CsvHelper;
using Parquet;
using Parquet.Schema;
using ThermalTrace.Sessions;

namespace ThermalTrace.Logbook;

/// <summary>In which form a logbook is exported.</summary>
[Flags]
public enum ExportFormats
{
    /// <summary>logbook.json: every bit of it.</summary>
    Json = 1,
    /// <summary>logbook-TABLE.csv: every bit of it.</summary>
    Csv = 2,
    /// <summary>logbook-TABLE.parquet, for data frames.</summary>
    Parquet = 4,
    /// <summary>All three.</summary>
    All = 7,
}

/// <summary>What was exported.</summary>
/// <param name="Sessions">How many sessions.</param>
/// <param name="Files">Names of the files.</param>
/// <param name="Damaged">A sentence for each session that is damaged and was left out.</param>
public sealed record ExportSummary(int Sessions, IReadOnlyList<string> Files, IReadOnlyList<string> Damaged);

/// <summary>Writes a logbook's sessions for other programs and other logbooks. One pass, whatever the forms.</summary>
public static class LogbookExport
{
    /// <summary>Name of the JSON file.</summary>
    public const string JsonName = "logbook.json";

    internal const string Schema = "thermaltrace.logbook/1";

    /// <summary>Name of a table's file.</summary>
    internal static string NameOf(KeptTable table, string ending) => $"logbook-{table.Name}.{ending}";

    /// <summary>Exports.</summary>
    /// <param name="logbook">To read.</param>
    /// <param name="formats">One or more.</param>
    /// <param name="open">Makes a file of that name; each is closed at the end.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="Units.UnusableInputException">The logbook cannot be read at all.</exception>
    public static ExportSummary Write(LogbookFile logbook, ExportFormats formats, Func<string, Stream> open, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(logbook);
        ArgumentNullException.ThrowIfNull(open);
        List<string> files = [];
        Stream Named(string name)
        {
            files.Add(name);
            return open(name);
        }
        List<ISessionSink> sinks = [];
        int sessions = 0;
        try
        {
            if (formats.HasFlag(ExportFormats.Json))
            {
                sinks.Add(new JsonSink(Named(JsonName)));
            }
            foreach (KeptTable table in KeptTables.All)
            {
                if (formats.HasFlag(ExportFormats.Csv))
                {
                    sinks.Add(new CsvSink(table, Named(NameOf(table, "csv"))));
                }
                if (formats.HasFlag(ExportFormats.Parquet))
                {
                    sinks.Add(new ParquetSink(table, Named(NameOf(table, "parquet"))));
                }
            }
            IReadOnlyList<string> damaged = logbook.ForEach(rows =>
            {
                cancel.ThrowIfCancellationRequested();
                sessions++;
                sinks.ForEach(s => s.Write(rows));
            });
            sinks.ForEach(s => s.End());
            return new ExportSummary(sessions, files, damaged);
        }
        finally
        {
            sinks.ForEach(s => s.Dispose());
        }
    }

    /// <summary>Writes sessions as logbook.json has them.</summary>
    public static void WriteJson(Stream utf8, IReadOnlyList<LogbookSession> sessions)
    {
        ArgumentNullException.ThrowIfNull(sessions);
        using JsonSink sink = new(utf8, leaveOpen: true);
        foreach (LogbookSession session in sessions)
        {
            sink.Write(SessionRows.Of(session));
        }
        sink.End();
    }

    /// <summary>A list as one cell or one text: JSON, numbers in full.</summary>
    internal static string ListText(Cell cell, CellKind kind) => kind == CellKind.Texts ? JsonSerializer.Serialize(cell.Texts, Readable)
        : "[" + string.Join(',', cell.Numbers.Select(n => n.ToString("R", CultureInfo.InvariantCulture))) + "]";

    private static readonly JsonSerializerOptions Readable = new() { Encoder = JavaScriptEncoder.Create(UnicodeRanges.All) };

    private interface ISessionSink : IDisposable
    {
        void Write(SessionRows session);

        void End();
    }

    private sealed class JsonSink : ISessionSink
    {
        private readonly Utf8JsonWriter _json;
        private readonly Stream _stream;
        private readonly bool _leaveOpen;

        public JsonSink(Stream stream, bool leaveOpen = false)
        {
            (_stream, _leaveOpen) = (stream, leaveOpen);
            _json = new Utf8JsonWriter(stream, new JsonWriterOptions { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.Create(UnicodeRanges.All) });
            _json.WriteStartObject();
            _json.WriteString("schema", Schema);
            _json.WriteNumber("version", LogbookSchema.Current);
            _json.WriteStartArray("sessions");
        }

        public void Write(SessionRows session)
        {
            _json.WriteStartObject();
            for (int t = 0; t < KeptTables.All.Count; t++)
            {
                KeptTable table = KeptTables.All[t];
                if (KeptTables.IsSingle(table))
                {
                    foreach (Cell[] row in session.Rows[t])
                    {
                        _json.WritePropertyName(table.Name);
                        Object(table, row);
                    }
                    continue;
                }
                _json.WriteStartArray(table.Name);
                foreach (Cell[] row in session.Rows[t])
                {
                    Object(table, row);
                }
                _json.WriteEndArray();
            }
            _json.WriteEndObject();
            if (_json.BytesPending > 1 << 20)
            {
                _json.Flush();
            }
        }

        public void End()
        {
            _json.WriteEndArray();
            _json.WriteEndObject();
            _json.Flush();
            _stream.WriteByte((byte)'\n');
        }

        public void Dispose()
        {
            _json.Dispose();
            if (!_leaveOpen)
            {
                _stream.Dispose();
            }
        }

        private void Object(KeptTable table, Cell[] row)
        {
            _json.WriteStartObject();
            for (int i = 0; i < row.Length; i++)
            {
                KeptColumn column = table.Columns[i];
                if (column.Name is "session" or "place")
                {
                    continue; // told by where it stands
                }
                _json.WritePropertyName(column.Name);
                Value(row[i], column.Kind);
            }
            _json.WriteEndObject();
        }

        private void Value(Cell cell, CellKind kind)
        {
            if (cell.IsEmpty)
            {
                _json.WriteNullValue();
                return;
            }
            switch (kind)
            {
                case CellKind.Text:
                    _json.WriteStringValue(cell.Text);
                    break;
                case CellKind.Whole:
                    _json.WriteNumberValue(cell.Long);
                    break;
                case CellKind.YesNo:
                    _json.WriteBooleanValue(cell.Yes);
                    break;
                case CellKind.Number:
                    _json.WriteNumberValue(cell.Number);
                    break;
                default:
                    _json.WriteRawValue(ListText(cell, kind));
                    break;
            }
        }
    }

    private sealed class CsvSink : ISessionSink
    {
        private readonly KeptTable _table;
        private readonly int _at;
        private readonly StreamWriter _text;
        private readonly CsvWriter _csv;

        public CsvSink(KeptTable table, Stream stream)
        {
            (_table, _at) = (table, KeptTables.All.ToList().IndexOf(table));
            _text = new StreamWriter(stream);
            _csv = CsvWriter.Create(_text, CsvWriterOptions.Default with { NewLine = "\r\n", FormatProvider = CultureInfo.InvariantCulture }, leaveOpen: true);
            _csv.WriteHeader([.. table.Columns.Select(c => c.Name)]);
        }

        public void Write(SessionRows session)
        {
            foreach (Cell[] row in session.Rows[_at])
            {
                for (int i = 0; i < row.Length; i++)
                {
                    _csv.WriteField(Text(row[i], _table.Columns[i].Kind));
                }
                _csv.EndRecord();
            }
        }

        public void End() => _csv.Flush();

        public void Dispose()
        {
            _csv.Dispose();
            _text.Dispose();
        }

        private static string Text(Cell cell, CellKind kind) => cell.IsEmpty ? "" : kind switch
        {
            // Marked where a spreadsheet would run it; numbers stay numbers.
            CellKind.Text => NoteColumns.WithoutFormula(cell.Text),
            CellKind.Number => cell.Number.ToString("R", CultureInfo.InvariantCulture),
            CellKind.Whole or CellKind.YesNo => cell.Long.ToString(CultureInfo.InvariantCulture),
            _ => ListText(cell, kind),
        };
    }

    private sealed class ParquetSink : ISessionSink
    {
        private const int GroupRows = 20_000;
        private readonly KeptTable _table;
        private readonly int _at;
        private readonly Stream _stream;
        private readonly DataField[] _fields;
        private readonly ParquetWriter _writer;
        private readonly List<Cell[]> _rows = [];

        public ParquetSink(KeptTable table, Stream stream)
        {
            (_table, _at, _stream) = (table, KeptTables.All.ToList().IndexOf(table), stream);
            _fields = [.. table.Columns.Select(c => c.Kind switch
            {
                CellKind.Number => new DataField<double?>(c.Name),
                CellKind.Whole => new DataField<long>(c.Name),
                CellKind.YesNo => (DataField)new DataField<bool>(c.Name),
                _ => new DataField<string>(c.Name),
            })];
            // The library writes asynchronously only; there is nothing else to do meanwhile.
            _writer = ParquetWriter.CreateAsync(new ParquetSchema(_fields), stream).GetAwaiter().GetResult();
            _writer.CustomMetadata = table.Columns.ToDictionary(c => c.Name, c => c.Meaning);
        }

        public void Write(SessionRows session)
        {
            _rows.AddRange(session.Rows[_at]);
            if (_rows.Count >= GroupRows)
            {
                Group();
            }
        }

        public void End()
        {
            Group();
            _writer.DisposeAsync().AsTask().GetAwaiter().GetResult();
        }

        public void Dispose() => _stream.Dispose();

        private void Group()
        {
            using ParquetRowGroupWriter group = _writer.CreateRowGroup();
            for (int i = 0; i < _fields.Length; i++)
            {
                int at = i;
                CellKind kind = _table.Columns[i].Kind;
                Task written = kind switch
                {
                    CellKind.Number => group.WriteAsync<double>(_fields[i], _rows.Select(r => r[at].NumberOrNull).ToArray().AsMemory()),
                    CellKind.Whole => group.WriteAsync<long>(_fields[i], _rows.Select(r => r[at].Long).ToArray().AsMemory()),
                    CellKind.YesNo => group.WriteAsync<bool>(_fields[i], _rows.Select(r => r[at].Yes).ToArray().AsMemory()),
                    _ => group.WriteAsync(_fields[i], _rows.Select(r => r[at].IsEmpty ? null! : kind == CellKind.Text ? r[at].Text : ListText(r[at], kind)).ToArray()),
                };
                written.GetAwaiter().GetResult();
            }
            group.CompleteValidate();
            _rows.Clear();
        }
    }
}

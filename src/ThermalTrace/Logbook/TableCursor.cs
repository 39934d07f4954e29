using System.Buffers;
using System.Text.Json;
using Microsoft.Data.Sqlite;

namespace ThermalTrace.Logbook;

/// <summary>Goes through a table's rows in order of their sessions, checking each against its checksum.</summary>
internal sealed class TableCursor : IDisposable
{
    private readonly SqliteCommand _command;
    private readonly SqliteDataReader _reader;
    private readonly ArrayBufferWriter<byte> _buffer = new(16_384);
    // Sessions of one airframe have the same terms; they are read from text once.
    private (string Json, string[] Texts) _last = ("[]", []);

    public TableCursor(SqliteConnection connection, SqliteTransaction transaction, KeptTable table, string where, string? value)
    {
        Table = table;
        _command = connection.CreateCommand();
        _command.Transaction = transaction;
        // Names of tables and columns are the program's own; what a person typed goes in as a parameter.
        _command.CommandText = $"SELECT {string.Join(", ", table.Columns.Select(c => c.Name))}, checksum FROM {table.Name} {where} ORDER BY {table.Columns[0].Name}{(table.Columns.Any(c => c.Name == "place") ? ", place" : "")}";
        if (value is not null)
        {
            _command.Parameters.AddWithValue("$value", value);
        }
        _reader = _command.ExecuteReader();
        Next();
    }

    public KeptTable Table { get; }

    /// <summary>Session of the current row; null behind the last.</summary>
    public string? Id { get; private set; }

    /// <summary>The current row.</summary>
    public Cell[] Row { get; private set; } = [];

    /// <summary>Checksum of the current row as it is.</summary>
    public byte[] Checksum { get; private set; } = [];

    /// <summary>What is wrong with the current row; null where nothing is.</summary>
    public string? Damage { get; private set; }

    /// <summary>Goes to the next row.</summary>
    public void Next()
    {
        if (!_reader.Read())
        {
            Id = null;
            return;
        }
        Damage = null;
        Row = new Cell[Table.Columns.Count];
        Id = "";
        try
        {
            for (int i = 0; i < Row.Length; i++)
            {
                Row[i] = Read(i, Table.Columns[i].Kind);
            }
            Id = Row[0].Text;
            Checksum = Table.Checksum(Row, _buffer);
            byte[] stored = _reader.IsDBNull(Row.Length) ? [] : _reader.GetFieldValue<byte[]>(Row.Length);
            Damage = Checksum.AsSpan().SequenceEqual(stored) ? null : "does not match its checksum";
        }
        catch (Exception unreadable) when (unreadable is InvalidDataException or InvalidCastException or FormatException or OverflowException or JsonException or ArgumentException)
        {
            Id = _reader.IsDBNull(0) ? "" : _reader.GetString(0);
            Damage = "cannot be read";
            Checksum = new byte[KeptTable.ChecksumLength];
        }
    }

    public void Dispose()
    {
        _reader.Dispose();
        _command.Dispose();
    }

    private Cell Read(int column, CellKind kind)
    {
        if (_reader.IsDBNull(column))
        {
            return default;
        }
        switch (kind)
        {
            case CellKind.Text:
                return Cell.Of(_reader.GetString(column));
            case CellKind.Number:
                return Cell.Of(_reader.GetDouble(column));
            case CellKind.Numbers:
                return Cell.Of(Cell.NumbersFrom(_reader.GetFieldValue<byte[]>(column)));
            case CellKind.Bytes:
                return Cell.Of(_reader.GetFieldValue<byte[]>(column));
            case CellKind.Texts:
                string json = _reader.GetString(column);
                if (json != _last.Json)
                {
                    _last = (json, JsonSerializer.Deserialize<string[]>(json) ?? throw new InvalidDataException("a list of texts was expected"));
                }
                return Cell.Of(_last.Texts);
            default:
                return Cell.Of(_reader.GetInt64(column));
        }
    }
}

using System.Globalization;
using System.Text.Json;
using CsvHelper;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Logbook;

/// <summary>Reads what <see cref="LogbookExport"/> wrote, as JSON or as CSV, bit for bit.</summary>
public static class LogbookImport
{
    /// <summary>Name of the file by which a folder of exported tables is known.</summary>
    public static string FirstTable => LogbookExport.NameOf(KeptTables.Session, "csv");

    /// <summary>True where a JSON text begins as an exported logbook does.</summary>
    public static bool IsLogbook(JsonElement root) => root.ValueKind == JsonValueKind.Object && root.TryGetProperty("schema", out JsonElement schema)
        && TextOf(schema) == LogbookExport.Schema;

    /// <summary>Reads logbook.json.</summary>
    /// <param name="root">Its root.</param>
    /// <param name="name">The file's name, for messages.</param>
    /// <exception cref="UnusableInputException">Not an exported logbook, or one of a later program.</exception>
    public static IReadOnlyList<LogbookSession> ReadJson(JsonElement root, string name)
    {
        if (!IsLogbook(root) || !root.TryGetProperty("sessions", out JsonElement sessions) || sessions.ValueKind != JsonValueKind.Array)
        {
            throw new UnusableInputException($"{name}: is not an exported logbook; expected \"schema\": \"{LogbookExport.Schema}\" and \"sessions\"");
        }
        if (root.TryGetProperty("version", out JsonElement version) && version.ValueKind == JsonValueKind.Number && version.TryGetInt32(out int number) && number > LogbookSchema.Current)
        {
            throw new UnusableInputException($"{name}: was exported by a later version of this program; nothing was added, use that version or a newer one");
        }
        List<LogbookSession> read = [];
        foreach (JsonElement session in sessions.EnumerateArray())
        {
            string at = string.Create(CultureInfo.InvariantCulture, $"{name}: $.sessions[{read.Count}]");
            if (session.ValueKind != JsonValueKind.Object || !session.TryGetProperty(KeptTables.Session.Name, out JsonElement its) || its.ValueKind != JsonValueKind.Object
                || !its.TryGetProperty("id", out JsonElement id) || TextOf(id) is not { } key)
            {
                throw new UnusableInputException($"{at}: has no \"session\" with an \"id\"");
            }
            read.Add(ToSession(key, [.. KeptTables.All.Select(t => Rows(session, t, key, at))], at));
        }
        return read;
    }

    /// <summary>Reads exported tables.</summary>
    /// <param name="open">Opens a file by its name; null from it means that there is none.</param>
    /// <exception cref="UnusableInputException">A table is missing, or a value in it is not what it should be.</exception>
    public static IReadOnlyList<LogbookSession> ReadCsv(Func<string, TextReader?> open)
    {
        ArgumentNullException.ThrowIfNull(open);
        Dictionary<string, List<Cell[]>>[] tables = [.. KeptTables.All.Select(t => Table(t, open))];
        foreach ((KeptTable table, Dictionary<string, List<Cell[]>> rows) in KeptTables.All.Zip(tables))
        {
            if (rows.Keys.FirstOrDefault(id => !tables[0].ContainsKey(id)) is { } stray)
            {
                throw new UnusableInputException($"{LogbookExport.NameOf(table, "csv")}: has rows of session {stray}, which is not in {FirstTable}");
            }
        }
        return [.. tables[0].Keys.Select(id => ToSession(id, [.. tables.Select(t => (IReadOnlyList<Cell[]>)(t.GetValueOrDefault(id) ?? []))], FirstTable))];
    }

    /// <summary>The text that stands there; null where it is none, or bytes that are no text.</summary>
    private static string? TextOf(JsonElement value)
    {
        try
        {
            return value.GetString();
        }
        catch (InvalidOperationException)
        {
            return null;
        }
    }

    private static LogbookSession ToSession(string id, IReadOnlyList<IReadOnlyList<Cell[]>> rows, string name)
    {
        LogbookSession session;
        try
        {
            session = SessionRows.Of(id, rows).ToSession();
        }
        catch (Exception wrong) when (wrong is InvalidDataException or OverflowException)
        {
            throw new UnusableInputException($"{name}: session {id} is not whole: {wrong.Message}");
        }
        SessionCheck.Require(session, $"{name}: session {id}");
        return session;
    }

    private static IReadOnlyList<Cell[]> Rows(JsonElement session, KeptTable table, string id, string at)
    {
        if (!session.TryGetProperty(table.Name, out JsonElement found))
        {
            return []; // an earlier version had no such table; what must be there is missed later
        }
        JsonElement[] rows = KeptTables.IsSingle(table) ? [found] : found.ValueKind == JsonValueKind.Array ? [.. found.EnumerateArray()]
            : throw new UnusableInputException($"{at}.{table.Name}: expected a list");
        return [.. rows.Select((row, i) => Row(row, table, id, i, FormattableString.Invariant($"{at}.{table.Name}[{i}]")))];
    }

    private static Cell[] Row(JsonElement row, KeptTable table, string id, int place, string at)
    {
        if (row.ValueKind != JsonValueKind.Object)
        {
            throw new UnusableInputException($"{at}: expected an object");
        }
        return [.. table.Columns.Select(c => c.Name switch
        {
            "session" => Cell.Of(id),
            "place" => Cell.Of(place),
            _ => Value(row, c, at),
        })];
    }

    private static Cell Value(JsonElement row, KeptColumn column, string at)
    {
        if (!row.TryGetProperty(column.Name, out JsonElement value) || value.ValueKind == JsonValueKind.Null)
        {
            return column.MayBeEmpty ? default : throw new UnusableInputException($"{at}: has no \"{column.Name}\"");
        }
        try
        {
            return column.Kind switch
            {
                CellKind.Text => Cell.Of(value.GetString()),
                CellKind.Whole => Cell.Of(value.GetInt64()),
                CellKind.YesNo => Cell.Of(value.GetBoolean()),
                CellKind.Number => Cell.Of(value.GetDouble()),
                CellKind.Numbers => Cell.Of((IReadOnlyList<double>)[.. value.EnumerateArray().Select(v => v.GetDouble())]),
                _ => Cell.Of((IReadOnlyList<string>)[.. value.EnumerateArray().Select(v => v.GetString() ?? "")]),
            };
        }
        catch (Exception wrong) when (wrong is InvalidOperationException or FormatException)
        {
            throw new UnusableInputException($"{at}: \"{column.Name}\" is not what was expected: {column.Meaning}");
        }
    }

    private static Dictionary<string, List<Cell[]>> Table(KeptTable table, Func<string, TextReader?> open)
    {
        string name = LogbookExport.NameOf(table, "csv");
        Dictionary<string, List<Cell[]>> rows = new(StringComparer.Ordinal);
        using TextReader? reader = open(name);
        if (reader is null)
        {
            return table == KeptTables.FieldReading ? rows : throw new UnusableInputException($"{name}: is not there; expected all tables of the export in one folder");
        }
        using CsvReader csv = CsvReader.Create(reader, new CsvReaderOptions
        {
            Separator = ',',
            HasHeader = false,
            AllowLineBreaksInQuotes = true,
            TrimWhitespace = false,
            TrackLineNumbers = true,
            MalformedData = CsvMalformedDataHandling.Throw,
            FieldCountMismatch = CsvFieldCountHandling.Allow,
        }, leaveOpen: true);
        try
        {
            int[]? columns = null;
            while (csv.Read())
            {
                if (columns is null)
                {
                    columns = Header(csv, table, name);
                    continue;
                }
                string at = FormattableString.Invariant($"{name}:{csv.LineNumber}");
                Cell[] row = [.. table.Columns.Select((c, i) => Value(columns[i] < csv.FieldCount ? csv.GetString(columns[i]) : "", c, at))];
                string id = row[0].Text;
                (rows.TryGetValue(id, out List<Cell[]>? its) ? its : rows[id] = []).Add(row);
            }
            if (columns is null)
            {
                throw new UnusableInputException($"{name}: is empty; expected a header");
            }
        }
        catch (CsvFormatException malformed)
        {
            throw new UnusableInputException(FormattableString.Invariant($"{name}:{malformed.LineNumber}: a double quote is not closed or stands in the middle of a cell"));
        }
        if (!KeptTables.IsSingle(table))
        {
            int place = table["place"];
            foreach (List<Cell[]> its in rows.Values)
            {
                its.Sort((a, b) => a[place].Long.CompareTo(b[place].Long)); // someone may have sorted the table otherwise
            }
        }
        return rows;
    }

    private static int[] Header(CsvReader csv, KeptTable table, string name)
    {
        string[] found = [.. Enumerable.Range(0, csv.FieldCount).Select(csv.GetString)];
        found[0] = found[0].TrimStart('\uFEFF');
        if (found.FirstOrDefault(f => table.Columns.All(c => c.Name != f)) is { } unknown)
        {
            throw new UnusableInputException($"{name}:1: unknown column \"{unknown}\"; it may be of a later program, or saved by another with another separator");
        }
        return [.. table.Columns.Select(c => Array.IndexOf(found, c.Name) is >= 0 and int at ? at : throw new UnusableInputException($"{name}:1: the header has no column \"{c.Name}\""))];
    }

    private static Cell Value(string text, KeptColumn column, string at)
    {
        if (text.Length == 0 && (column.MayBeEmpty || column.Kind != CellKind.Text))
        {
            return column.MayBeEmpty ? default : throw new UnusableInputException($"{at}: {column.Name} is empty");
        }
        try
        {
            return column.Kind switch
            {
                CellKind.Text => Cell.Of(NoteColumns.WithFormula(text)),
                CellKind.Number => Cell.Of(double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture)),
                CellKind.Whole => Cell.Of(long.Parse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture)),
                CellKind.YesNo => Cell.Of(text switch { "0" => false, "1" => true, _ => throw new FormatException() }),
                CellKind.Numbers => Cell.Of((IReadOnlyList<double>)(JsonSerializer.Deserialize<double[]>(text) ?? throw new FormatException())),
                _ => Cell.Of((IReadOnlyList<string>)(JsonSerializer.Deserialize<string[]>(text) ?? throw new FormatException())),
            };
        }
        catch (Exception wrong) when (wrong is FormatException or OverflowException or JsonException)
        {
            string shown = text.Length > 40 ? text[..40] + "…" : text;
            throw new UnusableInputException($"{at}: {column.Name} \"{shown}\" is not what was expected: {column.Meaning}");
        }
    }
}

using System.Globalization;
using CsvHelper;
using ThermalTrace.Logs;

namespace ThermalTrace.Sessions;

/// <summary>Reads and writes <c>columns.csv</c>: what a log's columns mean where the importer cannot tell.</summary>
public static class ColumnsFile
{
    /// <summary>The file's name in a session folder.</summary>
    public const string Name = "columns.csv";

    private static readonly Dictionary<string, Quantity> Names = Enum.GetValues<Quantity>().ToDictionary(NameOf, q => q, StringComparer.Ordinal);

    /// <summary>The contract's name of a quantity, such as <c>gps_altitude</c>.</summary>
    public static string NameOf(Quantity quantity) => Quantities.NameOf(quantity);

    /// <summary>The quantities that a row may name, in the contract's order.</summary>
    public static IReadOnlyList<Quantity> KnownQuantities { get; } = Enum.GetValues<Quantity>();

    /// <summary>A quantity in words, "GPS altitude".</summary>
    public static string WordsFor(Quantity quantity) => Quantities.WordsFor(quantity);

    /// <summary>Units that a quantity may be in, for a person to choose from; empty where it has none.</summary>
    public static string UnitExamples(Quantity quantity) => UnitWords.Examples(Quantities.DimensionOf(quantity));

    /// <summary>What is wrong with a unit for a quantity; null where it is understood, or none is given.</summary>
    public static string? UnitComplaint(Quantity quantity, string? unit) => string.IsNullOrWhiteSpace(unit) || Quantities.FindUnit(unit, quantity) is not null ? null
        : $"unit \"{unit}\" is not understood for {NameOf(quantity)}; expected one of {UnitExamples(quantity)}";

    /// <summary>The rows after a column was told by hand: one row for a column of a log, the one before taken out.</summary>
    /// <param name="notes">The rows now.</param>
    /// <param name="log">The log; null for all.</param>
    /// <param name="column">The column as its header has it.</param>
    /// <param name="told">Quantity and unit (null where the header or the default says it); null to leave it to the program again.</param>
    public static IReadOnlyList<ColumnNote> With(IReadOnlyList<ColumnNote> notes, string? log, string column, (Quantity Quantity, string? Unit)? told)
    {
        ArgumentNullException.ThrowIfNull(notes);
        List<ColumnNote> rows = [.. notes];
        int at = rows.FindIndex(n => n.Log == log && n.Column == column);
        ColumnNote? row = told is { } said ? new ColumnNote(log, column, said.Quantity, string.IsNullOrWhiteSpace(said.Unit) ? null : said.Unit.Trim(), at < 0 ? 0 : rows[at].Line) : null;
        if (at >= 0)
        {
            rows.RemoveAt(at);
        }
        if (row is not null)
        {
            rows.Insert(at < 0 ? rows.Count : at, row);
        }
        return rows;
    }

    /// <summary>The file's new text after an edit; null where it would say nothing, and need not be there.</summary>
    /// <param name="notes">The rows.</param>
    /// <param name="earlier">Its text before, whose comments are kept; null where it was not there.</param>
    public static string? Text(IReadOnlyList<ColumnNote> notes, string? earlier)
    {
        ArgumentNullException.ThrowIfNull(notes);
        NoteComments comments = NoteComments.Of(earlier);
        if (notes.Count == 0 && comments.None)
        {
            return null;
        }
        using StringWriter writer = new(CultureInfo.InvariantCulture);
        comments.WriteBefore(writer, comments.HeaderLine);
        using (CsvWriter csv = CsvWriter.Create(writer, new CsvWriterOptions { NewLine = "\n", CommentPrefix = '#' }, leaveOpen: true))
        {
            bool logs = notes.Any(n => n.Log is not null), units = notes.Any(n => n.Unit is not null);
            csv.WriteRecord([.. logs ? (string[])["log"] : [], "column", "quantity", .. units ? (string[])["unit"] : []]);
            foreach (ColumnNote note in notes)
            {
                csv.Flush();
                comments.WriteBefore(writer, note.Line);
                csv.WriteRecord(
                [
                    .. logs ? (string[])[NoteColumns.WithoutFormula(note.Log ?? "")] : [],
                    NoteColumns.WithoutFormula(note.Column),
                    NameOf(note.Quantity),
                    .. units ? (string[])[NoteColumns.WithoutFormula(note.Unit ?? "")] : [],
                ]);
            }
            csv.Flush();
        }
        comments.WriteRest(writer);
        return writer.ToString();
    }

    /// <summary>Reads the rows in file order.</summary>
    /// <exception cref="Units.UnusableInputException">Something in it cannot be; all of it, each with its line.</exception>
    public static IReadOnlyList<ColumnNote> Read(TextReader reader, string name)
    {
        ArgumentNullException.ThrowIfNull(reader);
        NoteTable table = NoteTable.Read(reader, name, ["column", "quantity"], ["log", "unit"]);
        List<ColumnNote> notes = [];
        foreach (NoteTable.Row row in table.Rows)
        {
            string column = table.Text(row, "column"), quantity = table.Text(row, "quantity");
            if (column.Length == 0)
            {
                table.Complaints.Add(row.Line, "column is empty; expected a column's name as the log's header has it");
            }
            string? unit = table.TextOrNull(row, "unit");
            if (!Names.TryGetValue(quantity.ToLowerInvariant(), out Quantity known))
            {
                table.Complaints.Add(row.Line, quantity.Length == 0
                    ? $"quantity is empty; expected one of {string.Join(", ", Names.Keys)}"
                    : $"unknown quantity \"{quantity}\"{NearestName.Hint(quantity, Names.Keys)}");
            }
            else if (UnitComplaint(known, unit) is { } complaint)
            {
                table.Complaints.Add(row.Line, complaint);
            }
            ColumnNote note = new(NoteColumns.Log(table, row, required: false), column, known, unit, row.Line);
            if (notes.Find(n => n.Log == note.Log && n.Column == note.Column) is { } twice && column.Length > 0)
            {
                table.Complaints.Add(row.Line, string.Create(CultureInfo.InvariantCulture,
                    $"column \"{column}\" has a row already, line {twice.Line}; expected one row for each column"));
            }
            notes.Add(note);
        }
        table.Complaints.Throw();
        return notes;
    }
}

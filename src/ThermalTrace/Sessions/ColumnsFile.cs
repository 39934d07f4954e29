using System.Globalization;
using ThermalTrace.Logs;

namespace ThermalTrace.Sessions;

/// <summary>Reads <c>columns.csv</c>: what a log's columns mean where the importer cannot tell.</summary>
public static class ColumnsFile
{
    /// <summary>The file's name in a session folder.</summary>
    public const string Name = "columns.csv";

    private static readonly Dictionary<string, Quantity> Quantities =
        Enum.GetValues<Quantity>().ToDictionary(SnakeCase, q => q, StringComparer.Ordinal);

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
            if (!Quantities.TryGetValue(quantity.ToLowerInvariant(), out Quantity known))
            {
                table.Complaints.Add(row.Line, quantity.Length == 0
                    ? $"quantity is empty; expected one of {string.Join(", ", Quantities.Keys)}"
                    : $"unknown quantity \"{quantity}\"{NearestName.Hint(quantity, Quantities.Keys)}");
            }
            ColumnNote note = new(NoteColumns.Log(table, row, required: false), column, known, table.TextOrNull(row, "unit"), row.Line);
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

    private static string SnakeCase(Quantity quantity) =>
        string.Concat(quantity.ToString().Select((c, i) => (i > 0 && char.IsUpper(c) ? "_" : "") + char.ToLowerInvariant(c)));
}

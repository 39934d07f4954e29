using System.Globalization;
using ThermalTrace.Logs;

namespace ThermalTrace.Sessions;

/// <summary>Reads <c>columns.csv</c>: what a log's columns mean where the importer cannot tell.</summary>
public static class ColumnsFile
{
    /// <summary>The file's name in a session folder.</summary>
    public const string Name = "columns.csv";

    private static readonly Dictionary<string, Quantity> Names = Enum.GetValues<Quantity>().ToDictionary(NameOf, q => q, StringComparer.Ordinal);

    /// <summary>The contract's name of a quantity, such as <c>gps_altitude</c>.</summary>
    public static string NameOf(Quantity quantity) => Quantities.NameOf(quantity);

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
            else if (unit is not null && Quantities.FindUnit(unit, known) is null)
            {
                table.Complaints.Add(row.Line, $"unit \"{unit}\" is not understood for {quantity}; expected one of {UnitWords.Examples(Quantities.DimensionOf(known))}");
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

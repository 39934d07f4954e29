using System.Buffers;

namespace ThermalTrace.Logbook;

/// <summary>
/// All rows of a session in one piece of bytes, as checksums see them. Estimation reads hundreds of sessions before it answers: one
/// piece each is read in a fraction of the time that their rows take. The rows are what counts; verification compares the two.
/// </summary>
internal static class PackedSession
{
    /// <summary>The table of the pieces.</summary>
    public static readonly KeptTable Table = new("packed", "a session's rows in one piece",
    [
        new KeptColumn("session", CellKind.Text, false, "the session's id"), new KeptColumn("content", CellKind.Bytes, false, "its rows"),
    ]);

    /// <summary>The rows as bytes: of each table their number and then their cells.</summary>
    public static byte[] Of(SessionRows session)
    {
        ArrayBufferWriter<byte> bytes = new(16_384);
        foreach (IReadOnlyList<Cell[]> rows in session.Rows)
        {
            Cell.Of(rows.Count).AppendTo(bytes);
            foreach (Cell[] row in rows)
            {
                foreach (Cell cell in row)
                {
                    cell.AppendTo(bytes);
                }
            }
        }
        return bytes.WrittenSpan.ToArray();
    }

    /// <summary>Undoes <see cref="Of"/>; without the rows' checksums.</summary>
    /// <exception cref="InvalidDataException">Not such bytes.</exception>
    public static SessionRows Rows(string id, ReadOnlySpan<byte> bytes)
    {
        IReadOnlyList<Cell[]>[] tables = new IReadOnlyList<Cell[]>[KeptTables.All.Count];
        for (int t = 0; t < tables.Length; t++)
        {
            int columns = KeptTables.All[t].Columns.Count;
            Cell[][] rows = new Cell[Cell.Take(ref bytes).Whole][];
            for (int r = 0; r < rows.Length; r++)
            {
                Cell[] row = rows[r] = new Cell[columns];
                for (int c = 0; c < columns; c++)
                {
                    row[c] = Cell.Take(ref bytes);
                }
            }
            tables[t] = rows;
        }
        return new SessionRows(id, tables, []);
    }
}

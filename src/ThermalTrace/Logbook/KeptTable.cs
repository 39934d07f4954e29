using System.Buffers;
using System.Security.Cryptography;

namespace ThermalTrace.Logbook;

/// <summary>What a column holds.</summary>
internal enum CellKind
{
    Text,
    Whole,
    YesNo,
    Number,
    /// <summary>A list of numbers: eight bytes each, least byte first; in exports a JSON list.</summary>
    Numbers,
    /// <summary>A list of texts: a JSON list.</summary>
    Texts,
    /// <summary>A hash.</summary>
    Bytes,
}

/// <summary>A column of the logbook and of its exports.</summary>
/// <param name="Name">As in the database, the unit in it.</param>
/// <param name="Kind">What it holds.</param>
/// <param name="MayBeEmpty">Where it may not be known.</param>
/// <param name="Meaning">In words, with the unit; the same as in docs/logbook.md.</param>
internal sealed record KeptColumn(string Name, CellKind Kind, bool MayBeEmpty, string Meaning);

/// <summary>A table of the logbook.</summary>
/// <param name="Name">As in the database.</param>
/// <param name="Meaning">What one row of it is.</param>
/// <param name="Columns">Without the checksum, which the database alone has.</param>
internal sealed record KeptTable(string Name, string Meaning, IReadOnlyList<KeptColumn> Columns)
{
    /// <summary>Bytes of a checksum.</summary>
    public const int ChecksumLength = SHA256.HashSizeInBytes;

    /// <summary>Checksum of a row: SHA-256 of the table's name and the cells.</summary>
    public byte[] Checksum(ReadOnlySpan<Cell> row) => Checksum(row, new ArrayBufferWriter<byte>(512));

    /// <summary>As <see cref="Checksum(ReadOnlySpan{Cell})"/>, with a buffer to use again.</summary>
    public byte[] Checksum(ReadOnlySpan<Cell> row, ArrayBufferWriter<byte> buffer)
    {
        buffer.ResetWrittenCount();
        Cell.AppendText(buffer, Name);
        foreach (Cell cell in row)
        {
            cell.AppendTo(buffer);
        }
        return SHA256.HashData(buffer.WrittenSpan);
    }

    /// <summary>Place of a column.</summary>
    public int this[string column]
    {
        get
        {
            for (int i = 0; i < Columns.Count; i++)
            {
                if (Columns[i].Name == column)
                {
                    return i;
                }
            }
            throw new ArgumentException($"{Name} has no column {column}", nameof(column));
        }
    }
}

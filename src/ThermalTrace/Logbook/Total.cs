using System.Numerics;
using Microsoft.Data.Sqlite;

namespace ThermalTrace.Logbook;

/// <summary>
/// How many sessions the logbook has, and the sum of their seals: a session that is gone without having been removed is missed.
/// A sum, since it takes one addition to add a session, however many there are, and does not depend on the order.
/// </summary>
/// <param name="Sessions">How many.</param>
/// <param name="Seals">Their seals as 256-bit numbers, added up modulo 2^256.</param>
internal sealed record Total(long Sessions, BigInteger Seals)
{
    private static readonly BigInteger Modulus = BigInteger.One << 256;

    /// <summary>Of an empty logbook.</summary>
    public static Total Empty { get; } = new(0, BigInteger.Zero);

    /// <summary>With a session more.</summary>
    public Total Plus(byte[] seal) => new(Sessions + 1, (Seals + Of(seal)) % Modulus);

    /// <summary>With a session less.</summary>
    public Total Minus(byte[] seal) => new(Sessions - 1, (Seals - Of(seal) + Modulus) % Modulus);

    /// <summary>Reads it.</summary>
    /// <exception cref="InvalidDataException">It is not there or does not match its checksum.</exception>
    public static Total Read(SqliteConnection connection, SqliteTransaction? transaction)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = "SELECT sessions, seals, checksum FROM total WHERE id = 1";
        using SqliteDataReader reader = command.ExecuteReader();
        if (!reader.Read())
        {
            throw new InvalidDataException("the count of sessions is gone");
        }
        byte[] seals = reader.BytesAt(1);
        Total total = new(reader.WholeAt(0), Of(seals));
        return Table.Checksum(total.Row).AsSpan().SequenceEqual(reader.BytesAt(2)) ? total
            : throw new InvalidDataException("the count of sessions does not match its checksum");
    }

    /// <summary>Writes it.</summary>
    public void Write(SqliteConnection connection, SqliteTransaction? transaction)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = "INSERT OR REPLACE INTO total (id, sessions, seals, checksum) VALUES (1, $sessions, $seals, $checksum)";
        command.Parameters.AddWithValue("$sessions", Sessions);
        command.Parameters.AddWithValue("$seals", Bytes());
        command.Parameters.AddWithValue("$checksum", Table.Checksum(Row));
        command.ExecuteNonQuery();
    }

    private static readonly KeptTable Table = new("total", "the number of sessions", []);

    private Cell[] Row => [Cell.Of(Sessions), Cell.Of(Bytes())];

    private byte[] Bytes()
    {
        byte[] bytes = new byte[32];
        Seals.TryWriteBytes(bytes, out _, isUnsigned: true);
        return bytes;
    }

    private static BigInteger Of(byte[] seal) => new(seal, isUnsigned: true);
}

using Microsoft.Data.Sqlite;

namespace ThermalTrace.Logbook;

/// <summary>Cells that are never empty, unless the file is damaged.</summary>
internal static class DatabaseCells
{
    /// <exception cref="InvalidDataException">Empty.</exception>
    public static string TextAt(this SqliteDataReader reader, int column) => reader.IsDBNull(column) ? throw Gone() : reader.GetString(column);

    /// <exception cref="InvalidDataException">Empty.</exception>
    public static byte[] BytesAt(this SqliteDataReader reader, int column) => reader.IsDBNull(column) ? throw Gone() : reader.GetFieldValue<byte[]>(column);

    /// <exception cref="InvalidDataException">Empty.</exception>
    public static long WholeAt(this SqliteDataReader reader, int column) => reader.IsDBNull(column) ? throw Gone() : reader.GetInt64(column);

    private static InvalidDataException Gone() => new("a value is gone that must be there");
}

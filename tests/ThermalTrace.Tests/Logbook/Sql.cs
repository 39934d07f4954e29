using Microsoft.Data.Sqlite;

namespace ThermalTrace.Tests.Logbook;

/// <summary>A logbook's database behind the logbook's back.</summary>
internal static class Sql
{
    public static SqliteConnection Open(string path)
    {
        SqliteConnection connection = new($"Data Source={path};Pooling=False");
        connection.Open();
        return connection;
    }

    public static int Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteNonQuery();
    }

    public static void Run(string path, string sql)
    {
        using SqliteConnection connection = Open(path);
        Run(connection, sql);
    }

    public static object? Ask(string path, string sql)
    {
        using SqliteConnection connection = Open(path);
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }
}

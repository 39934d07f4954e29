using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using ThermalTrace.Units;

namespace ThermalTrace.Logbook;

/// <summary>
/// The seasons' memory: one SQLite file. Write-ahead, every change a transaction, what was reported as added is on the disk.
/// Whatever state the file is in, a method answers or throws an <see cref="UnusableInputException"/> with a sentence.
/// docs/logbook.md, docs/decisions/0006-logbook-in-sqlite.md.
/// </summary>
public sealed partial class LogbookFile : IDisposable
{
    // Adding takes a few hundredths of a second; whoever waits longer waits for a program that hangs.
    private const int BusyMs = 20_000;

    // SQLite's result codes (sqlite.org/rescode.html).
    private const int Error = 1, Busy = 5, Locked = 6, ReadOnly = 8, IoError = 10, Corrupt = 11, Full = 13, CannotOpen = 14, Constraint = 19, Mismatch = 20, NoDatabase = 26;

    private readonly string _path;
    private readonly SqliteConnection _connection;
    private readonly bool _reading;

    private LogbookFile(string path, SqliteConnection connection, bool reading) => (_path, _connection, _reading) = (path, connection, reading);

    /// <summary>The version of the file's schema.</summary>
    public int Version { get; private set; }

    /// <summary>Opens a logbook to be read. A file on a medium that cannot be written to is read too.</summary>
    /// <param name="path">Of the file, which must be there.</param>
    /// <exception cref="UnusableInputException">It is not there, is no logbook, is of a later program, is damaged or locked.</exception>
    public static LogbookFile OpenToRead(string path) => Open(path, reading: true, BusyMs);

    /// <summary>Opens a logbook to be read and changed; makes it where there is none, though not its folder.</summary>
    /// <param name="path">Of the file.</param>
    /// <inheritdoc cref="OpenToRead"/>
    public static LogbookFile OpenToWrite(string path) => Open(path, reading: false, BusyMs);

    /// <summary>As <see cref="OpenToRead"/> and <see cref="OpenToWrite"/>, with the time to wait for other programs, ms.</summary>
    internal static LogbookFile Open(string path, bool reading, int busyMs)
    {
        ArgumentException.ThrowIfNullOrEmpty(path);
        if (Directory.Exists(path))
        {
            throw new UnusableInputException($"{path}: is a folder; expected the file of a logbook");
        }
        if (reading && !File.Exists(path))
        {
            throw new UnusableInputException($"{path}: there is no logbook yet; \"thermaltrace logbook add FOLDER\" makes one");
        }
        SqliteConnection? connection = null;
        try
        {
            return Guarded(path, () =>
            {
                connection = Connect(path, reading, busyMs);
                LogbookFile file = new(path, connection, reading);
                file.Prepare();
                connection = null;
                return file;
            });
        }
        finally
        {
            connection?.Dispose();
        }
    }

    /// <summary>Closes the file.</summary>
    public void Dispose() => _connection.Dispose();

    private static SqliteConnection Connect(string path, bool reading, int busyMs)
    {
        SqliteConnection connection = new(new SqliteConnectionStringBuilder
        {
            DataSource = Path.GetFullPath(path), // a bare name may mean something to SQLite
            Mode = reading ? SqliteOpenMode.ReadWrite : SqliteOpenMode.ReadWriteCreate,
            Pooling = false, // so that closing it ends the write-ahead log
            DefaultTimeout = Math.Max(busyMs / 1000, 1),
        }.ToString());
        try
        {
            Ready(connection, reading, busyMs);
            return connection;
        }
        catch (SqliteException failure) when (reading && failure.SqliteErrorCode is ReadOnly or CannotOpen && File.Exists(path) && !File.Exists(path + "-wal"))
        {
            connection.Dispose();
            // Without a write-ahead log beside it, a file that nobody can write to is whole and will not change under us.
            string escaped = string.Join('/', Path.GetFullPath(path).Replace('\\', '/').Split('/').Select(Uri.EscapeDataString));
            connection = new SqliteConnection($"Data Source=\"file:{escaped}?immutable=1\";Mode=ReadOnly;Pooling=False");
            Ready(connection, reading, busyMs);
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static void Ready(SqliteConnection connection, bool reading, int busyMs)
    {
        connection.Open();
        Execute(connection, null, string.Create(CultureInfo.InvariantCulture,
            $"PRAGMA busy_timeout = {busyMs}; PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON; PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL"));
        // The first read tells whether this is a database at all.
        Scalar(connection, null, "SELECT count(*) FROM sqlite_schema");
        if (!reading && Scalar(connection, null, "PRAGMA journal_mode") is not "wal")
        {
            // Only ever on a new file: what is another program's is not touched.
            if (Whole(connection, "PRAGMA application_id") == LogbookSchema.ApplicationId || Whole(connection, "SELECT count(*) FROM sqlite_schema") == 0)
            {
                Scalar(connection, null, "PRAGMA journal_mode = WAL");
            }
        }
    }

    /// <summary>Looks at whose file it is and of which version; makes or migrates it where it is opened to be changed.</summary>
    private void Prepare()
    {
        if (IsCurrent(null))
        {
            return;
        }
        if (_reading)
        {
            if (Version == 0)
            {
                throw new UnusableInputException($"{_path}: is empty; \"thermaltrace logbook add FOLDER\" makes a logbook of it");
            }
            return; // an earlier version is read as it is
        }
        // Another program may be making or migrating it at the same time: look again when it is ours alone.
        using SqliteTransaction transaction = _connection.BeginTransaction(deferred: false);
        if (!IsCurrent(transaction))
        {
            int before = Version;
            LogbookSchema.Migrate(_connection, transaction, before, LogbookSchema.Current);
            Version = LogbookSchema.Current;
            if (before == 1)
            {
                using RowInserter insert = new(_connection, transaction);
                // What is damaged gets no second copy: it stays as it was found.
                foreach (ReadSession read in Read("", null, null, transaction).Where(r => r.Damage.Count == 0).ToList())
                {
                    Pack(read.Rows, insert);
                }
            }
        }
        transaction.Commit();
    }

    private bool IsCurrent(SqliteTransaction? transaction)
    {
        long id = Whole(_connection, "PRAGMA application_id", transaction), version = Whole(_connection, "PRAGMA user_version", transaction);
        bool empty = id == 0 && version == 0 && Whole(_connection, "SELECT count(*) FROM sqlite_schema", transaction) == 0;
        if (!empty && id != LogbookSchema.ApplicationId)
        {
            throw new UnusableInputException($"{_path}: is a database, but not a logbook of this program; expected one that \"thermaltrace logbook add\" made");
        }
        if (version > LogbookSchema.Current)
        {
            throw new UnusableInputException(string.Create(CultureInfo.InvariantCulture,
                $"{_path}: was written by a later version of this program (its schema is version {version}, this program knows up to {LogbookSchema.Current}); nothing was changed, use that version or a newer one"));
        }
        if (!empty && version < 1)
        {
            throw new UnusableInputException($"{_path}: is damaged: its version is {version.ToString(CultureInfo.InvariantCulture)}");
        }
        Version = (int)version;
        return Version == LogbookSchema.Current;
    }

    private T Guarded<T>(Func<T> work) => Guarded(_path, work);

    /// <summary>Turns what a database or a damaged row throws into a sentence.</summary>
    private static T Guarded<T>(string path, Func<T> work)
    {
        try
        {
            return work();
        }
        catch (SqliteException failure)
        {
            throw new UnusableInputException($"{path}: {Sentence(failure)}");
        }
        catch (Exception damage) when (damage is InvalidDataException or InvalidCastException or FormatException or OverflowException or JsonException or ArgumentException)
        {
            throw new UnusableInputException($"{path}: is damaged: {damage.Message}; \"thermaltrace logbook verify\" says all that is");
        }
    }

    /// <summary>What the database says, without its own name and number for it.</summary>
    private static string Plain(SqliteException failure) => failure.Message.Split('\'', 2) is [_, var rest] && rest.LastIndexOf('\'') is > 0 and var end ? rest[..end] : failure.Message;

    private static string Sentence(SqliteException failure) => failure.SqliteErrorCode switch
    {
        Busy or Locked => "another program has been using it for too long; try again when that has ended",
        ReadOnly => "cannot be written to, it lies in a read-only place; give another with --logbook FILE",
        CannotOpen => "cannot be opened: its folder is not there or may not be read",
        Full => "the disk is full; nothing was changed",
        IoError => $"the disk cannot read or write it: {Plain(failure)}",
        NoDatabase => "is not a logbook, or its beginning is damaged; expected a file that \"thermaltrace logbook add\" made",
        Corrupt or Error or Constraint or Mismatch => $"is damaged: {Plain(failure)}; \"thermaltrace logbook verify\" says all that is",
        _ => $"cannot be used: {Plain(failure)}",
    };

    private static object? Scalar(SqliteConnection connection, SqliteTransaction? transaction, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    private static long Whole(SqliteConnection connection, string sql, SqliteTransaction? transaction = null) => Convert.ToInt64(Scalar(connection, transaction, sql), CultureInfo.InvariantCulture);

    private static void Execute(SqliteConnection connection, SqliteTransaction? transaction, string sql, params (string Name, object Value)[] values)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        foreach ((string name, object value) in values)
        {
            command.Parameters.AddWithValue(name, value);
        }
        command.ExecuteNonQuery();
    }
}

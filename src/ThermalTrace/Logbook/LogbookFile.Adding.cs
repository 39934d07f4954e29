using System.Buffers;
using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using ThermalTrace.Units;

namespace ThermalTrace.Logbook;

/// <summary>What became of a session that was to be added.</summary>
public enum Added
{
    /// <summary>It is new.</summary>
    New,
    /// <summary>It was there, with the same evidence: nothing was changed.</summary>
    Unchanged,
    /// <summary>It was there with other evidence, which the new took the place of.</summary>
    Replaced,
    /// <summary>It was there, changed later than the one to be added, which was left out.</summary>
    KeptLater,
    /// <summary>Its flights would have counted twice: nothing was changed.</summary>
    Refused,
}

/// <summary>What became of a session.</summary>
/// <param name="What">In a word.</param>
/// <param name="Id">Of the session in the logbook; where refused, of that to be added.</param>
/// <param name="Sentences">What a person should know: why it was refused, what it replaced, which other session it looks like.</param>
public sealed record AddOutcome(Added What, string Id, IReadOnlyList<string> Sentences);

public sealed partial class LogbookFile
{
    /// <summary>Adds a session. When this returns, what it says is on the disk.</summary>
    /// <param name="session">Of <see cref="LogbookSession.Of"/>.</param>
    /// <exception cref="UnusableInputException">The logbook cannot be written to or is damaged.</exception>
    public AddOutcome Add(LogbookSession session) => AddAll([session], fromLogbook: false)[0];

    /// <summary>Adds sessions that another logbook exported: all in one transaction. Of two versions of a session the later stays.</summary>
    /// <exception cref="UnusableInputException">The logbook cannot be written to or is damaged, or a session does not hang together; nothing was added.</exception>
    public IReadOnlyList<AddOutcome> AddExported(IReadOnlyList<LogbookSession> sessions) => AddAll(sessions, fromLogbook: true);

    /// <summary>Removes sessions by their ids or the beginnings of them: all or none.</summary>
    /// <returns>Their whole ids.</returns>
    /// <exception cref="UnusableInputException">One is not there, or the logbook cannot be written to.</exception>
    public IReadOnlyList<string> Remove(IReadOnlyList<string> ids) => Guarded<IReadOnlyList<string>>(() =>
    {
        using SqliteTransaction transaction = _connection.BeginTransaction(deferred: false);
        string[] whole = [.. ids.Select(id => WholeId(id, transaction)).Distinct()];
        Total? total = TotalOrNull(transaction);
        bool complete = total is not null && total.Sessions == Convert.ToInt64(Scalar(_connection, transaction, "SELECT count(*) FROM session"), CultureInfo.InvariantCulture);
        foreach (string id in whole)
        {
            total = TakeOut(id, total, transaction);
        }
        // Where what is removed was itself damaged, the sum is made anew, so that removing is a cure; where a session had been
        // lost before, the sum goes on saying so.
        Total left = SumOfSeals(transaction);
        (total is null || complete ? left : total).Write(_connection, transaction);
        transaction.Commit();
        Settle();
        return whole;
    });

    private IReadOnlyList<AddOutcome> AddAll(IReadOnlyList<LogbookSession> sessions, bool fromLogbook) => Guarded<IReadOnlyList<AddOutcome>>(() =>
    {
        foreach (LogbookSession session in sessions)
        {
            SessionCheck.Require(session, "session " + session.Id);
        }
        using SqliteTransaction transaction = _connection.BeginTransaction(deferred: false);
        using RowInserter insert = new(_connection, transaction);
        Total before = Total.Read(_connection, transaction), total = before;
        AddOutcome[] outcomes = [.. sessions.Select(s => AddOne(s, fromLogbook, ref total, insert, transaction))];
        if (outcomes.Any(o => o.What is Added.New or Added.Replaced))
        {
            total.Write(_connection, transaction);
            transaction.Commit();
            Settle();
        }
        return outcomes;
    });

    private AddOutcome AddOne(LogbookSession session, bool fromLogbook, ref Total total, RowInserter insert, SqliteTransaction transaction)
    {
        HashSet<string> holders = new(StringComparer.Ordinal);
        List<string> doubled = [];
        foreach (KeptLog log in session.Logs)
        {
            if (Text("SELECT session FROM log WHERE sha256 = $value", log.Sha256, transaction) is { } holder)
            {
                holders.Add(holder);
                doubled.Add(log.File);
            }
        }
        if (holders.Count == 0)
        {
            session = session with { Id = FreeId(session, transaction) };
            List<string> alike = [.. Alike(session, transaction)];
            total = PutIn(session, total, insert, transaction);
            return new AddOutcome(Added.New, session.Id, alike);
        }
        string there = holders.First();
        bool same = holders.Count == 1 && doubled.Count == session.Logs.Count && Count("SELECT count(*) FROM log WHERE session = $value", there, transaction) == doubled.Count;
        if (!same)
        {
            return new AddOutcome(Added.Refused, session.Id,
            [
                $"{string.Join(", ", doubled)} {(doubled.Count == 1 ? "is" : "are")} already in {string.Join(" and ", holders.Order(StringComparer.Ordinal).Select(h => Named(h, transaction)))}, with other logs beside; "
                + $"the flights would count twice. To take this session instead: thermaltrace logbook remove {string.Join(' ', holders.Order(StringComparer.Ordinal))}, then add it again",
            ]);
        }
        ReadSession old = Read(OfSession, there, null, transaction).FirstOrDefault() ?? throw new InvalidDataException($"session {there} cannot be found by its id");
        LogbookSession? kept = old.Damage.Count == 0 ? old.Rows.ToSession() : null;
        if (kept is not null && LogbookSession.KeyOf(kept.Airframe.Name) != LogbookSession.KeyOf(session.Airframe.Name))
        {
            return new AddOutcome(Added.Refused, session.Id,
            [
                $"its logs are already in session {there}, of the airframe \"{kept.Airframe.Name}\" and not \"{session.Airframe.Name}\"; the flights would count twice. "
                + $"Where the airframe's name was changed: thermaltrace logbook remove {there}, then add it again",
            ]);
        }
        if (kept is not null && !fromLogbook)
        {
            session = session with { AddedAt = kept.AddedAt, Reading = session.Reading ?? kept.Reading };
        }
        session = session with { Id = there };
        if (kept is not null && SameContent(session, kept))
        {
            return new AddOutcome(Added.Unchanged, there, []);
        }
        if (fromLogbook && kept is not null && string.CompareOrdinal(kept.ChangedAt, session.ChangedAt) >= 0)
        {
            return new AddOutcome(Added.KeptLater, there, [$"this logbook has session {there} as of {kept.ChangedAt}, the file as of {session.ChangedAt}; the later one stays"]);
        }
        total = PutIn(session, TakeOut(there, total, transaction)!, insert, transaction);
        return new AddOutcome(Added.Replaced, there, [kept is null ? $"what was there was damaged ({old.Damage[0]}) and is put right" : WhatChanged(kept, session)]);
    }

    private static Total PutIn(LogbookSession session, Total total, RowInserter insert, SqliteTransaction transaction)
    {
        SessionRows rows = SessionRows.Of(session);
        for (int t = 0; t < KeptTables.All.Count; t++)
        {
            for (int i = 0; i < rows.Rows[t].Count; i++)
            {
                insert.Row(KeptTables.All[t], rows.Rows[t][i], rows.Checksums[t][i]);
            }
        }
        byte[] seal = rows.Seal();
        Cell[] sealRow = [Cell.Of(session.Id), Cell.Of(rows.Count), Cell.Of(seal)];
        insert.Row(SealTable, sealRow, SealTable.Checksum(sealRow));
        Pack(rows, insert);
        return total.Plus(seal);
    }

    private static void Pack(SessionRows rows, RowInserter insert)
    {
        Cell[] packed = [Cell.Of(rows.Id), Cell.Of(PackedSession.Of(rows))];
        insert.Row(PackedSession.Table, packed, PackedSession.Table.Checksum(packed));
    }

    private Total? TakeOut(string id, Total? total, SqliteTransaction transaction)
    {
        byte[]? seal = Value("SELECT seal FROM seal WHERE session = $value", id, transaction) as byte[];
        foreach (KeptTable table in Tables.Skip(1).Append(SealTable).Append(PackedSession.Table))
        {
            Execute(_connection, transaction, $"DELETE FROM {table.Name} WHERE session = $id", ("$id", id));
        }
        Execute(_connection, transaction, "DELETE FROM session WHERE id = $id", ("$id", id));
        return seal is { Length: KeptTable.ChecksumLength } ? total?.Minus(seal) : total is null ? null : total with { Sessions = total.Sessions - 1 };
    }

    private Total? TotalOrNull(SqliteTransaction transaction)
    {
        try
        {
            return Total.Read(_connection, transaction);
        }
        catch (Exception damaged) when (damaged is InvalidDataException or InvalidCastException or ArgumentException)
        {
            return null; // it is made anew
        }
    }

    private Total SumOfSeals(SqliteTransaction transaction)
    {
        Total sum = Total.Empty;
        using SqliteCommand command = _connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = "SELECT seal FROM seal";
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            sum = sum.Plus(reader.BytesAt(0));
        }
        return sum;
    }

    /// <summary>The write-ahead log goes into the file, so that the file alone holds what was reported.</summary>
    private void Settle() => Scalar(_connection, null, "PRAGMA wal_checkpoint(TRUNCATE)"); // a reader in its way is no harm: the log beside the file is as durable

    /// <summary>An id whose beginning no other session has taken.</summary>
    private string FreeId(LogbookSession session, SqliteTransaction transaction)
    {
        string all = LogbookSession.IdOf(session.Airframe.Name, session.Logs);
        int digits = LogbookSession.ShortestId;
        while (Count("SELECT count(*) FROM session WHERE id = $value", all[..digits], transaction) > 0)
        {
            digits += 2;
        }
        return all[..digits];
    }

    /// <summary>Sessions of the same airframe and day with a log of the same name and other bytes: most often the same log, edited.</summary>
    private IEnumerable<string> Alike(LogbookSession session, SqliteTransaction transaction)
    {
        List<(string Id, string File, string? Date)> found = [];
        using (SqliteCommand command = _connection.CreateCommand())
        {
            command.Transaction = transaction;
            command.CommandText = "SELECT session.id, log.file, session.date FROM log JOIN session ON session.id = log.session WHERE log.file = $file AND session.airframe_key = $key AND session.date IS $date ORDER BY session.id";
            foreach (KeptLog log in session.Logs)
            {
                command.Parameters.Clear();
                command.Parameters.AddWithValue("$file", log.File);
                command.Parameters.AddWithValue("$key", LogbookSession.KeyOf(session.Airframe.Name));
                command.Parameters.AddWithValue("$date", (object?)session.Evidence.Date ?? DBNull.Value);
                using SqliteDataReader reader = command.ExecuteReader();
                while (reader.Read())
                {
                    found.Add((reader.TextAt(0), reader.TextAt(1), reader.IsDBNull(2) ? null : reader.TextAt(2)));
                }
            }
        }
        foreach (IGrouping<string, (string Id, string File, string? Date)> other in found.GroupBy(f => f.Id))
        {
            // Without a day, names like log-01.csv say little: then a flight must look the same.
            if (other.First().Date is null && !Read(OfSession, other.Key, null, transaction).Any(r => SharesAFlight(r, session)))
            {
                continue;
            }
            string day = other.First().Date is { } date ? $" of the same day ({date})" : " with the same flight in it";
            yield return $"session {other.Key} has a log {other.First().File}{day} with other bytes. If this is that log, edited since, its flights now count twice: thermaltrace logbook remove {other.Key}";
        }
    }

    private static bool SharesAFlight(ReadSession read, LogbookSession session) => read.Damage.Count == 0
        && read.Rows.ToEvidence().Flights.Any(f => session.Evidence.Flights.Any(g => g.Log == f.Log && g.Number == f.Number && Near(g.AloftS, f.AloftS) && Near(g.GlideS, f.GlideS) && Near(g.LaunchHeightM, f.LaunchHeightM)));

    // To a second and a metre: flights of different days agree in one of these now and then, hardly in all.
    private static bool Near(double? a, double? b) => (a is null && b is null) || Math.Abs((a - b) ?? double.PositiveInfinity) <= 1;

    private string Named(string id, SqliteTransaction transaction) => Text("SELECT date FROM session WHERE id = $value", id, transaction) is { } date ? $"session {id} of {date}" : $"session {id}";

    private static bool SameContent(LogbookSession a, LogbookSession b)
    {
        // Who wrote it and when does not change what it says.
        static IReadOnlyList<byte[]> Of(LogbookSession s) => [.. SessionRows.Of(s with { Program = "", AddedAt = "", ChangedAt = "" }).Checksums.SelectMany(t => t)];
        return Of(a).Zip(Of(b)).All(p => p.First.AsSpan().SequenceEqual(p.Second)) && Of(a).Count == Of(b).Count;
    }

    private static string WhatChanged(LogbookSession old, LogbookSession now)
    {
        static string Ballasts(LogbookSession s) => string.Join(" ", s.Evidence.Flights.Select(f => f.BallastG?.ToString("0.##", CultureInfo.InvariantCulture) ?? "-"));
        LogbookSession noted = old with { Reading = now.Reading };
        return SameContent(noted, now) ? "what was noted at the field is kept with it"
            : Ballasts(old) != Ballasts(now) ? "its flights' ballast was put right"
            : old.Program != now.Program ? $"it was debriefed by \"{old.Program}\" before and by \"{now.Program}\" now"
            : "its airframe, notes or evidence have changed";
    }

    private string? Text(string sql, string value, SqliteTransaction transaction) => Value(sql, value, transaction) as string;

    private long Count(string sql, string value, SqliteTransaction transaction) => Convert.ToInt64(Value(sql, value, transaction), CultureInfo.InvariantCulture);

    private object? Value(string sql, string value, SqliteTransaction transaction)
    {
        using SqliteCommand command = _connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        command.Parameters.AddWithValue("$value", value);
        return command.ExecuteScalar();
    }

    /// <summary>Inserts rows, each table's statement prepared once.</summary>
    private sealed class RowInserter(SqliteConnection connection, SqliteTransaction transaction) : IDisposable
    {
        private readonly Dictionary<string, SqliteCommand> _commands = [];

        public void Row(KeptTable table, Cell[] row, byte[] checksum)
        {
            if (!_commands.TryGetValue(table.Name, out SqliteCommand? command))
            {
                _commands[table.Name] = command = connection.CreateCommand();
                command.Transaction = transaction;
                string[] names = [.. table.Columns.Select(c => c.Name), "checksum"];
                command.CommandText = $"INSERT INTO {table.Name} ({string.Join(", ", names)}) VALUES ({string.Join(", ", names.Select(n => "$" + n))})";
                foreach (string name in names)
                {
                    command.Parameters.Add(new SqliteParameter("$" + name, null));
                }
            }
            for (int i = 0; i < row.Length; i++)
            {
                command.Parameters[i].Value = Of(row[i], table.Columns[i].Kind);
            }
            command.Parameters[row.Length].Value = checksum;
            command.ExecuteNonQuery();
        }

        public void Dispose()
        {
            foreach (SqliteCommand command in _commands.Values)
            {
                command.Dispose();
            }
        }

        private static object Of(Cell cell, CellKind kind)
        {
            if (cell.IsEmpty)
            {
                return DBNull.Value;
            }
            switch (kind)
            {
                case CellKind.Text:
                    return cell.Text;
                case CellKind.Number:
                    return cell.Number;
                case CellKind.Numbers:
                    ArrayBufferWriter<byte> bytes = new(Math.Max(cell.Numbers.Length * sizeof(double), 1));
                    Cell.AppendNumbers(bytes, cell.Numbers);
                    return bytes.WrittenSpan.ToArray();
                case CellKind.Texts:
                    return JsonSerializer.Serialize(cell.Texts);
                case CellKind.Bytes:
                    return cell.Bytes;
                default:
                    return cell.Long;
            }
        }
    }
}

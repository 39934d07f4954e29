using Microsoft.Data.Sqlite;
using ThermalTrace.Learning;
using ThermalTrace.Units;

namespace ThermalTrace.Logbook;

/// <summary>A session in the list.</summary>
/// <param name="Session">The session; where it is damaged, as far as it can be read.</param>
/// <param name="Damage">What is wrong with it; empty where nothing is.</param>
public sealed record ListedSession(LogbookSession? Session, string Id, IReadOnlyList<string> Damage);

/// <summary>What was read at head height one day, and what blew at flying height.</summary>
/// <param name="SessionId">The session.</param>
/// <param name="Airframe">Its airframe.</param>
/// <param name="Date">Its day; null where its logs have none.</param>
/// <param name="Reading">What the pilot noted.</param>
/// <param name="WindMps">At flying height, m/s; null where not known.</param>
public sealed record FieldDay(string SessionId, string Airframe, string? Date, FieldReading Reading, double? WindMps);

public sealed partial class LogbookFile
{
    private const string OfAirframe = "WHERE session IN (SELECT id FROM session WHERE airframe_key = $value)", OfSession = "WHERE session = $value";

    /// <summary>The sessions of an airframe in order of their days, for estimation.</summary>
    /// <param name="airframeName">Its name; blanks around it and the case of letters do not count.</param>
    /// <exception cref="UnusableInputException">One of them is damaged: better no answer than one from numbers that changed.</exception>
    public IReadOnlyList<SeasonSession> Sessions(string airframeName) => Guarded<IReadOnlyList<SeasonSession>>(() =>
    {
        string key = LogbookSession.KeyOf(airframeName);
        IEnumerable<SeasonSession> sessions = Packed(key) ?? Read(OfAirframe, key).Select(r => new SeasonSession(r.Rows.Id, Sound(r).ToEvidence()));
        return [.. sessions.OrderBy(s => s.Evidence.Date ?? "", StringComparer.Ordinal).ThenBy(s => s.Id, StringComparer.Ordinal)];
    });

    /// <summary>An airframe's sessions from their pieces; null where one is missing or damaged: then their rows are read.</summary>
    private List<SeasonSession>? Packed(string key)
    {
        if (Version < 2)
        {
            return null;
        }
        System.Buffers.ArrayBufferWriter<byte> buffer = new(16_384);
        List<SeasonSession> sessions = [];
        using SqliteCommand command = _connection.CreateCommand();
        command.CommandText = "SELECT session.id, packed.content, packed.checksum FROM session LEFT JOIN packed ON packed.session = session.id WHERE session.airframe_key = $value";
        command.Parameters.AddWithValue("$value", key);
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            if (reader.IsDBNull(1))
            {
                return null;
            }
            string id = reader.TextAt(0);
            byte[] content = reader.BytesAt(1);
            if (!PackedSession.Table.Checksum([Cell.Of(id), Cell.Of(content)], buffer).AsSpan().SequenceEqual(reader.BytesAt(2)))
            {
                return null;
            }
            sessions.Add(new SeasonSession(id, PackedSession.Rows(id, content).ToEvidence()));
        }
        return sessions;
    }

    /// <summary>All sessions in order of their days, damaged ones too.</summary>
    public IReadOnlyList<ListedSession> List() => Guarded<IReadOnlyList<ListedSession>>(() =>
    [
        .. Read("", null).Select(r => new ListedSession(AsFarAsReadable(r), r.Rows.Id, r.Damage))
            .OrderBy(s => s.Session?.Evidence.Date ?? "", StringComparer.Ordinal).ThenBy(s => s.Session?.Airframe.Name, StringComparer.Ordinal).ThenBy(s => s.Id, StringComparer.Ordinal),
    ]);

    /// <summary>A session by its id or the beginning of it.</summary>
    /// <exception cref="UnusableInputException">There is none, there are several, or it is damaged.</exception>
    public LogbookSession Find(string id) => Guarded(() =>
    {
        string whole = WholeId(id, null);
        return Read(OfSession, whole).Select(r => Sound(r).ToSession()).FirstOrDefault() ?? throw new UnusableInputException($"{_path}: is damaged: session {whole} cannot be found by its id");
    });

    /// <summary>What pilots noted at fields, of all airframes, in order of days: for the ratio of wind at flying height to wind at head height.</summary>
    public IReadOnlyList<FieldDay> FieldDays() => Guarded<IReadOnlyList<FieldDay>>(() => Version < 2 ? [] :
    [
        .. Read("WHERE session IN (SELECT session FROM field_reading)", null).Select(r => Sound(r).ToSession())
            .Select(s => new FieldDay(s.Id, s.Airframe.Name, s.Evidence.Date, s.Reading!, s.Conditions.WindMps))
            .OrderBy(d => d.Date ?? "", StringComparer.Ordinal).ThenBy(d => d.SessionId, StringComparer.Ordinal),
    ]);

    /// <summary>Hands every sound session on, in order of ids, and returns a sentence for each that is damaged.</summary>
    internal IReadOnlyList<string> ForEach(Action<SessionRows> work) => Guarded(() =>
    {
        List<string> damaged = [];
        foreach (ReadSession read in Read("", null))
        {
            if (read.Damage.Count > 0)
            {
                damaged.Add(Sentence(read));
            }
            else
            {
                work(read.Rows);
            }
        }
        return damaged;
    });

    /// <summary>A session as it was read.</summary>
    /// <param name="Rows">Its rows.</param>
    /// <param name="Damage">What is wrong with them; empty where nothing is.</param>
    /// <param name="Seal">As stored; null where it is gone.</param>
    private sealed record ReadSession(SessionRows Rows, IReadOnlyList<string> Damage, byte[]? Seal);

    private IReadOnlyList<KeptTable> Tables => Version >= 2 ? KeptTables.All : [.. KeptTables.All.Where(t => t != KeptTables.FieldReading)];

    private static readonly KeptTable SealTable = new("seal", "the seal over a session's rows",
    [
        new KeptColumn("session", CellKind.Text, false, ""), new KeptColumn("rows", CellKind.Whole, false, ""), new KeptColumn("seal", CellKind.Bytes, false, ""),
    ]);

    /// <summary>Goes through all tables side by side, each in order of sessions.</summary>
    /// <param name="where">Which rows of the tables but <c>session</c>; empty for all.</param>
    /// <param name="value">What <c>$value</c> in it stands for.</param>
    /// <param name="strays">Takes rows that belong to no session.</param>
    /// <param name="transaction">To read within; null for one of its own, so that all is of one moment.</param>
    private IEnumerable<ReadSession> Read(string where, string? value, ICollection<string>? strays = null, SqliteTransaction? transaction = null)
    {
        using SqliteTransaction? own = transaction is null ? _connection.BeginTransaction(deferred: true) : null;
        List<TableCursor> cursors = [];
        try
        {
            foreach (KeptTable table in Tables.Append(SealTable))
            {
                string its = table == KeptTables.Session ? where.Replace("WHERE session ", "WHERE id ", StringComparison.Ordinal) : where;
                cursors.Add(new TableCursor(_connection, transaction ?? own!, table, its, value));
            }
            while (cursors[0].Id is { } id)
            {
                yield return Next(id, cursors, strays);
            }
            foreach (TableCursor cursor in cursors)
            {
                Skip(cursor, null, strays);
            }
        }
        finally
        {
            cursors.ForEach(c => c.Dispose());
        }
    }

    private static ReadSession Next(string id, List<TableCursor> cursors, ICollection<string>? strays)
    {
        List<string> damage = [];
        List<IReadOnlyList<Cell[]>> rows = [];
        List<IReadOnlyList<byte[]>> checksums = [];
        foreach (TableCursor cursor in cursors)
        {
            Skip(cursor, id, strays);
            List<Cell[]> its = [];
            List<byte[]> sums = [];
            while (cursor.Id == id && !(cursor.Table == KeptTables.Session && its.Count > 0))
            {
                if (cursor.Damage is { } wrong)
                {
                    damage.Add(cursor.Table == SealTable ? $"its seal {wrong}" : KeptTables.IsSingle(cursor.Table) ? $"its row in {cursor.Table.Name} {wrong}" : FormattableString.Invariant($"{cursor.Table.Name} {its.Count + 1} {wrong}"));
                }
                its.Add(cursor.Row);
                sums.Add(cursor.Checksum);
                cursor.Next();
            }
            rows.Add(its);
            checksums.Add(sums);
        }
        IReadOnlyList<Cell[]> seals = rows[^1];
        rows.RemoveAt(rows.Count - 1);
        checksums.RemoveAt(checksums.Count - 1);
        while (rows.Count < KeptTables.All.Count)
        {
            rows.Add([]); // a table that the file's version does not have
            checksums.Add([]);
        }
        SessionRows session = new(id, rows, checksums);
        byte[]? seal = seals is [{ } row] && damage.TrueForAll(d => !d.StartsWith("its seal", StringComparison.Ordinal)) ? row[2].Bytes : null;
        if (seals.Count == 0)
        {
            damage.Add("its seal is gone");
        }
        else if (damage.Count == 0 && seal is not null)
        {
            if (seals[0][1].Long != session.Count)
            {
                damage.Add(FormattableString.Invariant($"it has {session.Count} rows and should have {seals[0][1].Long}"));
            }
            else if (!session.Seal().AsSpan().SequenceEqual(seal))
            {
                damage.Add("its rows do not match its seal");
            }
        }
        return new ReadSession(session, damage, seal);
    }

    private static void Skip(TableCursor cursor, string? until, ICollection<string>? strays)
    {
        while (cursor.Id is { } id && cursor.Table != KeptTables.Session && (until is null || string.CompareOrdinal(id, until) < 0))
        {
            strays?.Add(cursor.Table == SealTable ? $"session {id} is gone, though it was never removed" : $"a row in {cursor.Table.Name} belongs to session {id}, which is not there");
            cursor.Next();
        }
    }

    private SessionRows Sound(ReadSession read) => read.Damage.Count == 0 ? read.Rows
        : throw new UnusableInputException($"{_path}: is damaged: {Sentence(read)}; \"thermaltrace logbook verify\" says all that is");

    private static string Sentence(ReadSession read) => $"session {read.Rows.Id}: {read.Damage[0]}{(read.Damage.Count > 1 ? FormattableString.Invariant($" (and {read.Damage.Count - 1} more)") : "")}";

    private static LogbookSession? AsFarAsReadable(ReadSession read)
    {
        try
        {
            return read.Rows.ToSession();
        }
        catch (Exception damaged) when (read.Damage.Count > 0 && damaged is InvalidDataException or OverflowException)
        {
            return null;
        }
    }

    private string WholeId(string id, SqliteTransaction? transaction)
    {
        List<string> found = [];
        using SqliteCommand command = _connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = "SELECT id FROM session WHERE id = $id OR substr(id, 1, $length) = $id ORDER BY id <> $id, id LIMIT 3";
        command.Parameters.AddWithValue("$id", id);
        command.Parameters.AddWithValue("$length", id.Length);
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            found.Add(reader.TextAt(0));
        }
        return found.Count == 0 || id.Length == 0 ? throw new UnusableInputException($"there is no session \"{id}\" in the logbook; \"thermaltrace logbook list\" shows all")
            : found.Count == 1 || found[0] == id ? found[0]
            : throw new UnusableInputException($"\"{id}\" begins more than one session's id ({string.Join(", ", found)}); give more digits of it");
    }
}

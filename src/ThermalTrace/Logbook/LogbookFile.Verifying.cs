using System.Globalization;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using ThermalTrace.Units;

namespace ThermalTrace.Logbook;

/// <summary>What verification found.</summary>
/// <param name="Sessions">How many sessions were looked at.</param>
/// <param name="Rows">How many rows of theirs.</param>
/// <param name="Damage">A sentence for each thing that is wrong; empty where nothing is.</param>
public sealed record LogbookHealth(int Sessions, int Rows, IReadOnlyList<string> Damage);

public sealed partial class LogbookFile
{
    private const int MostNamed = 200; // a file torn in half has a complaint for every page

    /// <summary>
    /// Looks at everything: the database's own check, its definition, every row against its checksum, every session against its
    /// seal, the number of sessions and the sum of their seals. Damage is what it reports, not a failure.
    /// </summary>
    /// <exception cref="UnusableInputException">Another program kept it from being looked at.</exception>
    public LogbookHealth Verify() => Guarded(Examine);

    private LogbookHealth Examine()
    {
        List<string> damage = [];
        int sessions = 0, rows = 0;
        Look(damage, "the database's own check ends early", () => damage.AddRange(Lines("PRAGMA integrity_check(100)").Where(l => l != "ok").Select(l => "the database's own check: " + l.ReplaceLineEndings(" "))));
        Look(damage, "which rows belong to which cannot be told", () => damage.AddRange(Lines("SELECT \"table\" || ' ' || coalesce(rowid, '') FROM pragma_foreign_key_check").Select(l => $"a row in {l.TrimEnd()} belongs to a session that is not there")));
        Look(damage, "the database's definition cannot be read", () =>
        {
            IReadOnlyList<string> found = LogbookSchema.Definition(_connection), expected = LogbookSchema.ExpectedDefinition(Version);
            damage.AddRange(expected.Except(found).Select(l => $"the database's definition was changed: {FirstWords(l)} is not as it was made"));
            damage.AddRange(found.Except(expected).Where(l => !expected.Any(e => FirstWords(e) == FirstWords(l))).Select(l => $"the database has what no logbook has: {FirstWords(l)}"));
        });
        Total sum = Total.Empty;
        Look(damage, "the sessions cannot be read through", () =>
        {
            List<string> strays = [];
            using SqliteTransaction whole = _connection.BeginTransaction(deferred: true);
            foreach (ReadSession read in Read("", null, strays, whole))
            {
                sessions++;
                rows += read.Rows.Count;
                damage.AddRange(read.Damage.Select(d => $"session {read.Rows.Id}: {d}"));
                sum = read.Seal is { Length: KeptTable.ChecksumLength } seal ? sum.Plus(seal) : sum with { Sessions = sum.Sessions + 1 };
                if (read.Damage.Count == 0)
                {
                    Look(damage, $"session {read.Rows.Id}: cannot be read", () =>
                    {
                        RequireOwnId(read.Rows.ToSession(), damage);
                        if (Version >= 2 && !(Bytes("SELECT content FROM packed WHERE session = $value", read.Rows.Id, whole) is { } content && content.AsSpan().SequenceEqual(PackedSession.Of(read.Rows))
                            && Bytes("SELECT checksum FROM packed WHERE session = $value", read.Rows.Id, whole) is { } checksum
                            && checksum.AsSpan().SequenceEqual(PackedSession.Table.Checksum([Cell.Of(read.Rows.Id), Cell.Of(content)]))))
                        {
                            damage.Add($"session {read.Rows.Id}: its copy for quick reading is not what its rows say");
                        }
                    });
                }
            }
            damage.AddRange(strays);
        });
        Look(damage, "the count of sessions cannot be read", () =>
        {
            Total total = Total.Read(_connection, null);
            if (total.Sessions != sum.Sessions)
            {
                damage.Add(FormattableString.Invariant($"there are {sum.Sessions} sessions and there should be {total.Sessions}: one was lost or put in without being added"));
            }
            else if (total != sum)
            {
                damage.Add("the sum of the sessions' seals is not what it should be: a session was exchanged");
            }
        });
        Look(damage, "the models cannot be read", () =>
        {
            if (Version >= 2)
            {
                damage.AddRange(Models(null, null).Where(m => !m.Sound).Select(m => $"the model {m.Model.Kind} of {m.Key} does not match its checksum; it is trained anew when needed"));
            }
        });
        IReadOnlyList<string> named = damage.Count <= MostNamed ? damage
            : [.. damage.Take(MostNamed), (damage.Count - MostNamed).ToString(CultureInfo.InvariantCulture) + " more"];
        return new LogbookHealth(sessions, rows, named);
    }

    private static void RequireOwnId(LogbookSession session, List<string> damage)
    {
        if (!LogbookSession.IdOf(session.Airframe.Name, session.Logs).StartsWith(session.Id, StringComparison.Ordinal))
        {
            damage.Add($"session {session.Id}: its id is not that of its airframe and logs");
        }
    }

    private static void Look(List<string> damage, string otherwise, Action look)
    {
        try
        {
            look();
        }
        catch (SqliteException failure) when (failure.SqliteErrorCode is not (Busy or Locked))
        {
            damage.Add($"{otherwise}: {failure.Message}");
        }
        catch (Exception failure) when (failure is InvalidDataException or InvalidCastException or FormatException or OverflowException or JsonException or ArgumentException)
        {
            damage.Add($"{otherwise}: {failure.Message}");
        }
    }

    private byte[]? Bytes(string sql, string value, SqliteTransaction transaction)
    {
        using SqliteCommand command = _connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = sql;
        command.Parameters.AddWithValue("$value", value);
        return command.ExecuteScalar() as byte[];
    }

    private List<string> Lines(string sql)
    {
        using SqliteCommand command = _connection.CreateCommand();
        command.CommandText = sql;
        using SqliteDataReader reader = command.ExecuteReader();
        List<string> lines = [];
        while (reader.Read())
        {
            lines.Add(reader.IsDBNull(0) ? "" : reader.TextAt(0));
        }
        return lines;
    }

    private static string FirstWords(string definition) => string.Join(' ', definition.Split(' ').Take(2));
}

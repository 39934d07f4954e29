using System.Globalization;
using Microsoft.Data.Sqlite;
using ThermalTrace.Logbook;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Units;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Logbook;

/// <summary>A real file, damaged in every way that came to mind: verification names it or nothing that is read has changed, and nothing crashes.</summary>
public sealed class DamageTests : IDisposable
{
    private static readonly LogbookSession First = MadeUpSession.Of(1), Ninth = MadeUpSession.Of(9);
    private readonly TempFolder _folder = new();
    private readonly ITestOutputHelper _log;
    private readonly byte[] _sound;
    private readonly string _content;
    private readonly string[] _ids;
    private int _ways, _named;

    public DamageTests(ITestOutputHelper log)
    {
        _log = log;
        string path = Path.Combine(_folder.Root, "sound.sqlite");
        using (LogbookFile logbook = LogbookFile.OpenToWrite(path))
        {
            _ids =
            [
                logbook.Add(MadeUpSession.Of(1) with { Reading = new FieldReading("Larkmoor", 2.5, 2) }).Id,
                logbook.Add(MadeUpSession.Of(2, date: "2026-05-10")).Id,
                logbook.Add(MadeUpSession.Of(3, "Sedge", terms: 12)).Id,
            ];
            logbook.PutModel("Tansy 150", new KeptModel("climb", logbook.DataHash("Tansy 150"), "thermaltrace 0.1.0", [.. Enumerable.Range(0, 300).Select(i => (byte)i)]));
        }
        Assert.False(File.Exists(path + "-wal")); // the file alone is the whole logbook
        _sound = File.ReadAllBytes(path);
        _content = Content(path);
        Assert.Empty(Verify(path));
    }

    public void Dispose()
    {
        _log.WriteLine(FormattableString.Invariant($"{_ways} ways, {_named} of them named; in the others what is read is unchanged"));
        _folder.Dispose();
    }

    [Fact]
    public void AByteFlippedAnywhere_IsNamed_OrWhatIsReadIsUnchanged()
    {
        int seed = Environment.TickCount;
        _log.WriteLine(FormattableString.Invariant($"seed {seed}"));
        Random random = new(seed);
        for (int i = 0; i < 160; i++)
        {
            // One in four in the first page, where header and definition are.
            int at = random.Next(i % 4 == 0 ? 4096 : _sound.Length);
            byte mask = (byte)random.Next(1, 256);
            Damaged(FormattableString.Invariant($"byte {at} with mask {mask}"), bytes => bytes[at] ^= mask);
        }
        Assert.True(_named > 30);
    }

    [Fact]
    public void AStretchOverwritten_IsNamed_OrWhatIsReadIsUnchanged()
    {
        int seed = Environment.TickCount;
        _log.WriteLine(FormattableString.Invariant($"seed {seed}"));
        Random random = new(seed);
        for (int i = 0; i < 40; i++)
        {
            int at = random.Next(_sound.Length - 600), length = random.Next(2, 600), kind = i % 3;
            Damaged(FormattableString.Invariant($"{length} bytes from {at}, kind {kind}"), bytes =>
            {
                Span<byte> stretch = bytes.AsSpan(at, length);
                if (kind == 0)
                {
                    stretch.Clear();
                }
                else if (kind == 1)
                {
                    random.NextBytes(stretch);
                }
                else
                {
                    stretch.Reverse();
                }
            });
        }
    }

    [Fact]
    public void AFileCutOff_IsNamed()
    {
        for (int i = 0; i < 30; i++)
        {
            int length = (int)((long)_sound.Length * i / 30) + i % 3;
            DamagedFile(FormattableString.Invariant($"cut to {length}"), path => File.WriteAllBytes(path, _sound[..length]), mustBeNamed: true);
        }
    }

    [Fact]
    public void PagesExchangedOrEmptied_AreNamed_OrWhatIsReadIsUnchanged()
    {
        const int page = 4096;
        int pages = _sound.Length / page;
        for (int i = 1; i < pages; i++)
        {
            int other = (i * 7 + 3) % (pages - 1) + 1;
            if (other != i)
            {
                Damaged(FormattableString.Invariant($"pages {i} and {other} exchanged"), bytes =>
                {
                    byte[] kept = bytes[(i * page)..((i + 1) * page)];
                    bytes.AsSpan(other * page, page).CopyTo(bytes.AsSpan(i * page));
                    kept.CopyTo(bytes, other * page);
                }, mustBeNamed: true);
            }
            Damaged(FormattableString.Invariant($"page {i} emptied"), bytes => bytes.AsSpan(i * page, page).Clear());
            Damaged(FormattableString.Invariant($"page {i} twice"), bytes => bytes.AsSpan(i * page, page).CopyTo(bytes.AsSpan(i % (pages - 1) * page + page)));
        }
    }

    [Fact]
    public void EveryColumnEdited_IsNamed()
    {
        foreach (KeptTable table in KeptTables.All)
        {
            string its = table.Columns[0].Name;
            foreach (KeptColumn column in table.Columns)
            {
                string value = column.Kind switch
                {
                    CellKind.Text when column.Name == its => $"'{_ids[0][..7]}z'",
                    CellKind.Text => $"coalesce({column.Name}, '') || 'x'",
                    CellKind.Texts => $"replace({column.Name}, 'term 1', 'term 9')",
                    CellKind.Numbers => $"CAST({column.Name} || x'0000000000000840' AS BLOB)",
                    CellKind.YesNo => $"1 - {column.Name}",
                    CellKind.Whole => $"{column.Name} + 1000",
                    _ => $"coalesce({column.Name}, 0) + 1e-9",
                };
                string where = KeptTables.IsSingle(table) ? $"WHERE {its} = '{_ids[0]}'" : $"WHERE {its} = '{_ids[0]}' AND place = 1";
                Edited($"UPDATE {table.Name} SET {column.Name} = {value} {where}");
            }
            Edited($"UPDATE {table.Name} SET checksum = zeroblob(32) WHERE {its} = '{_ids[0]}'");
        }
        Edited("UPDATE seal SET seal = zeroblob(32)");
        Edited($"UPDATE seal SET rows = rows + 1 WHERE session = '{_ids[2]}'");
        Edited("UPDATE seal SET checksum = zeroblob(32)");
        Edited("UPDATE total SET sessions = 2");
        Edited("UPDATE total SET seals = zeroblob(32)");
        Edited("UPDATE total SET seals = x'01'");
        Edited("UPDATE packed SET content = zeroblob(300)");
        Edited("UPDATE packed SET checksum = zeroblob(32)");
        Edited("DELETE FROM packed");
        Edited("UPDATE model SET content = zeroblob(300)");
        Edited("UPDATE model SET data_hash = 'x'");
    }

    [Fact]
    public void RowsDeletedMovedOrAdded_AreNamed()
    {
        foreach (KeptTable table in KeptTables.All)
        {
            string its = table.Columns[0].Name;
            Edited($"DELETE FROM {table.Name} WHERE {its} = '{_ids[0]}'");
            Edited($"DELETE FROM {table.Name}");
        }
        Edited($"DELETE FROM flight WHERE session = '{_ids[1]}' AND place = 5");
        Edited($"DELETE FROM climb WHERE session = '{_ids[1]}' AND place = 0");
        Edited($"UPDATE flight SET session = '{_ids[1]}', place = 77 WHERE session = '{_ids[2]}' AND place = 5");
        Edited($"UPDATE climb SET place = 99 WHERE session = '{_ids[1]}' AND place = 3");
        Edited($"INSERT INTO climb SELECT session, place + 100, flight, seconds, climb_mps, established_s, gain_mps, airspeed_mps, load_factor, height_m, density_kg_m3, checksum FROM climb WHERE session = '{_ids[1]}'");
        Edited("DELETE FROM seal");
        Edited($"DELETE FROM seal WHERE session = '{_ids[1]}'");
        Edited("DELETE FROM total");
        // A whole session with everything that hangs on it: only the count and the sum still know.
        string all = string.Concat(KeptTables.All.Select(t => $"DELETE FROM {t.Name} WHERE {t.Columns[0].Name} = '{_ids[1]}'; "));
        Edited(all + $"DELETE FROM seal WHERE session = '{_ids[1]}'");
        Edited("DELETE FROM model", mustBeNamed: false);
    }

    [Fact]
    public void TheDefinitionChanged_IsNamed()
    {
        Edited("DROP INDEX session_airframe");
        Edited("DROP INDEX log_sha256");
        Edited("DROP TABLE climb");
        Edited("DROP TABLE model");
        Edited("DROP TABLE total");
        Edited("CREATE TABLE extra (a TEXT)");
        Edited("CREATE TRIGGER quietly AFTER INSERT ON flight BEGIN DELETE FROM climb; END");
        Edited("ALTER TABLE flight RENAME COLUMN edr TO rde");
        Edited("ALTER TABLE flight ADD COLUMN mood TEXT");
        Edited("ALTER TABLE session RENAME TO sessions");
        Edited("CREATE VIEW v AS SELECT 1");
        Edited("PRAGMA user_version = 1");
        Edited("PRAGMA user_version = 77");
        Edited("PRAGMA user_version = -1");
        Edited("PRAGMA application_id = 1");
        Edited("PRAGMA writable_schema = ON; UPDATE sqlite_schema SET sql = replace(sql, 'REAL', 'TEXT') WHERE name = 'flight'");
        Edited("PRAGMA writable_schema = ON; DELETE FROM sqlite_schema WHERE name = 'log'");
        Edited("PRAGMA writable_schema = ON; UPDATE sqlite_schema SET rootpage = 3 WHERE name = 'climb'");
        Edited("PRAGMA writable_schema = ON; UPDATE sqlite_schema SET sql = 'nonsense' WHERE name = 'drag'");
    }

    [Fact]
    public void TheWriteAheadLogGoneOrBroken_LosesNothingThatWasReported()
    {
        string work = Path.Combine(_folder.Root, "work.sqlite");
        File.WriteAllBytes(work, _sound);
        using LogbookFile open = LogbookFile.OpenToWrite(work);
        open.Add(MadeUpSession.Of(4, "Sedge", date: "2026-06-01"));
        // As the disk is while the program still runs, or was killed: with and without what lies beside the file.
        byte[] main = File.ReadAllBytes(work), log = Shared(work + "-wal"), index = Shared(work + "-shm");
        string expected = Content(work);
        void Beside(string what, byte[]? wal, byte[]? shm) => DamagedFile(what, path =>
        {
            File.WriteAllBytes(path, main);
            if (wal is not null)
            {
                File.WriteAllBytes(path + "-wal", wal);
            }
            if (shm is not null)
            {
                File.WriteAllBytes(path + "-shm", shm);
            }
        }, expected: expected);
        byte[] garbage = new byte[5000];
        new Random(5).NextBytes(garbage);
        Beside("nothing beside it", null, null);
        Beside("its own", log, index);
        Beside("no index", log, null);
        Beside("index without log", null, index);
        Beside("empty log", [], null);
        Beside("garbage for a log", garbage, null);
        Beside("garbage for an index", null, garbage);
    }

    [Fact]
    public void ADamagedSession_IsPutRightByAddingItAgain_OrByRemovingIt()
    {
        foreach (string sql in new[]
        {
            $"UPDATE flight SET ballast_g = 77 WHERE session = '{_ids[1]}' AND place = 1", $"DELETE FROM climb WHERE session = '{_ids[1]}'", $"DELETE FROM seal WHERE session = '{_ids[1]}'",
            $"UPDATE seal SET seal = zeroblob(32) WHERE session = '{_ids[1]}'", $"UPDATE drag SET information = x'00' WHERE session = '{_ids[1]}'",
        })
        {
            string path = Copy();
            Sql.Run(path, sql);
            using (LogbookFile logbook = LogbookFile.OpenToWrite(path))
            {
                Assert.Contains(_ids[1], Assert.Throws<UnusableInputException>(() => logbook.Find(_ids[1])).Message, StringComparison.Ordinal);
                Assert.Single(logbook.Sessions("Sedge")); // another airframe's are as they were
                logbook.Remove([_ids[1]]);
                Assert.Empty(logbook.Verify().Damage);
                Assert.Equal(Added.New, logbook.Add(MadeUpSession.Of(2, date: "2026-05-10")).What);
                Assert.Equal(_content, Content(path));
            }
            path = Copy();
            Sql.Run(path, sql);
            using LogbookFile again = LogbookFile.OpenToWrite(path);
            AddOutcome outcome = again.Add(MadeUpSession.Of(2, date: "2026-05-10"));
            Assert.Equal((Added.Replaced, _ids[1]), (outcome.What, outcome.Id));
            Assert.Contains("what was there was damaged", outcome.Sentences[0], StringComparison.Ordinal);
            Assert.Equal(_content, Content(path));
        }
    }

    // Rows and their copy in one piece guard each other: estimation takes either, as long as it is sound.
    [Theory]
    [InlineData("UPDATE flight SET ballast_g = 77", true)]
    [InlineData("UPDATE packed SET content = zeroblob(300)", true)]
    [InlineData("DELETE FROM packed", true)]
    [InlineData("UPDATE packed SET content = zeroblob(300); UPDATE flight SET ballast_g = 77", false)]
    public void WhatEstimationReads_IsUnchangedOrRefused(string sql, bool readable)
    {
        string path = Copy();
        string[] expected = [.. Open(path).Select(s => MadeUpSession.Text(s.Evidence))];
        Sql.Run(path, sql);
        if (readable)
        {
            Assert.Equal(expected, Open(path).Select(s => MadeUpSession.Text(s.Evidence)));
        }
        else
        {
            Assert.Contains("does not match its checksum", Assert.Throws<UnusableInputException>(() => Open(path)).Message, StringComparison.Ordinal);
        }
        Assert.NotEmpty(Verify(path));

        static IReadOnlyList<ThermalTrace.Learning.SeasonSession> Open(string path)
        {
            using LogbookFile logbook = LogbookFile.OpenToRead(path);
            return logbook.Sessions("Tansy 150");
        }
    }

    [Fact]
    public void ALostSession_IsStillMissedAfterAnotherWasRemoved()
    {
        string path = Copy();
        Sql.Run(path, string.Concat(KeptTables.All.Select(t => $"DELETE FROM {t.Name} WHERE {t.Columns[0].Name} = '{_ids[1]}'; ")) + $"DELETE FROM seal WHERE session = '{_ids[1]}'; DELETE FROM packed WHERE session = '{_ids[1]}'");
        using LogbookFile logbook = LogbookFile.OpenToWrite(path);
        Assert.Contains("there are 2 sessions and there should be 3", Assert.Single(logbook.Verify().Damage), StringComparison.Ordinal);
        logbook.Remove([_ids[2]]);
        Assert.Contains("there are 1 sessions and there should be 2", Assert.Single(logbook.Verify().Damage), StringComparison.Ordinal);
    }

    [Fact]
    public void AnExportOfADamagedLogbook_HasWhatIsSound_AndNamesTheRest()
    {
        string path = Copy();
        Sql.Run(path, $"UPDATE climb SET climb_mps = 9 WHERE session = '{_ids[0]}'");
        using LogbookFile logbook = LogbookFile.OpenToRead(path);
        Dictionary<string, MemoryStream> files = [];
        ExportSummary summary = LogbookExport.Write(logbook, ExportFormats.All, name => files[name] = new MemoryStream());
        Assert.Equal(2, summary.Sessions);
        Assert.Contains($"session {_ids[0]}: climb 1 does not match its checksum (and 11 more)", Assert.Single(summary.Damaged), StringComparison.Ordinal);
    }

    private string Copy()
    {
        string path = Path.Combine(_folder.Root, (++_ways).ToString(CultureInfo.InvariantCulture) + ".sqlite");
        File.WriteAllBytes(path, _sound);
        return path;
    }

    private void Edited(string sql, bool mustBeNamed = true) => DamagedFile(sql, path =>
    {
        File.WriteAllBytes(path, _sound);
        using SqliteConnection database = Sql.Open(path);
        Sql.Run(database, "PRAGMA foreign_keys = OFF");
        Sql.Run(database, sql);
    }, mustBeNamed);

    private void Damaged(string what, Action<byte[]> damage, bool mustBeNamed = false) => DamagedFile(what, path =>
    {
        byte[] bytes = [.. _sound];
        damage(bytes);
        File.WriteAllBytes(path, bytes);
    }, mustBeNamed);

    private void DamagedFile(string what, Action<string> write, bool mustBeNamed = false, string? expected = null)
    {
        _ways++;
        string path = Path.Combine(_folder.Root, "damaged.sqlite");
        foreach (string ending in new[] { "", "-wal", "-shm" })
        {
            File.Delete(path + ending);
        }
        write(path);
        try
        {
            string[] damage = Verify(path);
            if (damage.Length > 0)
            {
                _named++;
                Assert.All(damage, d => Assert.False(string.IsNullOrWhiteSpace(d)));
            }
            else
            {
                Assert.False(mustBeNamed, "was not named");
                Assert.Equal(expected ?? _content, Content(path));
            }
            UseEverything(path);
        }
        catch (Exception failure)
        {
            throw new InvalidOperationException(what, failure);
        }
    }

    /// <summary>What verification says; a file that cannot be opened is named by that.</summary>
    private static string[] Verify(string path)
    {
        try
        {
            using LogbookFile logbook = LogbookFile.OpenToRead(path);
            return [.. logbook.Verify().Damage];
        }
        catch (UnusableInputException named)
        {
            return [named.Message];
        }
    }

    /// <summary>Every way to read and to write: each answers or throws a sentence.</summary>
    private void UseEverything(string path)
    {
        Action<LogbookFile>[] reads =
        [
            l => l.Sessions("Tansy 150"), l => l.Sessions("Sedge"), l => l.List(), l => l.Find(_ids[0]), l => l.FieldDays(), l => l.DataHash("Tansy 150"),
            l => l.GetModel("Tansy 150", "climb", l.DataHash("Tansy 150")), l => LogbookExport.Write(l, ExportFormats.Json, _ => new MemoryStream()),
        ];
        Sentence(path, () =>
        {
            using LogbookFile logbook = LogbookFile.OpenToRead(path);
            Assert.All(reads, read => Sentence(path, () => read(logbook)));
        });
        Action<LogbookFile>[] writes =
            [l => l.Add(First), l => l.Add(Ninth), l => l.Remove([_ids[2]]), l => l.PutModel("Sedge", new KeptModel("climb", "", "", [])), l => l.Verify()];
        Sentence(path, () =>
        {
            using LogbookFile logbook = LogbookFile.OpenToWrite(path);
            Assert.All(writes, write => Sentence(path, () => write(logbook)));
        });
    }

    private static void Sentence(string path, Action use)
    {
        try
        {
            use();
        }
        catch (UnusableInputException sentence)
        {
            Assert.StartsWith(path, sentence.Message.Replace("there is no session", path, StringComparison.Ordinal), StringComparison.Ordinal);
        }
    }

    private static string Content(string path)
    {
        using LogbookFile logbook = LogbookFile.OpenToRead(path);
        return string.Join('\n', logbook.List().Select(s => MadeUpSession.Text(s.Session!) + string.Join(' ', s.Damage)));
    }

    private static byte[] Shared(string path)
    {
        using FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}

using Microsoft.Data.Sqlite;
using ThermalTrace.Logbook;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Logbook;

public sealed class SchemaTests : IDisposable
{
    private readonly TempFolder _folder = new();

    private string FilePath => Path.Combine(_folder.Root, "season.sqlite");

    public void Dispose() => _folder.Dispose();

    /// <summary>A logbook as version 1 wrote it: no readings, no models.</summary>
    private void WriteVersion1(params LogbookSession[] sessions)
    {
        using (LogbookFile logbook = LogbookFile.OpenToWrite(FilePath))
        {
            Assert.All(sessions, s => logbook.Add(s));
        }
        Sql.Run(FilePath, "DROP TABLE field_reading; DROP TABLE packed; DROP TABLE model; PRAGMA user_version = 1");
        // The tables of version 1, as they were when it was made: they never change.
        Assert.Equal("climb drag flight log seal session total", Sql.Ask(FilePath, "SELECT group_concat(name, ' ') FROM (SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name)"));
        Assert.Equal("id airframe airframe_key wing_span_mm wing_area_dm2 unballasted_mass_g max_flying_mass_g launch date latitude_deg longitude_deg measure wind_mps wind_mps_low wind_mps_high "
            + "lift_mps lift_mps_low lift_mps_high thermal_radius_m thermal_radius_m_low thermal_radius_m_high edr air_sink_mps best_ballast_g verdict why program added_at changed_at checksum",
            Sql.Ask(FilePath, "SELECT group_concat(name, ' ') FROM (SELECT name FROM pragma_table_info('session') ORDER BY cid)"));
    }

    [Fact]
    public void ALogbookOfVersion1_IsReadAsItIs_AndMigratedWhenItIsAddedTo()
    {
        LogbookSession session = MadeUpSession.Of(1);
        WriteVersion1(session);
        using (LogbookFile old = LogbookFile.OpenToRead(FilePath))
        {
            Assert.Equal(1, old.Version);
            Assert.Equal(MadeUpSession.Text(session), MadeUpSession.Text(old.Find(session.Id)));
            Assert.Empty(old.FieldDays());
            Assert.Null(old.GetModel("Tansy 150", "climb", old.DataHash("Tansy 150")));
            Assert.Empty(old.Verify().Damage);
        }
        Assert.Equal(1L, Sql.Ask(FilePath, "PRAGMA user_version")); // reading changes nothing
        using (LogbookFile now = LogbookFile.OpenToWrite(FilePath))
        {
            Assert.Equal(2, now.Version);
            Assert.Equal(1L, Sql.Ask(FilePath, "SELECT count(*) FROM packed"));
            Assert.Equal(MadeUpSession.Text(session.Evidence), MadeUpSession.Text(now.Sessions("Tansy 150")[0].Evidence));
            Assert.Equal(Added.Unchanged, now.Add(session).What);
            Assert.Equal(Added.New, now.Add(MadeUpSession.Of(2) with { Reading = new FieldReading("Larkmoor", null, null) }).What);
            Assert.Empty(now.Verify().Damage);
        }
        Assert.Equal(2L, Sql.Ask(FilePath, "PRAGMA user_version"));
    }

    [Fact]
    public void ADamagedRowOfVersion1_IsNotMadeGoodByMigrating()
    {
        WriteVersion1(MadeUpSession.Of(1));
        Sql.Run(FilePath, "UPDATE flight SET ballast_g = 60 WHERE place = 1");
        LogbookFile.OpenToWrite(FilePath).Dispose();
        using LogbookFile now = LogbookFile.OpenToRead(FilePath);
        Assert.Contains("flight 2 does not match its checksum", Assert.Single(now.Verify().Damage), StringComparison.Ordinal);
    }

    [Fact]
    public void ALogbookOfALaterProgram_IsRefusedAndLeftAlone()
    {
        using (LogbookFile logbook = LogbookFile.OpenToWrite(FilePath))
        {
            logbook.Add(MadeUpSession.Of(1));
        }
        Sql.Run(FilePath, "CREATE TABLE weather (day TEXT); PRAGMA user_version = 3");
        byte[] before = File.ReadAllBytes(FilePath);
        foreach (Func<string, LogbookFile> open in new[] { LogbookFile.OpenToRead, LogbookFile.OpenToWrite })
        {
            UnusableInputException refused = Assert.Throws<UnusableInputException>(() => open(FilePath));
            Assert.Equal($"{FilePath}: was written by a later version of this program (its schema is version 3, this program knows up to 2); nothing was changed, use that version or a newer one", refused.Message);
        }
        Assert.Equal(before, File.ReadAllBytes(FilePath));
    }

    [Fact]
    public void TheTables_HaveTheColumnsThatAreWrittenAndExported()
    {
        LogbookFile.OpenToWrite(FilePath).Dispose();
        foreach (KeptTable table in KeptTables.All)
        {
            Assert.Equal(string.Join(' ', [.. table.Columns.Select(c => c.Name), "checksum"]), Sql.Ask(FilePath, $"SELECT group_concat(name, ' ') FROM (SELECT name FROM pragma_table_info('{table.Name}') ORDER BY cid)"));
        }
        Assert.Equal("wal", Sql.Ask(FilePath, "PRAGMA journal_mode"));
        Assert.Equal(["session", "log", "drag", "flight", "climb", "field_reading"], KeptTables.All.Select(t => t.Name));
    }

    [Fact]
    public void WhatIsNoLogbook_IsRefusedAndLeftAlone()
    {
        string text = _folder.Write("notes.txt", "Not a database, though longer than the header of one would be, and then some.\n" + new string('x', 4000));
        string database = Path.Combine(_folder.Root, "other.sqlite"), folder = _folder.Root, missing = Path.Combine(_folder.Root, "none", "season.sqlite");
        Sql.Run(database, "CREATE TABLE recipe (name TEXT)");
        string below = Path.Combine(text, "season.sqlite");
        string empty = _folder.Write("empty.sqlite", "");
        IReadOnlyList<string> before = _folder.Everything();
        Refused(text, "is not a logbook, or its beginning is damaged", "is not a logbook, or its beginning is damaged");
        Refused(database, "is a database, but not a logbook of this program", "is a database, but not a logbook of this program");
        Refused(folder, "is a folder; expected the file of a logbook", "is a folder; expected the file of a logbook");
        Refused(missing, "there is no logbook yet", "cannot be opened: its folder is not there");
        Refused(below, "there is no logbook yet", "cannot be opened: its folder is not there");
        Assert.Contains("is empty", Assert.Throws<UnusableInputException>(() => LogbookFile.OpenToRead(empty)).Message, StringComparison.Ordinal);
        Assert.Equal(before, _folder.Everything());
        LogbookFile.OpenToWrite(empty).Dispose(); // begun by a program that was killed
        using LogbookFile made = LogbookFile.OpenToRead(empty);
        Assert.Empty(made.List());
    }

    [Fact]
    public void ALogbookThatAnotherProgramHolds_IsSaidToBeInUse()
    {
        using (LogbookFile logbook = LogbookFile.OpenToWrite(FilePath))
        {
            logbook.Add(MadeUpSession.Of(1));
        }
        using SqliteConnection other = Sql.Open(FilePath);
        Sql.Run(other, "BEGIN IMMEDIATE");
        using (LogbookFile read = LogbookFile.Open(FilePath, reading: true, busyMs: 50))
        {
            Assert.Single(read.List()); // who only reads need not wait
        }
        using LogbookFile write = LogbookFile.Open(FilePath, reading: false, busyMs: 50);
        UnusableInputException busy = Assert.Throws<UnusableInputException>(() => write.Add(MadeUpSession.Of(2)));
        Assert.Equal($"{FilePath}: another program has been using it for too long; try again when that has ended", busy.Message);
        Sql.Run(other, "ROLLBACK");
        Assert.Equal(Added.New, write.Add(MadeUpSession.Of(2)).What);
    }

    [Fact]
    public void ALogbookInAReadOnlyPlace_IsReadAndNotWritten()
    {
        if (OperatingSystem.IsWindows() || Environment.IsPrivilegedProcess)
        {
            return; // nothing is read-only to who may do everything
        }
        using (LogbookFile logbook = LogbookFile.OpenToWrite(FilePath))
        {
            logbook.Add(MadeUpSession.Of(1));
        }
        File.SetUnixFileMode(FilePath, UnixFileMode.UserRead);
        File.SetUnixFileMode(_folder.Root, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        try
        {
            using LogbookFile read = LogbookFile.OpenToRead(FilePath);
            Assert.Single(read.Sessions("Tansy 150"));
            Assert.Contains("read-only place", Assert.Throws<UnusableInputException>(() =>
            {
                using LogbookFile write = LogbookFile.OpenToWrite(FilePath);
                write.Add(MadeUpSession.Of(2));
            }).Message, StringComparison.Ordinal);
        }
        finally
        {
            File.SetUnixFileMode(_folder.Root, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        }
    }

    private static void Refused(string path, string toRead, string toWrite)
    {
        Assert.StartsWith($"{path}: {toRead}", Assert.Throws<UnusableInputException>(() => LogbookFile.OpenToRead(path)).Message, StringComparison.Ordinal);
        Assert.StartsWith($"{path}: {toWrite}", Assert.Throws<UnusableInputException>(() => LogbookFile.OpenToWrite(path)).Message, StringComparison.Ordinal);
    }
}

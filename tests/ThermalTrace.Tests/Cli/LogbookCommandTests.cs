using System.Diagnostics;
using System.Text.Json;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Logbook;

namespace ThermalTrace.Tests.Cli;

public sealed class LogbookCommandTests : IDisposable
{
    private readonly TempFolder _folder = new();

    private string Book => Path.Combine(_folder.Root, "season.sqlite");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task AFolder_IsTakenFromItsFinishedResults_AndDebriefedWhereTheyAreStale()
    {
        string session = _folder.Session;
        Assert.Equal(0, (await CliRun.Of("simulate", "--out", session, "--flights", "3", "--logs", "one", "--flight-time", "90", "--rate", "2", "--seed", "5")).ExitCode);
        DebriefResult debriefed = Debrief.Run(SessionFolder.Read(session), new DebriefOptions());
        Directory.CreateDirectory(Path.Combine(session, "debrief"));
        using (FileStream results = File.Create(Path.Combine(session, "debrief", "results.json")))
        {
            ResultsJson.Write(results, debriefed.Document);
        }
        // A card for the lid made since changes nothing.
        File.WriteAllText(Path.Combine(session, "pieces.html"), "a page");
        File.SetLastWriteTimeUtc(Path.Combine(session, "pieces.html"), DateTime.UtcNow.AddMinutes(1));
        CliRun added = await CliRun.Of("logbook", "add", session, "--logbook", Book, "--field", "Larkmoor", "--wind-read", "9km/h");
        Assert.Equal(0, added.ExitCode);
        Assert.Contains("taken from its finished results", added.Messages, StringComparison.Ordinal);
        Assert.Matches($"^{session}: added as [0-9a-f]{{8}} \\(.*, \\d+ flights\\)\n$", added.Output);
        Assert.Contains("\"wind_mps\": 2.5,\n        \"height_m\": 2", (await CliRun.Of("logbook", "show", Id(added), "--logbook", Book, "--json")).Output, StringComparison.Ordinal);
        using (LogbookFile book = LogbookFile.OpenToWrite(Book))
        {
            // The same from the debrief itself as from its file.
            Assert.Equal(Added.Unchanged, book.Add(LogbookSession.Of(debriefed.Document, DateTimeOffset.UnixEpoch)).What);
        }

        // Ballast put right after the debrief: the results on the disk are stale.
        string flights = Path.Combine(session, "flights.csv");
        string[] rows = File.ReadAllLines(flights);
        rows[1] = string.Join(',', rows[1].Split(',').Select((cell, i) => rows[0].Split(',')[i] == "ballast_g" ? "25" : cell));
        File.WriteAllLines(flights, rows);
        File.SetLastWriteTimeUtc(flights, DateTime.UtcNow.AddMinutes(1));
        CliRun corrected = await CliRun.Of("logbook", "add", session, "--logbook", Book);
        Assert.Contains("debriefed again, since its finished results are out of date: flights.csv is newer", corrected.Messages, StringComparison.Ordinal);
        Assert.Contains($"took the place of {Id(added)}", corrected.Output, StringComparison.Ordinal);
        Assert.Contains("ballast was put right", corrected.Messages, StringComparison.Ordinal);
        Assert.StartsWith("Nothing is damaged: 1 session,", (await CliRun.Of("logbook", "verify", "--logbook", Book)).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task OneBadFolder_DoesNotStopTheOthers()
    {
        string first = Results("a", 1), second = Results("b", 2, date: "2026-05-10");
        CliRun run = await CliRun.Of("logbook", "add", first, Path.Combine(_folder.Root, "nowhere"), second, "--logbook", Book);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("nowhere: was not added\n", run.Messages, StringComparison.Ordinal);
        Assert.Contains("there is no such folder", run.Messages, StringComparison.Ordinal);
        Assert.Equal(2, run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);

        CliRun json = await CliRun.Of("logbook", "add", first, Path.Combine(_folder.Root, "nowhere"), "--logbook", Book, "--json");
        using JsonDocument document = JsonDocument.Parse(json.Output);
        Assert.Equal("thermaltrace.logbook_add/1", document.RootElement.GetProperty("schema").GetString());
        Assert.Equal("unchanged", document.RootElement.GetProperty("sessions")[0].GetProperty("what").GetString());
        Assert.EndsWith("nowhere", document.RootElement.GetProperty("unusable")[0].GetProperty("from").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task List_ShowsASessionALine_AndNamesWhatIsDamaged()
    {
        CliRun added = await CliRun.Of("logbook", "add", Results("a", 1), Results("b", 2, "Sedge", "2026-05-10"), Results("c", 3, "=cmd|x\u202E", "2026-05-11"), "--logbook", Book);
        CliRun list = await CliRun.Of("logbook", "list", "--logbook", Book);
        Assert.Equal((0, ""), (list.ExitCode, list.Messages));
        string[] lines = list.Output.Split('\n');
        Assert.Matches(@"^  id +day +airframe +flights +ballast g +wind m/s +lift m/s +edr +answer$", lines[0]);
        Assert.Matches($@"^  {Id(added)}  2026-05-09  Tansy 150 +6 +0 40 +4\.1 +1\.9 ±0\.6 +0\.14 +40 g, leaning$", lines[1]);
        Assert.DoesNotContain('\u202E', list.Output);
        using (JsonDocument document = JsonDocument.Parse((await CliRun.Of("logbook", "list", "--logbook", Book, "--json")).Output))
        {
            Assert.Equal("=cmd|x\u202E", document.RootElement.GetProperty("sessions")[2].GetProperty("airframe").GetString());
            Assert.Equal(6, document.RootElement.GetProperty("sessions")[0].GetProperty("flights").GetInt32());
        }
        Sql.Run(Book, $"DELETE FROM climb WHERE session = '{Id(added)}'");
        list = await CliRun.Of("logbook", "list", "--logbook", Book);
        Assert.Equal(3, list.ExitCode);
        Assert.Contains("DAMAGED", list.Output, StringComparison.Ordinal);
        Assert.Contains($"session {Id(added)} is damaged", list.Messages, StringComparison.Ordinal);
        Assert.Equal(3, (await CliRun.Of("logbook", "show", Id(added), "--logbook", Book)).ExitCode);
        CliRun verify = await CliRun.Of("logbook", "verify", "--logbook", Book);
        Assert.Equal(3, verify.ExitCode);
        Assert.Contains($"session {Id(added)}: it has", verify.Messages, StringComparison.Ordinal);
        CliRun removed = await CliRun.Of("logbook", "remove", Id(added), "--logbook", Book);
        Assert.Equal((0, $"Removed: {Id(added)}.\n"), (removed.ExitCode, removed.Output));
        Assert.Equal(0, (await CliRun.Of("logbook", "verify", "--logbook", Book)).ExitCode);
    }

    [Theory]
    [InlineData("json")]
    [InlineData("csv")]
    [InlineData("all")]
    public async Task Export_AddedOnAnotherMachine_LosesNothing(string format)
    {
        CliRun added = await CliRun.Of("logbook", "add", Results("a", 1), Results("b", 2, "'); DROP TABLE session;--", "2026-05-10"), "--logbook", Book, "--field", "Larkmoor");
        string dir = Path.Combine(_folder.Root, "export"), other = Path.Combine(_folder.Root, "other.sqlite");
        CliRun export = await CliRun.Of("logbook", "export", dir, "--format", format, "--logbook", Book);
        Assert.Equal((0, ""), (export.ExitCode, export.Messages));
        Assert.StartsWith("2 sessions written to", export.Output, StringComparison.Ordinal);
        CliRun there = await CliRun.Of("logbook", "add", dir, "--logbook", other);
        Assert.Equal((0, ""), (there.ExitCode, there.Messages));
        Assert.Equal((await CliRun.Of("logbook", "show", Id(added), "--logbook", Book, "--json")).Output, (await CliRun.Of("logbook", "show", Id(added), "--logbook", other, "--json")).Output);
        Assert.Equal((await CliRun.Of("logbook", "list", "--logbook", Book)).Output, (await CliRun.Of("logbook", "list", "--logbook", other)).Output);
    }

    [Fact]
    public async Task Export_IntoASessionFolder_IsRefused()
    {
        await CliRun.Of("logbook", "add", Results("a", 1), "--logbook", Book);
        _folder.Write("airframe.json", TempFolder.Airframe);
        CliRun run = await CliRun.Of("logbook", "export", _folder.Session, "--logbook", Book);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("is a session folder, where the tables would be taken for logs", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Show_TellsWhatIsKept()
    {
        CliRun added = await CliRun.Of("logbook", "add", Results("a", 1), "--logbook", Book, "--field", "Larkmoor", "--wind-read", "2.5m/s", "--wind-height", "1.5m");
        CliRun show = await CliRun.Of("logbook", "show", Id(added)[..5], "--logbook", Book);
        Assert.Equal((0, ""), (show.ExitCode, show.Messages));
        Assert.StartsWith($"{Id(added)}: Tansy 150, 2026-05-09\n", show.Output, StringComparison.Ordinal);
        Assert.Contains("47.14, 9.88 (degrees, to about a kilometre), \"Larkmoor\"", show.Output, StringComparison.Ordinal);
        Assert.Contains("you read 2.5 m/s at 1.5 m", show.Output, StringComparison.Ordinal);
        Assert.Equal(0, (await CliRun.Of("logbook", "add", Results("b", 2), "--logbook", Book, "--without-place")).ExitCode);
        Assert.Contains("2 sessions", (await CliRun.Of("logbook", "verify", "--logbook", Book)).Output, StringComparison.Ordinal);
        Assert.DoesNotContain("47.14", (await CliRun.Of("logbook", "show", MadeUpSession.Of(2).Id, "--logbook", Book, "--json")).Output, StringComparison.Ordinal);
        Assert.Contains("SHA-256 " + MadeUpSession.Hash("1 1"), show.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(3, "there is no logbook yet", "logbook", "list")]
    [InlineData(3, "there is no logbook yet", "logbook", "verify")]
    [InlineData(3, "there is no logbook yet", "logbook", "remove", "abc")]
    [InlineData(2, "Required argument 'FOLDER' missing", "logbook", "add")]
    [InlineData(2, "\"thermaltrace logbook add --help\" shows", "logbook", "add")]
    [InlineData(2, "Required argument 'ID' missing", "logbook", "show")]
    [InlineData(2, "--wind-read \"9kg\" has the unit \"kg\"", "logbook", "add", "x", "--wind-read", "9kg")]
    [InlineData(2, "--wind-height 200m is outside 0.5 to 50 m", "logbook", "add", "x", "--wind-read", "3", "--wind-height", "200m")]
    [InlineData(2, "expected --wind-read beside it", "logbook", "add", "x", "--wind-height", "2m")]
    [InlineData(2, "--format \"xls\" is not known; expected one of csv, json, parquet, all", "logbook", "export", "x", "--format", "xls")]
    public async Task WhatCannotBe_IsSaid_AndMakesNoLogbook(int exitCode, string message, params string[] args)
    {
        CliRun run = await CliRun.Of([.. args, "--logbook", Book]);
        Assert.Contains(message, run.Messages, StringComparison.Ordinal);
        Assert.Equal((exitCode, ""), (run.ExitCode, run.Output));
        Assert.Empty(_folder.Everything());
    }

    [Fact]
    public async Task Cancelled_NothingIsAdded()
    {
        using CancellationTokenSource cancel = new();
        await cancel.CancelAsync();
        CliRun run = await CliRun.Of(["logbook", "add", Results("a", 1), "--logbook", Book], watched: false, cancel.Token);
        Assert.Equal((130, "Cancelled; nothing was added.\n"), (run.ExitCode, run.Messages));
    }

    [Fact]
    public async Task WithoutAFileNamed_TheLogbookLiesInTheUsersDataFolder()
    {
        if (!OperatingSystem.IsLinux())
        {
            return; // elsewhere no variable moves the data folder away from this user's own logbook
        }
        string data = Path.Combine(_folder.Root, "data"), results = Results("a", 1);
        foreach (string[] command in new[] { new[] { "add", results }, ["verify"] })
        {
            ProcessStartInfo start = new("dotnet", [Path.Combine(AppContext.BaseDirectory, "thermaltrace.dll"), "logbook", .. command]) { RedirectStandardOutput = true };
            start.Environment["XDG_DATA_HOME"] = data;
            using Process program = Process.Start(start)!;
            await program.StandardOutput.ReadToEndAsync();
            await program.WaitForExitAsync();
            Assert.Equal(0, program.ExitCode);
        }
        Assert.Equal(["logbook.sqlite"], Directory.GetFiles(Path.Combine(data, "ThermalTrace")).Select(Path.GetFileName));
    }

    /// <summary>A file as debrief writes it, in a folder of its own.</summary>
    private string Results(string name, int seed, string airframe = "Tansy 150", string date = "2026-05-09")
    {
        string folder = Directory.CreateDirectory(Path.Combine(_folder.Root, name)).FullName;
        using FileStream stream = File.Create(Path.Combine(folder, "results.json"));
        ResultsJson.Write(stream, MadeUpSession.Document(seed, airframe, date: date));
        return folder;
    }

    private static string Id(CliRun added) => added.Output.Split("added as ")[1][..8];
}

using System.Text.Json;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Cli;

public sealed class CommandTests
{
    [Theory]
    [InlineData("prepare", "inspect", "debrief", "predict", "simulate", "logbook")]
    public async Task Help_NamesEveryCommandAndSucceeds(params string[] commands)
    {
        CliRun run = await CliRun.Of("--help");
        Assert.Equal(0, run.ExitCode);
        Assert.Equal("", run.Messages);
        Assert.All(commands, c => Assert.Contains("\n  " + c, run.Output, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("Required command was not provided.")]
    [InlineData("'debreif'", "debreif", "x")]
    [InlineData("Required argument 'FOLDER' missing", "debrief")]
    [InlineData("'more'", "debrief", "x", "more")]
    [InlineData("'--frobnicate'", "debrief", "x", "--frobnicate")]
    [InlineData("'--out'", "debrief", "x", "--out")]
    [InlineData("--wind \"5furlong\" has the unit \"furlong\", which is no unit of speed; known are m/s, km/h", "debrief", "x", "--wind", "5furlong")]
    [InlineData("--wind \"windy\"", "debrief", "x", "--wind", "windy")]
    [InlineData("--wind -3m/s is outside 0 to 40 m/s", "debrief", "x", "--wind=-3m/s")]
    [InlineData("--wind 500 is outside 0 to 40 m/s", "debrief", "x", "--wind", "500")]
    [InlineData("--wind \"NaN\"", "debrief", "x", "--wind", "NaN")]
    [InlineData("--out is empty; expected DIR", "debrief", "x", "--out", "")]
    [InlineData("FOLDER is empty", "debrief", "")]
    [InlineData("--out is empty; expected FILE", "card", "--airframe", "x", "--out", "")]
    [InlineData("--out is empty; expected FILE.html", "pieces", "--airframe", "x", "--out", " ")]
    [InlineData("--svg is empty; expected FILE.svg", "stick", "--airframe", "x", "--ballast", "45", "--svg", "")]
    [InlineData("Required argument 'LOG' missing", "inspect")]
    [InlineData("Required argument 'FOLDER' missing", "prepare")]
    [InlineData("Required argument 'AIRFRAME' missing", "predict")]
    [InlineData("'--out'", "simulate")]
    [InlineData("--seed \"one\" is not a whole number", "simulate", "--out", "x", "--seed", "one")]
    [InlineData("--flights \"2.5\" is not a whole number", "simulate", "--out", "x", "--flights", "2.5")]
    [InlineData("the number of flights must lie between 1 and", "simulate", "--out", "x", "--flights", "-1")]
    [InlineData("--flavour \"soup\" is not known; expected one of comma, semicolon", "simulate", "--out", "x", "--flavour", "soup")]
    [InlineData("--lift \"2kg\" has the unit \"kg\", which is no unit of speed", "simulate", "--out", "x", "--lift", "2kg")]
    [InlineData("--ballasts \"a\"", "simulate", "--out", "x", "--ballasts", "0,a")]
    [InlineData("--rate \"fast\" is not a number", "simulate", "--out", "x", "--rate", "fast")]
    [InlineData("there is no airframe \"kite\"; there are discus-1000", "simulate", "--out", "x", "--preset", "kite")]
    public async Task WrongUsage_IsSaidAndExitsWith2(string message, params string[] args)
    {
        using TempFolder folder = new();
        CliRun run = await CliRun.Of([.. args.Select(a => a == "x" ? folder.Session : a)]);
        Assert.Contains(message, run.Messages, StringComparison.Ordinal);
        Assert.Equal(2, run.ExitCode);
        Assert.Equal("", run.Output);
        Assert.Empty(folder.Everything());
    }

    [Fact]
    public async Task Debrief_IntoAFile_IsRefusedBeforeAnyWork()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        string file = folder.Write("results.txt", "mine");
        IReadOnlyList<string> before = folder.Everything();
        CliRun run = await CliRun.Of("debrief", folder.Session, "--out", file);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("is a file; expected a folder to write to", run.Messages, StringComparison.Ordinal);
        run = await CliRun.Of("debrief", folder.Session, "--out", Path.Combine(file, "deeper"));
        Assert.Equal(2, run.ExitCode);
        Assert.Equal(before, folder.Everything());
    }

    [Fact]
    public async Task Debrief_IntoTheSessionItself_IsRefused()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        CliRun run = await CliRun.Of("debrief", folder.Session + "/", "--out", Path.Combine(folder.Session, ".", ""));
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("is the session folder itself, where the tables would be taken for logs", run.Messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("debrief")]
    [InlineData("prepare")]
    [InlineData("inspect")]
    public async Task Cancelled_ExitsWith130AndLeavesNothing(string command)
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        File.Delete(Path.Combine(folder.Session, command == "prepare" ? "airframe.json" : "none"));
        IReadOnlyList<string> before = folder.Everything();
        using CancellationTokenSource cancel = new();
        await cancel.CancelAsync();
        CliRun run = await CliRun.Of([command, folder.Session], watched: false, cancel.Token);
        Assert.Equal(130, run.ExitCode);
        Assert.Equal("Cancelled; nothing was written.\n", run.Messages);
        Assert.Equal(before, folder.Everything());
    }

    [Fact]
    public async Task AnArgumentThatBeginsWithAt_IsAFileName()
    {
        CliRun run = await CliRun.Of("inspect", "@nothing.csv");
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("@nothing.csv: is not there", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Inspect_ShowsChannelsUnitsRateAndGaps()
    {
        using TempFolder folder = new();
        string log = folder.Write("one.csv", "time (s);Altitude [ft]\n" + string.Concat(Enumerable.Range(0, 100).Select(i => $"{i / 4 + (i > 50 ? 30 : 0)},{i % 4 * 25};{400 + i % 3}\n")));
        CliRun run = await CliRun.Of("inspect", log);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal("", run.Messages);
        Assert.Contains("100 rows over 55 s, 4 a second, without a clock", run.Output, StringComparison.Ordinal);
        Assert.Matches(@"altitude +Altitude \[ft\] +ft +100 +121\.92 +122\.5296", run.Output);
        Assert.Contains("1 gap: 30.3 s at 12.5 s", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task InspectJson_IsTheDocumentAlone()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        folder.Write("empty.csv", "");
        CliRun run = await CliRun.Of("inspect", folder.Session, "--json");
        Assert.Equal(3, run.ExitCode); // one of the two could not be used
        using JsonDocument document = JsonDocument.Parse(run.Output);
        JsonElement root = document.RootElement;
        Assert.Equal("thermaltrace.inspect/1", root.GetProperty("schema").GetString());
        JsonElement log = Assert.Single(root.GetProperty("logs").EnumerateArray());
        Assert.Equal(300, log.GetProperty("rows").GetInt32());
        Assert.Equal(JsonValueKind.Null, log.GetProperty("clock_at_start").ValueKind);
        Assert.Equal("altitude", log.GetProperty("channels")[1].GetProperty("quantity").GetString());
        Assert.EndsWith("empty.csv", Assert.Single(root.GetProperty("unusable").EnumerateArray()).GetProperty("file").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Inspect_LeavesOutWhatIsNoLog()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        string notes = folder.Write("flights.csv", "log,ballast_g\none.csv,30\n");
        CliRun run = await CliRun.Of("inspect", notes, Path.Combine(folder.Session, "one.csv"));
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("flights.csv: belongs to the session and is no log; left out", run.Messages, StringComparison.Ordinal);
        run = await CliRun.Of("inspect", notes);
        Assert.Equal(3, run.ExitCode);
    }

    [Fact]
    public async Task Predict_ShowsEveryBallastOption_OfAFileOrOfItsFolder()
    {
        using TempFolder folder = new();
        string airframe = folder.Write("airframe.json", TempFolder.Airframe.Replace("}", "\"ballast_options_g\": [0, 40, 80] }", StringComparison.Ordinal));
        CliRun run = await CliRun.Of("predict", airframe);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Matches(@"\n +80 g +342 g +0\.\d\d \(0\.\d\d to 0\.\d\d\) m/s", run.Output);
        Assert.Equal(run, await CliRun.Of("predict", folder.Session));

        CliRun json = await CliRun.Of("predict", folder.Session, "--json");
        using JsonDocument document = JsonDocument.Parse(json.Output);
        Assert.Equal("thermaltrace.predict/1", document.RootElement.GetProperty("schema").GetString());
        JsonElement[] polars = [.. document.RootElement.GetProperty("polars").EnumerateArray()];
        Assert.Equal([0, 40, 80], polars.Select(p => p.GetProperty("ballast_g").GetDouble()));
        // On one drag curve every speed grows with the root of the mass.
        double[] speeds = [.. polars.Select(p => p.GetProperty("best_glide").GetProperty("airspeed_mps").GetProperty("value").GetDouble())];
        Assert.Equal(speeds.Order(), speeds);
        Assert.True(speeds[0] < speeds[^1]);
    }

    [Fact]
    public async Task Predict_WithoutAnAirframe_SaysWhatWasExpected()
    {
        using TempFolder folder = new();
        CliRun run = await CliRun.Of("predict", folder.Session);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("is not there; expected an airframe.json or a folder that holds one", run.Messages, StringComparison.Ordinal);
        Directory.CreateDirectory(folder.Session);
        run = await CliRun.Of("predict", folder.Session);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("there is no airframe.json in this folder", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task SimulateThenPrepare_FindsEveryFlightAndKeepsWhatIsThere()
    {
        using TempFolder folder = new();
        CliRun simulate = await CliRun.Of("simulate", "--out", folder.Session, "--flights", "3", "--logs", "one", "--seed", "7", "--flight-time", "90", "--flavour", "whole-seconds");
        Assert.Equal(0, simulate.ExitCode);
        Assert.Equal("", simulate.Output);
        Assert.Equal(["session-truth.json"], Directory.GetFiles(folder.Root).Select(Path.GetFileName));

        File.Delete(Path.Combine(folder.Session, "flights.csv"));
        string airframe = File.ReadAllText(Path.Combine(folder.Session, "airframe.json"));
        CliRun prepare = await CliRun.Of("prepare", folder.Session);
        Assert.Equal(0, prepare.ExitCode);
        Assert.Contains("airframe.json is already there; prepare never overwrites, so it stays as it is.", prepare.Messages, StringComparison.Ordinal);
        Assert.Contains("3 flights found.", prepare.Messages, StringComparison.Ordinal);
        Assert.Equal(airframe, File.ReadAllText(Path.Combine(folder.Session, "airframe.json")));
        string[] rows = File.ReadAllLines(Path.Combine(folder.Session, "flights.csv"));
        Assert.Equal("log,flight,ballast_g,notes", rows[0]);
        Assert.Equal(4, rows.Length);
        // Log, number, no ballast yet, and the time of day, length and launch height to know it by.
        Assert.All(rows.Skip(1), row => Assert.Matches(@"^day\.csv,[123],,\d\d:\d\d:\d\d - [\d:]+ (s|min) - launch \d+ m", row));

        IReadOnlyList<string> before = folder.Everything();
        CliRun again = await CliRun.Of("prepare", folder.Session);
        Assert.Equal(3, again.ExitCode);
        Assert.Contains("there is nothing left to prepare", again.Messages, StringComparison.Ordinal);
        Assert.Equal(before, folder.Everything());
    }

    [Fact]
    public async Task APreparedAirframe_SaysInADebriefWhatIsStillToFillIn()
    {
        using TempFolder folder = new();
        folder.Write("one.csv", TempFolder.QuietLog);
        CliRun prepare = await CliRun.Of("prepare", folder.Session);
        Assert.Equal(0, prepare.ExitCode);
        Assert.Contains("No flight was found", prepare.Messages, StringComparison.Ordinal);
        File.Delete(Path.Combine(folder.Session, "flights.csv"));
        Assert.Equal(0, (await CliRun.Of("prepare", folder.Session)).ExitCode); // a template half filled in is in nobody's way
        CliRun debrief = await CliRun.Of("debrief", folder.Session);
        Assert.Equal(3, debrief.ExitCode);
        Assert.Equal("""
            airframe.json:6: wing_span_mm is not filled in yet; expected a number from 100 to 20000 mm
            airframe.json:7: wing_area_dm2 is not filled in yet; expected a number from 0.5 to 2000 dm²
            airframe.json:10: unballasted_mass_g is not filled in yet; expected a number from 1 to 150000 g

            """.ReplaceLineEndings("\n"), debrief.Messages);
    }

    [Fact]
    public async Task Simulate_WithTheSameSeed_MakesTheSameFiles_AndNeverOverwrites()
    {
        using TempFolder one = new(), two = new();
        foreach (TempFolder folder in new[] { one, two })
        {
            CliRun run = await CliRun.Of("simulate", "--out", folder.Session + "/", "--flights", "2", "--seed", "3", "--flight-time", "60", "--wind", "12km/h", "--no-gps");
            Assert.Equal(0, run.ExitCode);
        }
        Assert.Equal(one.Everything(), two.Everything());
        Assert.Contains(one.Everything(), f => f.StartsWith("session-truth.json ", StringComparison.Ordinal));

        IReadOnlyList<string> before = one.Everything();
        CliRun again = await CliRun.Of("simulate", "--out", one.Session);
        Assert.Equal(2, again.ExitCode);
        Assert.Contains("expected a new folder, since nothing is overwritten", again.Messages, StringComparison.Ordinal);
        Directory.Delete(one.Session, recursive: true);
        again = await CliRun.Of("simulate", "--out", one.Session);
        Assert.Equal(2, again.ExitCode);
        Assert.Contains("session-truth.json is already beside it", again.Messages, StringComparison.Ordinal);
        Assert.Equal(["session-truth.json"], one.Everything().Select(f => f.Split(' ')[0]));
        Assert.NotEqual(before, one.Everything());
    }

    [Fact]
    public async Task AWatchedRun_ShowsABarAndLeavesTheOutputClean()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        CliRun watched = await CliRun.Of(["inspect", folder.Session, "--json"], watched: true);
        CliRun unwatched = await CliRun.Of("inspect", folder.Session, "--json");
        Assert.Equal(unwatched.Output, watched.Output);
        Assert.NotEqual("", watched.Messages);
        Assert.DoesNotContain("\u001b[38", watched.Messages, StringComparison.Ordinal); // no colour was asked for
    }

    [SharedFact]
    public async Task Prepare_OfPracticeLogs_FindsWhatTheirTruthHas()
    {
        using TempFolder folder = new();
        foreach (string log in Directory.GetFiles(Path.Combine(SharedFolder.Path!, "practice", "calm_evening"), "log-*.csv"))
        {
            folder.Write(Path.GetFileName(log), File.ReadAllBytes(log));
        }
        CliRun run = await CliRun.Of("prepare", folder.Session);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("15 flights found.", run.Messages, StringComparison.Ordinal); // practice/README.md
    }
}

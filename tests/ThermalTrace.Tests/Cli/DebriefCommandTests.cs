using System.Text.Json;

namespace ThermalTrace.Tests.Cli;

/// <summary>The main job through the program, on simulated sessions.</summary>
public sealed class DebriefCommandTests : IClassFixture<DebriefCommandTests.SimulatedFolder>
{
    private static readonly string[] Results = ["glides.csv", "polars.csv", "report.html", "results.json", "segments.csv"];
    private readonly SimulatedFolder _simulated;

    public DebriefCommandTests(SimulatedFolder simulated) => _simulated = simulated;

    [Fact]
    public async Task Debrief_WritesItsFiveFilesAndEndsWithTheReportsPath()
    {
        using TempFolder folder = _simulated.Copy();
        IReadOnlyList<string> before = folder.Everything();
        CliRun run = await CliRun.Of("debrief", folder.Session);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        string report = Path.Combine(folder.Session, "debrief", "report.html");
        Assert.EndsWith($"\nReport: {report}\n", run.Output, StringComparison.Ordinal);
        Assert.Equal(Results, Directory.GetFileSystemEntries(Path.Combine(folder.Session, "debrief")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        Directory.Delete(Path.Combine(folder.Session, "debrief"), recursive: true);
        Assert.Equal(before, folder.Everything());
    }

    [Fact]
    public async Task DebriefJson_IsTheDocumentAlone_AndTheSameBytesAsTheFileAndAsTheNextRun()
    {
        using TempFolder folder = _simulated.Copy();
        string target = Path.Combine(folder.Root, "there", "results");
        CliRun first = await CliRun.Of("debrief", folder.Session, "--out", target, "--json", "--wind", "3m/s");
        Assert.Equal(0, first.ExitCode);
        Assert.Equal($"Report: {Path.Combine(target, "report.html")}\n", first.Messages);
        Assert.Equal(first.Output, File.ReadAllText(Path.Combine(target, "results.json")));
        using JsonDocument document = JsonDocument.Parse(first.Output);
        Assert.Equal("thermaltrace.results/1", document.RootElement.GetProperty("schema").GetString());
        Assert.False(Directory.Exists(Path.Combine(folder.Session, "debrief")));

        IReadOnlyList<string> once = folder.Everything();
        CliRun second = await CliRun.Of("debrief", folder.Session, "--out", target, "--json", "--wind", "3m/s");
        Assert.Equal(first.Output, second.Output);
        Assert.Equal(once, folder.Everything());
    }

    [Fact]
    public async Task ANoteOfAFlightThatIsNotThere_IsRefusedWithItsLine_AndNothingIsWritten()
    {
        using TempFolder folder = _simulated.Copy();
        folder.Write("flights.csv", "log,flight,ballast_g\nday.csv,1-2,0\nday.csv,77,35\n");
        IReadOnlyList<string> before = folder.Everything();
        CliRun run = await CliRun.Of("debrief", folder.Session);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("flights.csv:3: flight 77 of day.csv is not there; day.csv has 3 flights, launched at ", run.Messages, StringComparison.Ordinal);
        Assert.Equal(before, folder.Everything());
    }

    [Fact]
    public async Task ALogThatCannotBeUsed_IsSaidBesideTheAnswer()
    {
        using TempFolder folder = _simulated.Copy();
        folder.Write("empty.csv", "");
        CliRun run = await CliRun.Of("debrief", folder.Session);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("empty.csv", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ASessionWithoutAFlight_IsUnusable_AndNothingIsWritten()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        IReadOnlyList<string> before = folder.Everything();
        CliRun run = await CliRun.Of("debrief", folder.Session);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("no flight was found", run.Messages, StringComparison.Ordinal);
        Assert.Equal(before, folder.Everything());
    }

    [Fact]
    public async Task AnOutFolderThatCannotBeWrittenTo_IsWrongUsage()
    {
        if (!OperatingSystem.IsLinux())
        {
            return; // the kernel's own file system takes no folders, whoever asks
        }
        using TempFolder folder = _simulated.Copy();
        CliRun run = await CliRun.Of("debrief", folder.Session, "--out", "/proc/thermaltrace");
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("--out /proc/thermaltrace: cannot be written to", run.Messages, StringComparison.Ordinal);
    }

    /// <summary>One simulated session for all tests of the class.</summary>
    public sealed class SimulatedFolder : IAsyncLifetime, IDisposable
    {
        private readonly TempFolder _folder = new();

        public async Task InitializeAsync()
        {
            CliRun run = await CliRun.Of("simulate", "--out", _folder.Session, "--flights", "3", "--logs", "one", "--seed", "7", "--flight-time", "120");
            Assert.Equal(0, run.ExitCode);
        }

        internal TempFolder Copy()
        {
            TempFolder copy = new();
            foreach (string file in Directory.GetFiles(_folder.Session))
            {
                copy.Write(Path.GetFileName(file), File.ReadAllBytes(file));
            }
            return copy;
        }

        public Task DisposeAsync() => Task.CompletedTask;

        public void Dispose() => _folder.Dispose();
    }
}

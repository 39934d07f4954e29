using System.Text.RegularExpressions;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Cli;

/// <summary>What the documentation shows is true.</summary>
public sealed partial class DocumentationTests
{
    private static readonly string SampleLogs = Path.Combine(SharedFolder.Repository, "sample-logs");

    public static TheoryData<string> Samples => new(Directory.GetDirectories(SampleLogs).Select(d => Path.GetFileName(d)).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Samples))]
    public async Task DebriefOfASample_EndsByNamingItsReport(string sample)
    {
        using TempFolder folder = new();
        CliRun run = await CliRun.Of("debrief", Path.Combine(SampleLogs, sample), "--out", folder.Session);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        string report = run.Output.TrimEnd('\n').Split('\n')[^1];
        Assert.Equal($"Report: {Path.Combine(folder.Session, "report.html")}", report);
    }

    [Fact]
    public async Task EveryCommandInTheReadme_IsThere()
    {
        string[] commands = [.. CommandRow().Matches(Read("README.md")).Select(m => m.Groups[1].Value)];
        Assert.Equal(["prepare", "inspect", "debrief", "predict", "logbook", "suggest", "card", "plan", "pieces", "stick", "balance", "browse", "schema", "completion", "simulate"], commands);
        foreach (string command in commands)
        {
            CliRun run = await CliRun.Of(command, "--help");
            Assert.Equal(0, run.ExitCode);
        }
    }

    [Fact]
    public void TheAirframeInTheDocumentation_IsReadWhole()
    {
        string json = Block("json");
        using StringReader reader = new(json);
        Airframe airframe = AirframeFile.Read(reader, "airframe.json");
        Assert.Equal("Tansy 150", airframe.Name);
        Assert.NotNull(airframe.BallastTube);
        Assert.Single(airframe.BallastStock);
    }

    [Fact]
    public void TheTablesInTheDocumentation_AreReadWhole()
    {
        string[] tables = [.. Blocks("csv")];
        Assert.Equal(2, tables.Length);
        using StringReader flights = new(tables[0]), phases = new(tables[1]);
        Assert.Equal([null, (1, 1), (2, 4), null, null], FlightsFile.Read(flights, "flights.csv").Select(f => f.Numbers));
        Assert.Equal(["climb", "landing"], PhasesFile.Read(phases, "phases.csv").Select(p => p.Kind));
    }

    private static string Read(string name) => File.ReadAllText(Path.Combine(SharedFolder.Repository, name));

    private static string Block(string language) => Assert.Single(Blocks(language));

    private static IEnumerable<string> Blocks(string language) => Fence().Matches(Read("docs/session-folder.md"))
        .Where(m => m.Groups[1].Value == language).Select(m => m.Groups[2].Value);

    [GeneratedRegex(@"^\| `(\w+) [^`]*` \|", RegexOptions.Multiline)]
    private static partial Regex CommandRow();

    [GeneratedRegex("^```(\\w+)\n(.*?)^```", RegexOptions.Multiline | RegexOptions.Singleline)]
    private static partial Regex Fence();
}

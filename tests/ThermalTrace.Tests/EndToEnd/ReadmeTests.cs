using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>What the README tells a newcomer to type, typed.</summary>
public class ReadmeTests
{
    private static readonly string SampleLogs = Path.Combine(SharedFolder.Repository, "sample-logs");

    public static TheoryData<string> Samples => [.. Directory.GetDirectories(SampleLogs).Select(d => Path.GetFileName(d)!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Samples))]
    public async Task ASample_IsDebriefed_AndTheAnswerEndsWithTheReportsPath(string sample)
    {
        using TempFolder folder = new();
        string target = Path.Combine(folder.Root, "results");
        CliRun run = await CliRun.Of("debrief", Path.Combine(SampleLogs, sample), "--out", target);
        Assert.Equal(0, run.ExitCode);
        Assert.EndsWith($"\nReport: {Path.Combine(target, "report.html")}\n", run.Output, StringComparison.Ordinal);
        Assert.Contains("<svg", File.ReadAllText(Path.Combine(target, "report.html")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task SimulatePrepareDebriefPredictAndInspect_WorkOnOneFolder()
    {
        using TempFolder folder = new();
        CliRun run = await CliRun.Of("simulate", "--out", folder.Session, "--seed", "3", "--flights", "2", "--flight-time", "120", "--logs", "one", "--flavour", "tab");
        Assert.Equal(0, run.ExitCode);
        Assert.True(File.Exists(folder.Session + "-truth.json"));

        // prepare never overwrites, and makes flights.csv anew where it is gone.
        File.Delete(Path.Combine(folder.Session, "flights.csv"));
        string airframe = File.ReadAllText(Path.Combine(folder.Session, "airframe.json"));
        run = await CliRun.Of("prepare", folder.Session);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(airframe, File.ReadAllText(Path.Combine(folder.Session, "airframe.json")));
        string[] flights = File.ReadAllLines(Path.Combine(folder.Session, "flights.csv"));
        Assert.Equal(3, flights.Length);

        // The pilot fills in the ballast, which prepare left blank.
        int column = Array.IndexOf(flights[0].Split(','), "ballast_g");
        for (int i = 1; i < flights.Length; i++)
        {
            string[] cells = flights[i].Split(',');
            Assert.Equal("", cells[column]);
            cells[column] = i == 1 ? "0" : "35";
            flights[i] = string.Join(',', cells);
        }
        File.WriteAllLines(Path.Combine(folder.Session, "flights.csv"), flights);
        run = await CliRun.Of("debrief", folder.Session, "--wind", "12km/h");
        Assert.Equal(0, run.ExitCode);
        Assert.True(File.Exists(Path.Combine(folder.Session, "debrief", "report.html")));

        Assert.Equal(0, (await CliRun.Of("predict", folder.Session)).ExitCode);
        Assert.Equal(0, (await CliRun.Of("inspect", Path.Combine(folder.Session, "day.csv"))).ExitCode);
    }
}

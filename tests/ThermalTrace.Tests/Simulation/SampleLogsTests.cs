using ThermalTrace.Cli;
using ThermalTrace.Tests.Support;

// Not "Simulation": that would hide the namespace under test from every other test.
namespace ThermalTrace.Tests.Simulated;

public class SampleLogsTests
{
    private const long LargestSampleBytes = 3_000_000;

    private static readonly string SampleLogs = Path.Combine(SharedFolder.Repository, "sample-logs");

    /// <summary>The commands in the folder's README, without the program's name.</summary>
    public static TheoryData<string> Commands =>
    [
        .. File.ReadLines(Path.Combine(SampleLogs, "README.md")).Select(l => l.Trim())
            .Where(l => l.StartsWith("thermaltrace simulate", StringComparison.Ordinal)).Select(l => l["thermaltrace ".Length..]),
    ];

    [Theory]
    [MemberData(nameof(Commands))]
    public async Task Sample_MadeAgainByTheReadmesCommand_HasTheSameBytes(string command)
    {
        string[] words = command.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        int place = Array.IndexOf(words, "--out") + 1;
        string name = words[place];
        string folder = Directory.CreateTempSubdirectory("samples").FullName;
        try
        {
            words[place] = Path.Combine(folder, name);
            using StringWriter output = new();
            using StringWriter messages = new();
            int code = await CommandLine.RunAsync(words, new Terminal(output, messages));
            Assert.True(code == 0, messages.ToString());
            string[] made = Files(folder), kept = Files(SampleLogs);
            Assert.Equal(kept.Where(f => f.StartsWith(name, StringComparison.Ordinal)), made);
            foreach (string file in made)
            {
                Assert.Equal(File.ReadAllBytes(Path.Combine(SampleLogs, file)), File.ReadAllBytes(Path.Combine(folder, file)));
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void Samples_AreThreeAndSmall()
    {
        DirectoryInfo[] samples = new DirectoryInfo(SampleLogs).GetDirectories();
        Assert.Equal(3, samples.Length);
        Assert.All(samples, sample => Assert.InRange(sample.EnumerateFiles().Sum(f => f.Length), 10_000, LargestSampleBytes));
    }

    /// <summary>Session files and truths below a folder, as paths from it; what a debrief left there is not part of a sample.</summary>
    private static string[] Files(string folder) =>
    [
        .. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/'))
            .Where(f => !f.Contains("/debrief/", StringComparison.Ordinal) && f != "README.md").Order(StringComparer.Ordinal),
    ];
}

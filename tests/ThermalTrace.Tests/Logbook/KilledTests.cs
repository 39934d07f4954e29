using System.Diagnostics;
using System.Globalization;
using ThermalTrace.Logbook;
using ThermalTrace.Tests.Cli;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Logbook;

/// <summary>Real processes that add, and are killed while they do.</summary>
public sealed class KilledTests(ITestOutputHelper log)
{
    private const int Kills = 208, Workers = 4, KillsOfAFile = 26;

    [Fact]
    public async Task KilledAtAnyInstant_ALogbookHasAllThatWasReportedAsAdded()
    {
        int seed = Environment.TickCount;
        log.WriteLine(FormattableString.Invariant($"seed {seed}"));
        Task<(int Reported, int InTheMiddle)>[] workers = [.. Enumerable.Range(0, Workers).Select(w => Task.Run(() => KillAgainAndAgain(new Random(seed + w), Kills / Workers)))];
        int reported = 0, inTheMiddle = 0;
        foreach ((int its, int middle) in await Task.WhenAll(workers))
        {
            reported += its;
            inTheMiddle += middle;
        }
        log.WriteLine(FormattableString.Invariant($"{Kills} kills, {inTheMiddle} of them between two reports, {reported} sessions reported as added"));
        Assert.True(inTheMiddle > Kills / 3, "too few kills hit the process at work");
        Assert.True(reported > Kills / 2, "too few sessions were added before the kills");
    }

    [Fact]
    public async Task TwoProcessesAddingAtOnce_BothSucceed()
    {
        const int each = 25;
        using TempFolder folder = new();
        string path = Path.Combine(folder.Root, "season.sqlite"); // not there yet: both make it
        Process[] processes = [Start(path, 0, each), Start(path, 1_000, each)];
        string[] outputs = await Task.WhenAll(processes.Select(p => p.StandardOutput.ReadToEndAsync()));
        foreach (Process process in processes)
        {
            string said = await process.StandardError.ReadToEndAsync();
            await process.WaitForExitAsync();
            Assert.Equal((0, ""), (process.ExitCode, said));
            process.Dispose();
        }
        using LogbookFile logbook = LogbookFile.OpenToRead(path);
        Assert.Equal(2 * each, logbook.Sessions("Tansy").Count);
        Assert.Equal(outputs.SelectMany(o => o.Split('\n', StringSplitOptions.RemoveEmptyEntries)).Order(), logbook.Sessions("Tansy").Select(s => s.Id).Order());
        Assert.Empty(logbook.Verify().Damage);
    }

    private static async Task<(int Reported, int InTheMiddle)> KillAgainAndAgain(Random random, int kills)
    {
        using TempFolder folder = new();
        HashSet<string> reported = [];
        int all = 0, middle = 0, next = 0;
        string path = "";
        for (int kill = 0; kill < kills; kill++)
        {
            if (kill % KillsOfAFile == 0)
            {
                path = Path.Combine(folder.Root, FormattableString.Invariant($"{kill}.sqlite"));
                reported.Clear();
            }
            const int more = 1_000;
            using Process process = Start(path, next, more);
            next += more;
            // One kill in four at any time since the start, the others a moment after a report.
            int wanted = random.Next(4) == 0 ? 0 : random.Next(1, 4), got = 0;
            Task<int> read = Task.Run(async () =>
            {
                while (await process.StandardOutput.ReadLineAsync() is { } id)
                {
                    if (id.Length == LogbookSession.ShortestId)
                    {
                        lock (reported)
                        {
                            reported.Add(id);
                            got++;
                            Monitor.PulseAll(reported);
                        }
                    }
                }
                return got;
            });
            if (wanted == 0)
            {
                await Task.Delay(random.Next(0, 400));
            }
            else
            {
                lock (reported)
                {
                    while (got < wanted && !process.HasExited)
                    {
                        Monitor.Wait(reported, 100);
                    }
                }
                await Task.Delay(TimeSpan.FromMilliseconds(25 * random.NextDouble()));
            }
            Assert.False(process.HasExited, "the process ended by itself");
            process.Kill(); // SIGKILL
            await process.WaitForExitAsync();
            int its = await read;
            all += its;
            middle += its > 0 ? 1 : 0;
            Check(path, reported);
        }
        return (all, middle);
    }

    private static void Check(string path, HashSet<string> reported)
    {
        if (reported.Count == 0)
        {
            if (File.Exists(path))
            {
                using LogbookFile begun = LogbookFile.OpenToWrite(path); // whatever was begun can be gone on with
                Assert.Empty(begun.Verify().Damage);
            }
            return;
        }
        using LogbookFile logbook = LogbookFile.OpenToRead(path);
        IReadOnlyList<ListedSession> there = logbook.List();
        Assert.Superset(reported, there.Select(s => s.Id).ToHashSet());
        Assert.All(there, s => Assert.Empty(s.Damage));
        Assert.Empty(logbook.Verify().Damage);
    }

    private static Process Start(string path, int from, int count)
    {
        ProcessStartInfo start = new("dotnet",
            [typeof(KilledTests).Assembly.Location, path, from.ToString(CultureInfo.InvariantCulture), count.ToString(CultureInfo.InvariantCulture)])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment["DOTNET_TieredPGO"] = "0"; // starts sooner
        return Process.Start(start)!;
    }
}

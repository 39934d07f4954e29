using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using ThermalTrace.Fuzz;

// Fuzz INPUTS SEED [FOLDER]: breaks files and reads them; findings go into FOLDER, by target, to be moved into the tests' corpus.
long inputs = args.Length > 0 ? long.Parse(args[0], CultureInfo.InvariantCulture) : 1_000_000;
int seed = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 1;
string findings = Path.GetFullPath(args.Length > 2 ? args[2] : "findings");
TimeSpan longest = TimeSpan.FromSeconds(20);
long heapLimit = GC.GetGCMemoryInfo().TotalAvailableMemoryBytes;
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"seed {seed}, {inputs:N0} inputs, no input longer than {longest.TotalSeconds:0} s, heap {heapLimit >> 20} MiB"));

DirectoryInfo place = Directory.CreateTempSubdirectory("thermaltrace-fuzz-");
Directory.SetCurrentDirectory(place.FullName);
ConcurrentDictionary<int, (Target Target, byte[] Input, long Since)> underWay = new();
int found = 0;
bool over = false;

void Keep(Target target, byte[] input, string what)
{
    string folder = Path.Combine(findings, target.Name);
    Directory.CreateDirectory(folder);
    string file = Path.Combine(folder, Convert.ToHexStringLower(SHA256.HashData(input))[..12] + ".bin");
    File.WriteAllBytes(file, input);
    Console.WriteLine($"{target.Name}: {file}\n{string.Join('\n', what.Split('\n').Take(8))}");
    Interlocked.Increment(ref found);
}

Thread watch = new(() =>
{
    while (!over)
    {
        Thread.Sleep(1000);
        foreach ((Target target, byte[] input, long since) in underWay.Values)
        {
            if (Stopwatch.GetElapsedTime(since) > longest)
            {
                Keep(target, input, $"still at it after {longest.TotalSeconds:0} s");
                Environment.Exit(1);
            }
        }
    }
})
{ IsBackground = true };
watch.Start();

foreach (Target target in Targets.All())
{
    long count = (long)Math.Ceiling(inputs * target.Share);
    long began = Stopwatch.GetTimestamp(), slowest = 0;
    Parallel.For(0, Environment.ProcessorCount, worker =>
    {
        string folder = place.CreateSubdirectory($"{target.Name}-{worker}").FullName;
        for (long number = worker; number < count; number += Environment.ProcessorCount)
        {
            byte[] input = Mutation.Of(target.Seeds, FuzzRun.RandomOf(seed, target, number));
            long since = Stopwatch.GetTimestamp();
            underWay[worker] = (target, input, since);
            if (FuzzRun.Try(target, input, folder) is { } wrong)
            {
                Keep(target, input, wrong);
            }
            underWay.TryRemove(worker, out _);
            long took = Stopwatch.GetTimestamp() - since;
            if (took > Interlocked.Read(ref slowest))
            {
                Interlocked.Exchange(ref slowest, took);
            }
        }
        foreach (string left in Directory.EnumerateFileSystemEntries(folder).Where(f => !Path.GetFileName(f).StartsWith("logbook.sqlite", StringComparison.Ordinal)))
        {
            Keep(target, [], $"left {left} behind");
        }
    });
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
        $"{target.Name,-10} {count,9:N0} inputs in {Stopwatch.GetElapsedTime(began).TotalSeconds,7:0.0} s, the slowest {slowest * 1000.0 / Stopwatch.Frequency,7:0} ms"));
}
over = true;
string[] outside = [.. place.EnumerateFileSystemInfos().Select(f => f.Name).Where(n => !Targets.All().Any(t => n.StartsWith(t.Name + "-", StringComparison.Ordinal)))];
Console.WriteLine(outside.Length == 0 ? "nothing was written outside its folder" : "written outside: " + string.Join(", ", outside));
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{found} findings; peak of the process {Process.GetCurrentProcess().PeakWorkingSet64 >> 20} MiB"));
Directory.SetCurrentDirectory(Path.GetTempPath());
place.Delete(recursive: true);
return found + outside.Length == 0 ? 0 : 1;

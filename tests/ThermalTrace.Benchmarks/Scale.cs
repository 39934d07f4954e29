using System.Diagnostics;
using System.Globalization;
using ThermalTrace.Logs;

namespace ThermalTrace.Benchmarks;

/// <summary>
/// How time and memory grow with the number of rows. Each size runs in a process of its own, for a process's peak memory
/// never falls.
/// </summary>
internal static class Scale
{
    private static readonly int[] Sizes = [100_000, 1_000_000, 10_000_000];

    /// <summary>Runs all sizes and prints a table.</summary>
    /// <param name="what"><c>bare</c>, <c>import</c>, <c>debrief</c>, or nothing for all three.</param>
    /// <param name="mostRows">Larger sizes are left out.</param>
    public static int RunAll(string? what, int mostRows)
    {
        Console.WriteLine($"{Environment.ProcessorCount} cores, {GC.GetGCMemoryInfo().TotalAvailableMemoryBytes >> 30} GiB, .NET {Environment.Version}");
        Console.WriteLine("| job | rows | MB | s | MB/s | rows/s | peak MiB |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- |");
        string file = Path.GetTempFileName();
        try
        {
            foreach (int rows in Sizes.Where(size => size <= mostRows))
            {
                using (FileStream stream = File.Create(file))
                {
                    EndlessLog.Write(stream, rows);
                }
                foreach (string job in what is null ? ["bare", "import", "debrief"] : new[] { what })
                {
                    using Process child = Process.Start(new ProcessStartInfo("dotnet", [typeof(Scale).Assembly.Location, "scale-one", job, file]))!;
                    child.WaitForExit();
                    if (child.ExitCode != 0)
                    {
                        return child.ExitCode;
                    }
                }
            }
        }
        finally
        {
            File.Delete(file);
        }
        return 0;
    }

    /// <summary>One job on one file, after a warm-up on a short one.</summary>
    public static void RunOne(string job, string file)
    {
        byte[] warmUp = EndlessLog.Bytes(5_000);
        Once(job, () => new MemoryStream(warmUp, writable: false));
        GC.Collect();
        Stopwatch watch = Stopwatch.StartNew();
        int rows = Once(job, () => new FileStream(file, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16, FileOptions.SequentialScan));
        double seconds = watch.Elapsed.TotalSeconds;
        double megabytes = new FileInfo(file).Length / 1e6;
        long peakBytes = Process.GetCurrentProcess().PeakWorkingSet64;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"| {job} | {rows:N0} | {megabytes:F0} | {seconds:F2} | {megabytes / seconds:F0} | {rows / seconds:N0} | {peakBytes >> 20:N0} |"));
    }

    private static int Once(string job, Func<Stream> open)
    {
        using Stream stream = open();
        switch (job)
        {
            case "bare":
                return ImportBenchmarks.Count(stream);
            case "import":
                return LogImporter.Read(stream, "benchmark.csv", []).Rows;
            default:
                FlightLog log = LogImporter.Read(stream, "benchmark.csv", []);
                Debrief.Run(EndlessLog.SessionOf(log), new DebriefOptions());
                return log.Rows;
        }
    }
}

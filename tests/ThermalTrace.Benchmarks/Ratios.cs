using System.Diagnostics;
using System.Globalization;
using ThermalTrace.Logbook;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Benchmarks;

/// <summary>
/// The aims of speed and memory, each as one ratio of two measurements of one run on one machine. The bare reader is the fastest .NET reader of
/// delimited text found, on one thread, every field parsed to a double, nothing kept.
/// </summary>
internal static class Ratios
{
    private const int Repeats = 7;
    private const int Starts = 40;

    /// <summary>Import and debrief of logs, a season of sessions; prints a table as it goes.</summary>
    /// <param name="logs">In the season.</param>
    /// <param name="rowsOfALog">Of each.</param>
    /// <param name="mostRows">Of the longest single log.</param>
    public static int RunAll(int logs, int rowsOfALog, int mostRows)
    {
        string folder = Directory.CreateTempSubdirectory("thermaltrace-ratios-").FullName;
        try
        {
            Say($"{Environment.ProcessorCount} cores, {GC.GetGCMemoryInfo().TotalAvailableMemoryBytes >> 30} GiB, .NET {Environment.Version}, {System.Runtime.InteropServices.RuntimeInformation.OSDescription}, CsvHelper {typeof(CsvHelper.CsvReader).Assembly.GetName().Version?.ToString(3)}\n");
            Say("| what | ratio | aim | measured |\n| --- | --- | --- | --- |");
            List<(double Rows, double Seconds)> grown = [];
            foreach (int rows in new[] { 100_000, 1_000_000, 10_000_000 }.Where(r => r <= mostRows))
            {
                string file = Path.Combine(folder, "log.csv");
                using (FileStream stream = File.Create(file))
                {
                    EndlessLog.Write(stream, rows);
                }
                double[] times = Child("ratio-import", file);
                double megabytes = new FileInfo(file).Length / 1e6, peak = Child("ratio-peak", file)[0] * 1.048576;
                grown.Add((rows, times[1]));
                Say($"| import of {rows:N0} rows: its throughput over the bare reader's | {times[0] / times[1]:0.00} | at least 0.7 | {times[0]:0.000} s and {times[1]:0.000} s, medians of {Repeats} in turn |");
                Say($"| …, first of a process | {times[2] / times[3]:0.00} | | {times[2]:0.000} s and {times[3]:0.000} s |");
                Say($"| …, peak memory over the log | {peak / megabytes:0.0} | at most 1.5 | {peak:0} MB of a process and {megabytes:0} MB |");
            }
            if (grown.Count > 1)
            {
                ((double r0, double s0), (double r1, double s1)) = (grown[0], grown[^1]);
                Say($"| growth of the import with rows, exponent | {Math.Log(s1 / s0) / Math.Log(r1 / r0):0.00} | at most 1.05 | from {r0:N0} to {r1:N0} rows |");
            }
            Season(folder, logs, rowsOfALog);
            return 0;
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static void Season(string folder, int logs, int rowsOfALog)
    {
        const int logsOfASession = 10;
        long bytes = 0;
        string season = Directory.CreateDirectory(Path.Combine(folder, "season")).FullName;
        for (int log = 0; log < logs; log++)
        {
            string session = Directory.CreateDirectory(Path.Combine(season, $"session-{log / logsOfASession:000}")).FullName;
            File.WriteAllText(Path.Combine(session, "airframe.json"),
                """{ "name": "benchmark", "wing_span_mm": 1500, "wing_area_dm2": 22.4, "unballasted_mass_g": 262, "max_flying_mass_g": 400, "launch": "discus", "ballast_options_g": [0, 40, 80] }""");
            string path = Path.Combine(session, $"log-{log % logsOfASession:00}.csv");
            using (FileStream stream = File.Create(path))
            {
                EndlessLog.Write(stream, rowsOfALog, firstDay: log);
            }
            bytes += new FileInfo(path).Length;
        }
        double bare = Child("ratio-season-bare", season)[0];
        double[] whole = Child("ratio-season", season);
        double megabytes = bytes / 1e6, peak = whole[1] * 1.048576;
        Say($"| a season of {logs} logs, {(double)logs * rowsOfALog:N0} rows, debriefed session by session and kept, over the bare reader | {whole[0] / bare:0.0} | at most 4 | {whole[0]:0.0} s by the clock and {bare:0.00} s |");
        Say($"| …, processor time of all threads a row | | | {whole[2] * 1e6 / logs / rowsOfALog:0.0} µs |");
        Say($"| …, peak memory over all logs | {peak / megabytes:0.00} | at most 0.5 | {peak:0} MB of a process and {megabytes:0} MB |");
    }

    /// <summary>Bare reader and importer in turn: medians, and the first of each.</summary>
    public static void Import(string file)
    {
        List<double> bare = [], import = [];
        for (int i = 0; i <= Repeats; i++)
        {
            bare.Add(Timed(() =>
            {
                using FileStream stream = Open(file);
                ImportBenchmarks.Count(stream);
            }));
            import.Add(Timed(() =>
            {
                using FileStream stream = Open(file);
                LogImporter.Read(stream, "benchmark.csv", []);
            }));
        }
        Tell(Median(bare.Skip(1)), Median(import.Skip(1)), bare[0], import[0]);
    }

    /// <summary>Peak memory of one import, MiB.</summary>
    public static void Peak(string file)
    {
        using FileStream stream = Open(file);
        LogImporter.Read(stream, "benchmark.csv", []);
        Tell(PeakMib());
    }

    /// <summary>The bare reader over all logs of a season.</summary>
    public static void SeasonBare(string season) => Tell(Timed(() =>
    {
        foreach (string log in Directory.EnumerateFiles(season, "*.csv", SearchOption.AllDirectories).Order(StringComparer.Ordinal))
        {
            using FileStream stream = Open(log);
            ImportBenchmarks.Count(stream);
        }
    }));

    /// <summary>Each session of a season debriefed and kept in a logbook; clock time, peak memory, processor time.</summary>
    public static void SeasonWhole(string season)
    {
        double seconds = Timed(() =>
        {
            using LogbookFile logbook = LogbookFile.OpenToWrite(Path.Combine(season, "logbook.sqlite"));
            foreach (string session in Directory.EnumerateDirectories(season).Order(StringComparer.Ordinal))
            {
                logbook.Add(LogbookSession.Of(Debrief.Run(SessionFolder.Read(session), new DebriefOptions()).Document, DateTimeOffset.UnixEpoch));
            }
        });
        Tell(seconds, PeakMib(), Environment.CpuUsage.TotalTime.TotalSeconds);
    }

    /// <summary>How long a program takes to start and end beside another, each with its own arguments; medians in turn.</summary>
    public static int Start(string program, string empty)
    {
        List<double> own = [], none = [];
        for (int i = 0; i < Starts; i++)
        {
            none.Add(Timed(() => Run(empty, [])));
            own.Add(Timed(() => Run(program, ["--help"])));
        }
        Say($"| start of {Path.GetFileName(program)} --help over an empty program's | {Median(own) / Median(none):0.00} | at most 2 | {Median(own) * 1000:0} ms and {Median(none) * 1000:0} ms, medians of {Starts} in turn |");
        return 0;
    }

    private static void Run(string program, string[] args)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, args) { RedirectStandardOutput = true })!;
        process.StandardOutput.ReadToEnd();
        process.WaitForExit();
    }

    private static double[] Child(string job, string place)
    {
        using Process child = Process.Start(new ProcessStartInfo("dotnet", [typeof(Ratios).Assembly.Location, job, place]) { RedirectStandardOutput = true })!;
        string said = child.StandardOutput.ReadToEnd();
        child.WaitForExit();
        return child.ExitCode == 0 ? [.. said.Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture))] : throw new InvalidOperationException($"{job} failed");
    }

    private static FileStream Open(string file) => new(file, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16, FileOptions.SequentialScan);

    private static double Timed(Action work)
    {
        long began = Stopwatch.GetTimestamp();
        work();
        return Stopwatch.GetElapsedTime(began).TotalSeconds;
    }

    private static double PeakMib() => Process.GetCurrentProcess().PeakWorkingSet64 / 1048576.0;

    private static double Median(IEnumerable<double> values) => values.Order().ElementAt(values.Count() / 2);

    private static void Tell(params double[] numbers) => Console.Write(string.Join(' ', numbers.Select(n => n.ToString("R", CultureInfo.InvariantCulture))));

    private static void Say(FormattableString line) => Console.WriteLine(FormattableString.Invariant(line));

    private static void Say(string line) => Console.WriteLine(line);
}

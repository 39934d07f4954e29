using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace.Benchmarks;

/// <summary>
/// How the logbook grows: time to add a session beyond its debrief, and to read an airframe's sessions. Cold is the first time in a
/// process of its own, compiling included, as a person meets it; warm is the median of the times after it. In brackets the processor's
/// time of it, which other programs disturb less.
/// </summary>
internal static class LogbookGrowth
{
    private const string Airframe = "Tansy 150";
    private const int Warm = 9;
    private static readonly int[] Sizes = [10, 100, 500, 1_000, 10_000];

    /// <summary>Runs all sizes and prints a table.</summary>
    public static int RunAll()
    {
        Console.WriteLine($"{Environment.ProcessorCount} cores, {GC.GetGCMemoryInfo().TotalAvailableMemoryBytes >> 30} GiB, .NET {Environment.Version}");
        Console.WriteLine("| sessions | file, MB | add, cold, ms | add, warm, ms | read, cold, ms | read, warm, ms | verify, ms | tune and learn, ms | suggest, cold, ms | suggest, warm, ms |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
        string folder = Directory.CreateTempSubdirectory("logbook-growth-").FullName;
        try
        {
            foreach (int size in Sizes)
            {
                string file = Path.Combine(folder, FormattableString.Invariant($"{size}.sqlite"));
                using (LogbookFile logbook = LogbookFile.OpenToWrite(file))
                {
                    foreach (int[] part in Enumerable.Range(0, size).Chunk(500))
                    {
                        logbook.AddExported([.. part.Select(Session)]);
                    }
                }
                (double, double)[] tune = Child("logbook-tune", file), suggest = Child("logbook-suggest", file);
                (double, double)[] read = Child("logbook-read", file), add = Child("logbook-write", file);
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                    $"| {size:N0} | {new FileInfo(file).Length / 1e6:F1} | {Cell(add[0])} | {Cell(add[1..])} | {Cell(read[0])} | {Cell(read[1..^1])} | {Cell(read[^1])} | {Cell(tune[0])} | {Cell(suggest[0])} | {Cell(suggest[1..])} |"));
            }
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
        return 0;
    }

    /// <summary>Opens, reads an airframe's sessions and closes, again and again; verifies once at the end.</summary>
    public static void Read(string file)
    {
        for (int i = 0; i <= Warm; i++)
        {
            Timed(() =>
            {
                using LogbookFile logbook = LogbookFile.OpenToRead(file);
                logbook.Sessions(Airframe);
            });
        }
        Timed(() =>
        {
            using LogbookFile logbook = LogbookFile.OpenToRead(file);
            if (logbook.Verify().Damage.Count > 0)
            {
                throw new InvalidDataException("the benchmark's own logbook is damaged");
            }
        });
    }

    /// <summary>Opens, adds a session and closes, again and again.</summary>
    public static void Write(string file)
    {
        for (int i = 0; i <= Warm; i++)
        {
            LogbookSession session = Session(1_000_000 + i);
            Timed(() =>
            {
                using LogbookFile logbook = LogbookFile.OpenToWrite(file);
                logbook.Add(session);
            });
        }
    }

    /// <summary>Tunes the airframe by its sessions, learns from them and keeps the outcome: what the first question after a change pays for.</summary>
    public static void Tune(string file) => Timed(() =>
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(file);
        Season season = Season.Tune(Model, logbook.Sessions(Airframe));
        logbook.PutModel(Airframe, new KeptModel("season", logbook.DataHash(Airframe), "benchmark", season.ToMemory()));
    });

    /// <summary>Answers a question from what is kept, again and again.</summary>
    public static void Suggest(string file)
    {
        for (int i = 0; i <= Warm; i++)
        {
            Timed(() =>
            {
                using LogbookFile logbook = LogbookFile.OpenToRead(file);
                Season season = Season.FromMemory(Model, logbook.GetModel(Airframe, "season", logbook.DataHash(Airframe))!.Content)!;
                Suggestion.Run(season, new AskedConditions { WindMps = new AskedRange(4, 6), LiftMps = new AskedRange(2, 2), TimeS = 300 }, new SuggestionOptions());
            });
        }
    }

    private static Sessions.Airframe Model => new()
    {
        Name = Airframe,
        WingSpanMm = 1500,
        WingAreaDm2 = 22.4,
        UnballastedMassG = 262,
        MaxFlyingMassG = 400,
        Launch = LaunchKind.Discus,
        BallastOptionsG = [0, 40, 80],
    };

    private static void Timed(Action work)
    {
        using Process own = Process.GetCurrentProcess();
        TimeSpan before = own.TotalProcessorTime;
        Stopwatch watch = Stopwatch.StartNew();
        work();
        double wall = watch.Elapsed.TotalMilliseconds;
        own.Refresh();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{wall:R} {(own.TotalProcessorTime - before).TotalMilliseconds:R}"));
    }

    private static (double Wall, double Work)[] Child(string job, string file)
    {
        using Process child = Process.Start(new ProcessStartInfo("dotnet", [typeof(LogbookGrowth).Assembly.Location, job, file]) { RedirectStandardOutput = true })!;
        string[] lines = child.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
        child.WaitForExit();
        return child.ExitCode == 0 ? [.. lines.Select(l => l.Split(' ')).Select(l => (double.Parse(l[0], CultureInfo.InvariantCulture), double.Parse(l[1], CultureInfo.InvariantCulture)))] : throw new InvalidOperationException($"{job} failed");
    }

    private static double Median(IEnumerable<double> times) => times.Order().ElementAt(times.Count() / 2);

    private static string Cell((double Wall, double Work) first) => string.Create(CultureInfo.InvariantCulture, $"{first.Wall:F0} ({first.Work:F0})");

    private static string Cell(IEnumerable<(double Wall, double Work)> times) => string.Create(CultureInfo.InvariantCulture, $"{Median(times.Select(t => t.Wall)):F1} ({Median(times.Select(t => t.Work)):F1})");

    /// <summary>A session of usual size: 3 logs, 15 flights, 22 climbs, 24 drag terms.</summary>
    private static LogbookSession Session(int seed)
    {
        const int terms = 24, flights = 15, climbs = 22;
        Random random = new(seed);
        double[] root = [.. Enumerable.Range(0, terms * terms).Select(i => random.NextDouble() - 0.5 + (i % (terms + 1) == 0 ? 3 : 0))];
        double[] information = [.. Enumerable.Range(0, terms * terms).Select(i => Enumerable.Range(0, terms).Sum(k => root[i / terms * terms + k] * root[i % terms * terms + k]))];
        double[] Numbers(int count) => [.. Enumerable.Range(0, count).Select(_ => random.NextDouble())];
        KeptLog[] logs = [.. Enumerable.Range(1, 3).Select(l => new KeptLog(FormattableString.Invariant($"log-{l:00}.csv"),
            Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(FormattableString.Invariant($"{seed} {l}")))), 18_000))];
        return new LogbookSession
        {
            Id = Convert.ToHexStringLower(SHA256.HashData(BitConverter.GetBytes(seed)))[..8],
            Airframe = new AirframeEntry(Airframe, 1500, 22.4, 262, 400, "discus"),
            Logs = logs,
            Measure = "round_trip_climb",
            Conditions = new ConditionsEntry(4.1, 1.9, 14, 0.14, 0, 1.4, 2.5, 9, 22, 3.8, 4.4),
            BestBallastG = 40,
            Verdict = "leaning",
            Why = "The polars are well apart above 8 m/s, but the lift was weak and its width is not known.",
            Program = "thermaltrace 0.1.0",
            AddedAt = "2026-06-14T12:00:00Z",
            ChangedAt = "2026-06-14T12:00:00Z",
            Evidence = new SessionEvidence
            {
                Format = SessionEvidence.CurrentFormat,
                Terms = [.. Enumerable.Range(0, terms).Select(i => FormattableString.Invariant($"term {i}"))],
                Information = information,
                Score = Numbers(terms),
                Rows = 40_000,
                Date = new DateOnly(2000, 1, 1).AddDays(seed % 9000).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture),
                Field = new FieldPosition(47.14, 9.88),
                Basis = new DragBasis(0.224, 10.04, 0.149, 81_000, 0.0152, -0.24, 0.0121, 0.35, 1.12, 0.41),
                PriorMean = Numbers(terms),
                PriorSd = [.. Numbers(terms).Select(n => n + 0.1)],
                BallastsG = [0, 40, 80],
                Flights = [.. Enumerable.Range(0, flights).Select(i => new FlightFact
                {
                    Log = logs[i % 3].File,
                    Number = i / 3 + 1,
                    BallastG = i % 3 * 40,
                    MassKg = 0.262 + i % 3 * 0.04,
                    CgMm = null,
                    Counts = true,
                    Spoiled = false,
                    LaunchHeightM = 50 + random.NextDouble(),
                    AloftS = 200 * random.NextDouble(),
                    GlideS = 100 * random.NextDouble(),
                    GlideWayM = 900 * random.NextDouble(),
                    WindMps = 4 + random.NextDouble(),
                    WindErrorMps = 0.2,
                    Edr = 0.1 + 0.1 * random.NextDouble(),
                    LoadFactorRms = null,
                })],
                Climbs = [.. Enumerable.Range(0, climbs).Select(i => new ClimbFact(i % flights, 30 + random.NextDouble(), random.NextDouble(), 20, random.NextDouble(), 6, 1.1, 60 * random.NextDouble(), 1.2))],
            },
        };
    }
}

using System.Globalization;
using System.Text.Json;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Calibration;

/// <summary>Simulates and debriefs seasons, keeps their evidence in a folder, and scores what is learned from the first so many sessions.</summary>
internal static class SeasonRun
{
    private const string Usage = """
        Usage: dotnet run -c Release --project tests/ThermalTrace.Calibration -- --season FOLDER [--pilots N] [--sessions N] [--seed N] [--out FILE]

          FOLDER      where the sessions' evidence is kept; what is there already is not made again
          --pilots    seasons with an airframe each, 6 if not given
          --sessions  in each season, 30 if not given
          --seed      80000 if not given; the n-th pilot has SEED + 1000 n, the sessions the numbers after it
        """;

    private static readonly int[] Lengths = [0, 1, 3, 10, 30];

    public static int All(string[] args)
    {
        string? folder = null, outFile = null;
        int pilots = 6, sessions = 30;
        long seed = 80000;
        for (int i = 0; i < args.Length; i++)
        {
            string? next = i + 1 < args.Length ? args[i + 1] : null;
            switch (args[i])
            {
                case "--season" when next is not null: folder = next; i++; break;
                case "--out" when next is not null: outFile = next; i++; break;
                case "--pilots" when int.TryParse(next, CultureInfo.InvariantCulture, out pilots): i++; break;
                case "--sessions" when int.TryParse(next, CultureInfo.InvariantCulture, out sessions): i++; break;
                case "--seed" when long.TryParse(next, CultureInfo.InvariantCulture, out seed): i++; break;
                default: folder = null; i = args.Length; break;
            }
        }
        if (folder is null)
        {
            Console.Error.WriteLine(Usage);
            return 2;
        }
        using CancellationTokenSource cancel = new();
        Console.CancelKeyPress += (_, press) =>
        {
            press.Cancel = true;
            cancel.Cancel();
        };
        Season[] seasons = [.. Enumerable.Range(0, pilots).Select(n => Season.Number(n, seed))];
        Directory.CreateDirectory(folder);
        try
        {
            Make(seasons, sessions, folder, cancel.Token);
        }
        catch (OperationCanceledException)
        {
            Console.Error.WriteLine("Ended early; what was made is kept.");
            return 130;
        }
        List<SeasonScore> scores = [];
        foreach (Season season in seasons)
        {
            SeasonSession[] all = [.. Enumerable.Range(0, sessions).Select(n => new SeasonSession(FormattableString.Invariant($"day {n:000}"), Read(FileOf(folder, season, n))))];
            Airframe airframe = AirframeOf(season);
            // Where this model is wont to climb: both sides know a thermal's radius there.
            double heightM = all.SelectMany(s => s.Evidence.Climbs).Average(c => c.HeightM);
            scores.AddRange(Lengths.Where(l => l <= sessions).Select(l => SeasonScore.Of(season, airframe, all[..l], heightM)));
            Console.Error.WriteLine($"{season.Preset}, seed {season.Seed}: scored");
        }
        string text = SeasonTables.Write(scores);
        Console.Write(text);
        if (outFile is not null)
        {
            File.WriteAllText(outFile, text);
        }
        return 0;
    }

    /// <summary>The season's airframe with every ballast it can carry.</summary>
    internal static Airframe AirframeOf(Season season)
    {
        SimulatedSession first = Simulator.Run(season.Day(0) with { Flights = 1 });
        return AirframeFile.Read(new StringReader(first.AirframeJson), AirframeFile.Name, null) with { BallastOptionsG = season.Truth.BallastsG };
    }

    private static void Make(Season[] seasons, int sessions, string folder, CancellationToken cancel)
    {
        (Season Season, int Day)[] jobs = [.. Enumerable.Range(0, sessions).SelectMany(n => seasons.Select(s => (s, n))).Where(j => !File.Exists(FileOf(folder, j.s, j.n)))];
        int done = 0;
        Parallel.ForEach(jobs, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount, CancellationToken = cancel }, job =>
        {
            Session session = SessionResult.Load(Simulator.Run(job.Season.Day(job.Day), cancel));
            ResultsDocument document = Debrief.Run(session, new DebriefOptions { Threads = 1 }, cancel: cancel).Document;
            string file = FileOf(folder, job.Season, job.Day);
            using (FileStream stream = File.Create(file + ".part"))
            {
                ResultsJson.Write(stream, document);
            }
            File.Move(file + ".part", file);
            Console.Error.WriteLine($"{Interlocked.Increment(ref done)} of {jobs.Length} sessions");
        });
    }

    private static SessionEvidence Read(string file)
    {
        using FileStream stream = File.OpenRead(file);
        return ResultsJson.Read(stream).Evidence;
    }

    private static string FileOf(string folder, Season season, int day) =>
        Path.Combine(folder, FormattableString.Invariant($"{season.Preset}-{season.Seed}-{day:000}.json"));
}

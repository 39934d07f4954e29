using System.Globalization;

namespace ThermalTrace.Calibration;

/// <summary>
/// Simulates sessions of every kind, debriefs them on all cores and prints how close the results came and how often intervals
/// held, beside the bound.
/// </summary>
internal static class Run
{
    private const string Usage = """
        Usage: dotnet run -c Release --project tests/ThermalTrace.Calibration -- [SESSIONS] [FIRSTSEED] [KIND] [--twice] [--csv FILE] [--out FILE]
               dotnet run -c Release --project tests/ThermalTrace.Calibration -- [SESSIONS] [FIRSTSEED] [KIND] --parts [--out FILE]
               dotnet run -c Release --project tests/ThermalTrace.Calibration -- [SESSIONS] [FIRSTSEED] [PRESET] --plan [--out FILE]
               dotnet run -c Release --project tests/ThermalTrace.Calibration -- --from FILE [--from FILE …] [--out FILE]

          SESSIONS      of each kind, 6 if not given
          FIRSTSEED     20000 if not given; session n (from 0) of the k-th kind has the seed FIRSTSEED + k * SESSIONS + n
          KIND          only kinds whose name holds this text; their seeds stay the same
          --twice       each session also with twice and four times the flights
          --parts       fit each session's polar again without each part of what its bands account for
          --plan        seasons of SESSIONS days: does what a plan expects of the next day come true
          --csv FILE    write a row for each session as it is done; sessions that are in the file already are not done again
          --out FILE    write the tables there too
          --from FILE   make the tables from such rows and simulate nothing
        """;

    public static int All(string[] args)
    {
        List<string> plain = [], from = [];
        string? outFile = null, csvFile = null;
        bool twice = false, parts = false, plan = false;
        for (int i = 0; i < args.Length; i++)
        {
            switch (args[i])
            {
                case "--out" when i + 1 < args.Length:
                    outFile = args[++i];
                    break;
                case "--csv" when i + 1 < args.Length:
                    csvFile = args[++i];
                    break;
                case "--from" when i + 1 < args.Length:
                    from.Add(args[++i]);
                    break;
                case "--twice":
                    twice = true;
                    break;
                case "--parts":
                    parts = true;
                    break;
                case "--plan":
                    plan = true;
                    break;
                default:
                    plain.Add(args[i]);
                    break;
            }
        }
        int sessions = 6;
        long firstSeed = 20000;
        if (plain.Count > 3 || plain.Any(p => p.StartsWith('-')) || (plain.Count > 0 && !int.TryParse(plain[0], CultureInfo.InvariantCulture, out sessions))
            || (plain.Count > 1 && !long.TryParse(plain[1], CultureInfo.InvariantCulture, out firstSeed)))
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
        List<SessionResult> results = [.. from.SelectMany(Read)];
        string only = plain.Count > 2 ? plain[2] : "", text;
        bool complete = true;
        if (plan)
        {
            text = PlanTruth.Write(sessions, firstSeed, only);
        }
        else if (parts)
        {
            List<PartsResult> found = [];
            complete = Split(sessions, firstSeed, only, found, cancel.Token);
            text = PartsTables.Write([.. found.OrderBy(r => r.Seed)]);
        }
        else
        {
            if (csvFile is not null && from.Count == 0 && File.Exists(csvFile))
            {
                results.AddRange(Read(csvFile));
            }
            complete = from.Count > 0 || Simulate(sessions, firstSeed, only, twice ? MoreFlights.Times : [1], csvFile, results, cancel.Token);
            text = Tables(results);
        }
        Console.Write(text);
        if (outFile is not null)
        {
            File.WriteAllText(outFile, text);
        }
        return complete ? 0 : cancel.IsCancellationRequested ? 130 : 1;
    }

    private static IReadOnlyList<SessionResult> Read(string file)
    {
        using StreamReader reader = new(file);
        return ResultRows.Read(reader, file);
    }

    /// <summary>All tables, from sessions of the kinds' own number of flights; those with more make the last.</summary>
    private static string Tables(List<SessionResult> results)
    {
        List<(string Kind, IReadOnlyList<SessionResult> Results)> kinds = [.. Scenario.All
            .Select(s => (s.Name, (IReadOnlyList<SessionResult>)[.. results.Where(r => r.Kind == s.Name && r.Flights == s.Options.Flights).OrderBy(r => r.Seed)]))
            .Where(k => k.Item2.Count > 0)];
        IReadOnlyList<SessionResult> all = [.. kinds.SelectMany(k => k.Results)];
        string seeds = string.Join("; ", kinds.Select(k => FormattableString.Invariant($"{k.Kind} {k.Results[0].Seed} to {k.Results[^1].Seed}")));
        return FormattableString.Invariant($"{all.Count} sessions; debrief {typeof(Debrief).Assembly.GetName().Version?.ToString(3)}; seeds: {seeds}. ± is one standard error.\n\n")
            + Goals.Write(kinds) + KindTables.Write(kinds) + Reliability.Write(all) + RankHistogram.Write(kinds) + MoreFlights.Write(results);
    }

    /// <summary>True where all are done.</summary>
    private static bool Simulate(int sessions, long firstSeed, string only, int[] times, string? csvFile, List<SessionResult> results, CancellationToken cancel)
    {
        HashSet<(string, long, int)> done = [.. results.Select(r => (r.Kind, r.Seed, r.Flights))];
        List<(Scenario Kind, long Seed, int Flights)> jobs = [.. Scenario.Sessions(sessions, firstSeed, only)
            .SelectMany(s => times.Select(t => (s.Kind, s.Seed, t * s.Kind.Options.Flights))).Where(j => !done.Contains((j.Kind.Name, j.Seed, j.Item3)))
            // Kinds in turn: a run that is ended early has some of each.
            .OrderBy(j => (j.Seed - firstSeed) % sessions)];
        // Written anew from its start: an earlier run may have been ended in the middle of a row.
        using StreamWriter? csv = csvFile is null ? null : new StreamWriter(csvFile) { AutoFlush = true };
        foreach (string row in results.Select(ResultRows.Write).Prepend(ResultRows.Header))
        {
            csv?.WriteLine(row);
        }
        return Each(jobs, j => (j.Kind.Name, j.Seed), j => SessionResult.Of(j.Kind.Name, j.Kind.Options with { Seed = j.Seed, Flights = j.Flights }, cancel), result =>
        {
            results.Add(result);
            csv?.WriteLine(ResultRows.Write(result));
            return FormattableString.Invariant($"sink {result.Score.PolarErrorMps:0.0000} (bound {result.Bound.PolarErrorMps:0.0000}) m/s");
        }, cancel);
    }

    /// <summary>What each part of the account is good for; true where all sessions are done.</summary>
    private static bool Split(int sessions, long firstSeed, string only, List<PartsResult> results, CancellationToken cancel) =>
        Each([.. Scenario.Sessions(sessions, firstSeed, only)], j => (j.Kind.Name, j.Seed), j => PartsResult.Of(j.Kind.Name, j.Kind.Options with { Seed = j.Seed }, cancel), result =>
        {
            results.AddRange(result is null ? [] : [result]);
            return result is null ? "no polar" : FormattableString.Invariant($"width {result.Sink.WidthMps:0.000} m/s");
        }, cancel);

    /// <summary>Works on all cores, takes in results one at a time and says how far it is; true where all jobs are done.</summary>
    private static bool Each<TJob, TResult>(IReadOnlyList<TJob> jobs, Func<TJob, (string Kind, long Seed)> name, Func<TJob, TResult> work, Func<TResult, string> take, CancellationToken cancel)
    {
        int finished = 0, failed = 0;
        try
        {
            Parallel.ForEach(jobs, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount, CancellationToken = cancel }, job =>
            {
                (string kind, long seed) = name(job);
                try
                {
                    TResult result = work(job);
                    lock (jobs)
                    {
                        string said = take(result);
                        Console.Error.WriteLine($"{++finished} of {jobs.Count}: {kind}, seed {seed}: {said}");
                    }
                }
                catch (Exception fault) when (fault is not OperationCanceledException)
                {
                    Interlocked.Increment(ref failed);
                    Console.Error.WriteLine($"{kind}, seed {seed}: {fault}");
                }
            });
        }
        catch (OperationCanceledException)
        {
            Console.Error.WriteLine($"Ended early: {finished} of {jobs.Count} sessions are done.");
        }
        return finished == jobs.Count && failed == 0;
    }
}

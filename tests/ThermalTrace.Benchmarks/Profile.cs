using System.Diagnostics;
using System.Globalization;
using ThermalTrace.Logs;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Benchmarks;

/// <summary>
/// Where the time of a whole debrief goes, from the logs' bytes to the written report: a session of 8 flights at 10 Hz, then two
/// and four times as many. Each size runs in a process of its own, whose first debrief is the cold one.
/// </summary>
internal static class Profile
{
    private static readonly int[] Times = [1, 2, 4];
    private const int Flights = 8, WarmUps = 8, WarmRuns = 5; // by then the runtime has compiled the busiest code for speed
    private const string Reading = "Reading the logs", Writing = "Writing report, results and tables", Whole = "whole";

    /// <summary>One row a stage: processor time of all threads.</summary>
    private sealed record Spent(string Stage, double Ms);

    /// <summary>Runs all sizes and prints the tables.</summary>
    public static int RunAll()
    {
        List<string[]> sizes = [];
        foreach (int times in Times)
        {
            using Process child = Process.Start(new ProcessStartInfo("dotnet", [typeof(Profile).Assembly.Location, "profile-one", times.ToString(CultureInfo.InvariantCulture)]) { RedirectStandardOutput = true })!;
            sizes.Add(child.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries));
            child.WaitForExit();
            if (child.ExitCode != 0)
            {
                return child.ExitCode;
            }
        }
        double Number(int size, int line, int field) => double.Parse(sizes[size][line].Split('\t')[field], CultureInfo.InvariantCulture);
        double[] rows = [.. Times.Select((_, s) => Number(s, 0, 1))];
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{Environment.ProcessorCount} cores, .NET {Environment.Version}; {Flights} flights at 10 Hz, {rows[0]:N0} rows; processor time of all threads, warm: median of {WarmRuns} runs. By the clock, first debrief of a process: {Number(0, 0, 2):0.00} s, warm: {Number(0, 0, 3):0.00} s.\n"));
        Console.WriteLine("| stage | cold ms | warm ms | share % | µs a row | twice the flights | four times |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- |");
        int last = sizes[0].Length - 1;
        for (int line = 1; line <= last; line++)
        {
            double warm = Number(0, line, 2);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"| {sizes[0][line].Split('\t')[0]} | {Number(0, line, 1):0} | {warm:0} | {100 * warm / Number(0, last, 2):0} | {1000 * warm / rows[0]:0.0} | {1000 * Number(1, line, 2) / rows[1]:0.0} | {1000 * Number(2, line, 2) / rows[2]:0.0} |"));
        }
        return 0;
    }

    /// <summary>One size; rows, clock times, then a line a stage with its cold and its warm time in ms.</summary>
    public static void RunOne(int times)
    {
        SimulatedSession single = Flown(1), session = times == 1 ? single : Flown(times);
        Stopwatch clock = Stopwatch.StartNew();
        (int rows, IReadOnlyList<Spent> cold) = Once(session);
        double coldS = clock.Elapsed.TotalSeconds;
        List<IReadOnlyList<Spent>> warm = [];
        List<double> clocks = [];
        for (int run = 0; run < WarmUps; run++)
        {
            Once(single);
        }
        for (int run = 0; run < WarmRuns; run++)
        {
            clock.Restart();
            warm.Add(Once(session).Stages);
            clocks.Add(clock.Elapsed.TotalSeconds);
        }
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"rows\t{rows}\t{coldS:0.000}\t{clocks.Order().ElementAt(WarmRuns / 2):0.000}"));
        for (int stage = 0; stage < cold.Count; stage++)
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{cold[stage].Stage}\t{cold[stage].Ms:0.00}\t{warm.Select(w => w[stage].Ms).Order().ElementAt(WarmRuns / 2):0.00}"));
        }
    }

    private static SimulatedSession Flown(int times) =>
        Simulator.Run(new SimulationOptions { Seed = 60_001, Flights = times * Flights, RateHz = 10, WindMps = 4, Logs = LogSplit.PerFlight });

    private static (int Rows, IReadOnlyList<Spent> Stages) Once(SimulatedSession simulated)
    {
        Meter meter = new();
        meter.Report(new DebriefProgress(Reading, 0));
        Airframe airframe = AirframeFile.Read(new StringReader(simulated.AirframeJson), AirframeFile.Name, null);
        FlightLog[] logs = [.. simulated.Logs.Select(l => LogImporter.Read(new MemoryStream(l.Bytes, writable: false), l.FileName, []))];
        Session session = new(airframe, logs, FlightsFile.Read(new StringReader(simulated.FlightsCsv), FlightsFile.Name), [], []);
        DebriefResult result = Debrief.Run(session, new DebriefOptions(), meter);
        meter.Report(new DebriefProgress(Writing, 1));
        using StringWriter text = new(CultureInfo.InvariantCulture);
        ResultsJson.Write(Stream.Null, result.Document);
        ReportHtml.Write(text, result.Document, result.Traces);
        ResultTables.WriteSegments(text, result.Document);
        ResultTables.WriteGlides(text, result.Document, result.Traces);
        ResultTables.WritePolars(text, result.Document);
        return (logs.Sum(l => l.Rows), meter.End());
    }

    /// <summary>Notes the processor time at each stage's start.</summary>
    private sealed class Meter : IProgress<DebriefProgress>
    {
        private readonly List<(string Stage, double Ms)> _starts = [];

        public void Report(DebriefProgress value) => _starts.Add((value.Stage, Environment.CpuUsage.TotalTime.TotalMilliseconds));

        public IReadOnlyList<Spent> End()
        {
            Report(new DebriefProgress(Whole, 1));
            // "Done" lasts no time of its own.
            return [.. _starts.Zip(_starts.Skip(1), (a, b) => new Spent(a.Stage, b.Ms - a.Ms)).Where(s => s.Stage != "Done"), new Spent(Whole, _starts[^1].Ms - _starts[0].Ms)];
        }
    }
}

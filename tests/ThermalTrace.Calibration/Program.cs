using System.Globalization;
using System.Text;
using ThermalTrace;
using ThermalTrace.Calibration;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

// Simulates sessions of every kind, debriefs them and prints how close the results came and how often intervals held.
// Usage: dotnet run -c Release --project tests/ThermalTrace.Calibration -- [sessions of each kind] [first seed] [kind's name, in part]
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
int sessions = args.Length > 0 ? int.Parse(args[0]) : 6;
long firstSeed = args.Length > 1 ? long.Parse(args[1]) : 1000;
Scenario[] scenarios = [.. Scenario.All.Where(s => args.Length < 3 || s.Name.Contains(args[2], StringComparison.OrdinalIgnoreCase))];
Score?[,] scores = new Score?[scenarios.Length, sessions];
Parallel.For(0, scenarios.Length * sessions, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, job =>
{
    (int kind, int number) = (job / sessions, job % sessions);
    SimulatedSession simulated = Simulator.Run(scenarios[kind].Options with { Seed = firstSeed + job });
    try
    {
        scores[kind, number] = Score.Of(Debrief.Run(Load(simulated), new DebriefOptions { Threads = 1 }).Document, Truth.Read(simulated.TruthJson));
    }
    catch (Exception fault)
    {
        Console.Error.WriteLine($"{scenarios[kind].Name}, seed {firstSeed + job}: {fault}");
    }
});
Console.WriteLine($"{sessions} sessions of each kind, seeds from {firstSeed}; debrief {typeof(Debrief).Assembly.GetName().Version?.ToString(3)}");
Console.WriteLine();
Console.WriteLine("| kind | sink error m/s | bias | predicted | coverage | width | span | kinds | flights ± | wind median | wind/own | EDR log | EDR cov. | loss | plain rule | clear | R cov. |");
Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |");
List<Score> all = [];
for (int kind = 0; kind < scenarios.Length; kind++)
{
    List<Score> of = [.. Enumerable.Range(0, sessions).Select(n => scores[kind, n]).OfType<Score>()];
    all.AddRange(of);
    Row(scenarios[kind].Name, of);
}
Row("all", all);
double error = Math.Sqrt(all.Where(s => !double.IsNaN(s.PolarCoverage)).Select(s => Math.Pow(s.PolarCoverage - Score.Mean(all.Select(a => a.PolarCoverage)), 2)).DefaultIfEmpty(0).Average() / Math.Max(all.Count, 1));
Console.WriteLine();
Console.WriteLine($"Mean coverage of the 90 % sink bands over {all.Count} sessions: {Score.Mean(all.Select(s => s.PolarCoverage)):0.000} ± {error:0.000} (standard error).");
return all.Count == scenarios.Length * sessions ? 0 : 1;

static void Row(string name, List<Score> s)
{
    double[] wind = [.. s.SelectMany(x => x.WindErrorsMps).Order()];
    StringBuilder row = new($"| {name} ");
    void Cell(double value, string format) => row.Append("| ").Append(double.IsNaN(value) ? "–" : value.ToString(format, CultureInfo.InvariantCulture)).Append(' ');
    Cell(Score.RootMeanSquare(s.Select(x => x.PolarErrorMps).Where(v => !double.IsNaN(v))), "0.000");
    Cell(Score.Mean(s.Select(x => x.PolarBiasMps)), "+0.000;-0.000");
    Cell(Score.RootMeanSquare(s.Select(x => x.PredictedErrorMps).Where(v => !double.IsNaN(v))), "0.000");
    Cell(Score.Mean(s.Select(x => x.PolarCoverage)), "0.00");
    Cell(Score.Mean(s.Select(x => x.PolarWidthMps)), "0.000");
    Cell(Score.Mean(s.Select(x => x.SpeedSpan)), "0.00");
    Cell(Score.Mean(s.Select(x => x.Kinds)), "0.000");
    Cell(s.Sum(x => Math.Abs(x.FlightsOver)), "0");
    Cell(wind.Length > 0 ? wind[wind.Length / 2] : double.NaN, "0.00");
    Cell(Score.RootMeanSquare(s.SelectMany(x => x.WindPulls)), "0.00");
    Cell(Score.RootMeanSquare(s.SelectMany(x => x.EdrLogErrors)), "0.00");
    Cell(Score.Mean(s.SelectMany(x => x.EdrInside)), "0.00");
    Cell(Score.Mean(s.Select(x => x.LossMps)), "0.0000");
    Cell(Score.Mean(s.Select(x => x.PlainRuleLossMps)), "0.0000");
    Cell(Score.Mean(s.Select(x => x.Clear ? 1.0 : 0)), "0.00");
    Cell(Score.Mean(s.Select(x => x.RoundTripCoverage)), "0.00");
    Console.WriteLine(row.Append('|'));
}

static Session Load(SimulatedSession simulated)
{
    Airframe airframe = AirframeFile.Read(new StringReader(simulated.AirframeJson), "airframe.json", null);
    IReadOnlyList<FlightNote> notes = FlightsFile.Read(new StringReader(simulated.FlightsCsv), "flights.csv");
    return new Session(airframe, [.. simulated.Logs.Select(l => LogImporter.Read(new MemoryStream(l.Bytes), l.FileName, []))], notes, [], []);
}

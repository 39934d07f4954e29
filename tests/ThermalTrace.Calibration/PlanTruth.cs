using System.Globalization;
using System.Text;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Calibration;

/// <summary>
/// Whether a plan's expectation comes true: seasons of one simulated airframe grow by a session at a time; before each, the narrowing is
/// expected for the glides its pilot will fly, and after it the season is tuned again and compared.
/// </summary>
internal static class PlanTruth
{
    private sealed record Row(string Preset, int Session, double Worth, double Now, double Expected, double Low, double High, double Achieved, double Moved, double ExpectedMove);

    private static readonly (string Preset, double WindMps, double Edr, double LiftMps)[] Airframes =
        [("discus-1500", 3, 0.10, 1.8), ("electric-2000", 4, 0.12, 2.0), ("winch-3000", 5, 0.14, 2.0)];

    private static readonly double[] SpeedShares = [1.0, 1.15, 1.3, 1.5, 1.75]; // of the simulated pilot's card
    private const double LegS = 18;
    private const int Flights = 6;
    private static readonly PlanAsked Asked = new() { WindMps = new AskedRange(3, 6), LiftMps = new AskedRange(1, 2), Edr = new AskedRange(0.08, 0.16) };

    /// <summary>As Markdown.</summary>
    /// <param name="sessions">In each season.</param>
    /// <param name="firstSeed">Of the first session.</param>
    /// <param name="only">Presets whose name holds this.</param>
    public static string Write(int sessions, long firstSeed, string only)
    {
        List<Row> rows = [];
        for (int a = 0; a < Airframes.Length; a++)
        {
            (string preset, double wind, double edr, double lift) = Airframes[a];
            if (!preset.Contains(only, StringComparison.OrdinalIgnoreCase))
            {
                continue;
            }
            SeasonSession[] season = new SeasonSession[sessions];
            Airframe? airframe = null;
            int index = a;
            Parallel.For(0, sessions, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, n =>
            {
                SimulatedSession simulated = Simulator.Run(new SimulationOptions
                {
                    Preset = preset,
                    Flights = Flights,
                    TestShare = 1,
                    RateHz = 2,
                    BallastSpread = 0,
                    WindMps = wind,
                    Edr = edr * (0.8 + 0.1 * n),
                    LiftMps = lift,
                    Seed = firstSeed + 100 * index + n,
                    Order = BallastOrder.ThereAndBack,
                    Logs = LogSplit.One,
                });
                Session session = SessionResult.Load(simulated);
                DebriefResult result = Debrief.Run(session, new DebriefOptions { Threads = 1 });
                season[n] = new SeasonSession(n.ToString("00", CultureInfo.InvariantCulture), result.Document.Evidence);
                airframe = session.Airframe;
                Console.Error.WriteLine($"{preset}, session {n + 1} of {sessions}");
            });
            for (int n = 0; n < sessions; n++)
            {
                rows.Add(Compare(preset, airframe!, season, n));
            }
        }
        StringBuilder table = new("| model | sessions before | worth of a glide | spread before | expected after (calm to rough) | achieved | mean moved by | expected to move by |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n");
        foreach (Row r in rows)
        {
            table.Append(CultureInfo.InvariantCulture, $"| {r.Preset} | {r.Session} | {r.Worth:0.00} | {r.Now:0.0000} | {r.Expected:0.0000} ({r.Low:0.0000} to {r.High:0.0000}) | {r.Achieved:0.0000} | {r.Moved:0.0000} | ±{r.ExpectedMove:0.0000} |\n");
        }
        double[] logs = [.. rows.Select(r => Math.Log(r.Achieved / r.Expected))];
        double Drop(double after, Row r) => Math.Sqrt(Math.Max(r.Now * r.Now - after * after, 0));
        table.Append(CultureInfo.InvariantCulture, $"\nMoves over what was achieved, root mean square: {Math.Sqrt(rows.Average(r => Math.Pow(r.Moved / Drop(r.Achieved, r), 2))):0.00}; achieved move over expected: {Math.Exp(rows.Average(r => Math.Log(Drop(r.Achieved, r) / r.ExpectedMove))):0.00}.\n");
        table.Append(CultureInfo.InvariantCulture, $"\nAchieved over expected: {Math.Exp(logs.Average()):0.00}, scatter {Math.Sqrt(logs.Average(l => (l - logs.Average()) * (l - logs.Average()))):0.00} of its logarithm; ")
            .Append(CultureInfo.InvariantCulture, $"within calm to rough: {rows.Count(r => r.Achieved >= r.Low && r.Achieved <= r.High)} of {rows.Count}; ")
            .Append(CultureInfo.InvariantCulture, $"moves over expected, root mean square: {Math.Sqrt(rows.Average(r => Math.Pow(r.Moved / r.ExpectedMove, 2))):0.00}.\n");
        return table.ToString();
    }

    private static Row Compare(string preset, Airframe airframe, SeasonSession[] season, int before)
    {
        SeasonModel model = SeasonModel.Tune(airframe, season[..before], 1), then = SeasonModel.Tune(airframe, season[..(before + 1)], 1);
        TestPlanner planner = new(model, Asked);
        PlannedInformation known = planner.Search.Known, later = new TestPlanner(then, Asked).Search.Known;
        PlanDecision decision = planner.Leading;
        FlightChoice[] flights = [.. season[before].Evidence.Flights.Where(f => f is { Counts: true, GlideWayM: > 0 }).Select((f, i) => Choice(planner, model.Prediction.Planform, f, i))];
        double Spread(Matrix<double> terms) => Math.Sqrt(decision.Difference(decision.Covariance(terms), decision.Rival));
        Matrix<double> unit = Matrix<double>.Build.DenseIdentity(known.Mean.Count);
        Matrix<double> Expected(double factor) => planner.Search.After([[.. flights.Select(f => f with { Information = f.Information * factor })]]);
        Matrix<double> change = known.Root.Inverse() * later.Root;
        Vector<double> step = known.Root.Inverse() * (later.Mean - known.Mean);
        double calm = Math.Exp(1.6449 * planner.Worth.LogSpread);
        // The lead is a sum of the scaled terms: its move is that of the covariance of a single draw.
        double moved = Math.Sqrt(decision.Difference(decision.Covariance(step.OuterProduct(step)), decision.Rival));
        return new Row(preset, before, planner.Worth.Factor, Spread(unit), Spread(Expected(1)), Spread(Expected(calm)), Spread(Expected(1 / calm)), Spread(change * change.Transpose()),
            moved, Spread(unit - Expected(1)));
    }

    /// <summary>A flight as its pilot had meant to fly it: the card's speeds in turn for as long as it glided.</summary>
    private static FlightChoice Choice(TestPlanner planner, Planform planform, FlightFact flight, int number)
    {
        Option option = planner.Options[Drag.IndexOf(planner.Options, flight.BallastG!.Value)];
        double slowest = planform.AirspeedMps(Planform.SlowestCl, option.MassKg);
        double least = Enumerable.Range(0, 60).Select(i => slowest * (1 + 0.01 * i)).MinBy(v => planner.Glides.SinkMps(v, option.MassKg, option.Ballast));
        List<PlannedLeg> legs = [];
        for (double left = flight.GlideS; left > LegS / 2; left -= LegS)
        {
            legs.Add(new PlannedLeg(least * SpeedShares[(number + legs.Count) / 2 * 2 % SpeedShares.Length], Math.Min(left, LegS), legs.Count % 2 * Math.PI));
        }
        return new FlightChoice(option.Ballast, new GlideCard([]), planner.Glides.Of(option.MassKg, option.Ballast, legs));
    }
}

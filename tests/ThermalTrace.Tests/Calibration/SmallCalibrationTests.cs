using System.Globalization;
using ThermalTrace.Calibration;

namespace ThermalTrace.Tests.Calibration;

/// <summary>
/// A short session of every kind with a fixed seed, debriefed, scored and set beside its bound: a guard against a change that
/// breaks the estimates or their intervals. The program in tests/ThermalTrace.Calibration counts over many more.
/// </summary>
public class SmallCalibrationTests
{
    private const int MostFlights = 6;
    private const long FirstSeed = 4101;

    private static readonly Lazy<SessionResult[]> Results = new(() =>
    {
        SessionResult[] results = new SessionResult[Scenario.All.Count];
        Parallel.For(0, results.Length, i => results[i] = SessionResult.Of(Scenario.All[i].Name,
            Scenario.All[i].Options with { Flights = Math.Min(MostFlights, Scenario.All[i].Options.Flights / 2), Seed = FirstSeed + i }, CancellationToken.None));
        return results;
    });

    private static string Said { get; } = string.Join("\n", Results.Value.Select(s => string.Create(CultureInfo.InvariantCulture,
        $"{s.Kind}, seed {s.Seed}: flights {s.Score.FlightsOver:+0;-0;0}, kinds {s.Score.Kinds:0.000}, sink {s.Score.PolarErrorMps:0.000}, bound {s.Bound.PolarErrorMps:0.000}, coverage {s.Score.PolarCoverage:0.00}, bound's {s.Bound.PolarCoverage:0.00}, winds {string.Join(' ', s.Score.WindErrorsMps.Select(w => w.ToString("0.00", CultureInfo.InvariantCulture)))}")));

    [Fact]
    public void SessionsOfEveryKind_AreMeasuredAndTheirBandsMostlyHold()
    {
        Score[] scores = [.. Results.Value.Select(r => r.Score)];
        Assert.True(scores.Sum(s => Math.Abs(s.FlightsOver)) <= 1, Said);
        // Ordinary flying has turns that are neither climb nor glide: one session may fall lower than the mean.
        Assert.True(Score.Mean(scores.Select(s => s.Kinds)) >= 0.85, Said);
        // Half of these flights hardly turn, and what never turns tells little of the wind: the practice sessions ask for 0.3.
        Assert.True(Score.Median(scores.SelectMany(s => s.WindErrorsMps)) <= 0.8, Said);
        // What the prediction from geometry alone gets wrong is about 0.1.
        Assert.True(Score.Median(scores.Select(s => s.PolarErrorMps)) <= 0.12, Said);
        // All bands of a session rise and fall with one mean air motion, so twelve sessions are about twelve draws of yes or no:
        // with bands that hold nine times in ten fewer than 6 of 12 would hold once in 20,000 sets of seeds (binomial).
        Assert.True(Score.Mean(scores.Select(s => s.PolarCoverage)) >= 0.5, Said);
    }

    [Fact]
    public void TheBound_IsNeverMissingAndItsBandsMostlyHold()
    {
        Bound[] bounds = [.. Results.Value.Select(r => r.Bound)];
        Assert.All(bounds, b => Assert.InRange(b.PolarErrorMps, 0.0005, 0.3));
        // True airspeed and phases in sessions half as long as usual: the air's own motion is left.
        Assert.True(Score.Median(bounds.Select(b => b.PolarErrorMps)) <= 0.06, Said);
        Assert.True(Score.Mean(bounds.Select(b => b.PolarCoverage)) >= 0.6, Said);
        Assert.All(bounds, b => Assert.True(double.IsNaN(b.LossMps) || b.LossMps >= 0, Said));
    }

    [Fact]
    public void TheTruth_LiesAnywhereAmongTheDraws()
    {
        double[] ranks = [.. Results.Value.SelectMany(r => (double[])[r.Ranks.SinkAtLeast, r.Ranks.SinkAtMiddle, r.Ranks.SinkAtFast]).Where(r => !double.IsNaN(r))];
        Assert.True(ranks.Length >= 2 * Results.Value.Length, Said);
        Assert.All(ranks, r => Assert.InRange(r, 0, 1));
        // Not all at one end, as they would be with a sign or a unit gone wrong.
        Assert.InRange(ranks.Average(), 0.1, 0.9);
    }

    [Fact]
    public void Rows_KeepEveryFigure()
    {
        string text = string.Join('\n', Results.Value.Select(ResultRows.Write).Prepend(ResultRows.Header)) + "\nhalf a row,1,2";
        IReadOnlyList<SessionResult> again = ResultRows.Read(new StringReader(text), "rows.csv");
        Assert.Equal(Results.Value.Select(ResultRows.Write), again.Select(ResultRows.Write));
        Assert.Equal(Results.Value.Select(r => r.Score.Brier), again.Select(r => r.Score.Brier));
        Assert.Contains("rows.csv:1:", Assert.Throws<FormatException>(() => ResultRows.Read(new StringReader("Kind,Seed\n"), "rows.csv")).Message, StringComparison.Ordinal);
    }
}

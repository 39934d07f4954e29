using System.Globalization;
using ThermalTrace.Calibration;

namespace ThermalTrace.Tests.Calibration;

/// <summary>One short session, debriefed and fitted again without each part of what its bands account for.</summary>
public class PartsTests
{
    private const long Seed = 26107;

    // A spread less tells the fit more, and hyperparameters found anew with it may be larger for it: a tenth of the width is
    // what they were seen to give back at most.
    private const double WidestChange = 1.1;

    private static readonly Lazy<PartsResult> Result = new(() =>
    {
        Scenario kind = Scenario.All.Single(s => s.Name == "discus wind mixed");
        return PartsResult.Of(kind.Name, kind.Options with { Flights = 4, Seed = Seed }, CancellationToken.None)!;
    });

    [Fact]
    public void EveryPart_SwitchedOff_ChangesTheBands()
    {
        PartsResult result = Result.Value;
        Assert.Equal(Part.All.Count, result.SinkWithout.Count);
        Assert.All(Part.All.Zip(result.SinkWithout), p => Assert.True(Math.Abs(p.Second.WidthMps / result.Sink.WidthMps - 1) > 1e-5, p.First.Name));
    }

    [Fact]
    public void ASpreadTakenAway_HardlyWidensTheBands()
    {
        PartsResult result = Result.Value;
        Assert.All(Part.All.Zip(result.SinkWithout).Where(p => p.First.Spread),
            p => Assert.True(p.Second.WidthMps < WidestChange * result.Sink.WidthMps, string.Create(CultureInfo.InvariantCulture, $"{p.First.Name}: {p.Second.WidthMps} of {result.Sink.WidthMps} m/s")));
        Assert.True(result.SinkWithout[^1].WidthMps < 0.95 * result.Sink.WidthMps);
    }

    [Fact]
    public void RoundTrip_WithAllFourKnown_IsNarrower()
    {
        PartsResult result = Result.Value;
        Assert.True(result.Trip.WidthMps > 0.01);
        Assert.All(TripPart.All.Zip(result.TripWithout), p => Assert.True(p.Second.WidthMps != result.Trip.WidthMps, p.First.Name));
        Assert.True(result.TripWithout[^1].WidthMps < result.Trip.WidthMps);
        Assert.True(result.TripWithout[^1].BetweenMps < result.Trip.BetweenMps);
    }

    [Fact]
    public void Tables_HaveARowForEveryPart()
    {
        string text = PartsTables.Write([Result.Value]);
        Assert.All(Part.All.Select(p => p.Name).Concat(TripPart.All.Select(p => p.Name)), name => Assert.Contains($"| {name} |", text, StringComparison.Ordinal));
        Assert.Empty(PartsTables.Write([]));
    }

    [Fact]
    public void ChangeOfAnError_IsItsDifferenceWithTheScatterOfWhatSessionsAdd()
    {
        static PartsResult Made(double without, double full) => new("discus calm tests", 1, new SinkFigures(full, 0, 1, 0.1),
            [.. Part.All.Select(_ => new SinkFigures(without, 0, 1, 0.05))], new TripFigures(0.1, 1, 0.2, 0.1), [.. TripPart.All.Select(_ => new TripFigures(0.1, 1, 0.1, 0.1))]);
        string row = PartsTables.Write([Made(0.05, 0.04), Made(0.05, 0.04)]).Split('\n').First(l => l.StartsWith($"| {Part.All[0].Name} |", StringComparison.Ordinal));
        // Half the width: three quarters of its square.
        Assert.Equal($"| {Part.All[0].Name} | 0.050 ± 0.000 | -50.0 ± 0.0 | 75 | 1.000 ± 0.000 | +0.000 ± 0.000 | 0.0500 ± 0.0000 | +0.0100 ± 0.0000 |", row);
    }
}

using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Tests.Advice;

public sealed class SwitchPointsTests
{
    private static readonly double[] Winds = [.. Enumerable.Range(0, 31).Select(i => 0.5 * i)];

    private static SweptTrips Trips(params Func<double, double, double>[] options)
    {
        double[] shifts = [.. Enumerable.Range(0, 101).Select(i => (i - 50) / 50.0)];
        return new SweptTrips(Winds, [.. options.Select(o => Winds.Select(w => shifts.Select(s => o(w, s)).ToArray()).ToArray())]);
    }

    [Fact]
    public void TwoLines_ChangeWhereTheyCross_WithTheDrawsInterval()
    {
        // The heavy one gains 0.1 a m/s from 5.5 m/s on, in draws from 4.5 to 6.5.
        SwitchPoint point = Assert.Single(SwitchPoints.Of(Trips((_, _) => 0, (w, s) => 0.1 * (w - 5.5 - s)), [true, true]));
        Assert.Equal((0, 1), (point.From, point.To));
        Assert.Equal(5.5, point.At.Value, 9);
        Assert.Equal(4.6, point.At.Low, 9);
        Assert.Equal(6.4, point.At.High, 9);
    }

    [Fact]
    public void WhatNobodyFeels_IsNoChange() => Assert.Empty(SwitchPoints.Of(Trips((_, _) => 0, (w, _) => 0.0009 * (w - 7)), [true, true]));

    [Fact]
    public void AMiddleOption_IsPassedOver_WhereTheEndsAreAsGood()
    {
        // The middle is best between 6.9 and 7.1 m/s, by next to nothing.
        IReadOnlyList<SwitchPoint> points = SwitchPoints.Of(Trips((w, _) => -0.05 * (w - 7), (_, _) => 0.005, (w, _) => 0.05 * (w - 7)), [true, true, true]);
        Assert.Equal([(0, 2)], points.Select(p => (p.From, p.To)));
        // Where it is worth it for a while, it is not.
        points = SwitchPoints.Of(Trips((w, _) => -0.05 * (w - 7), (_, _) => 0.1, (w, _) => 0.05 * (w - 7)), [true, true, true]);
        Assert.Equal([(0, 1), (1, 2)], points.Select(p => (p.From, p.To)));
        Assert.Equal([5, 9], points.Select(p => Math.Round(p.At.Value, 9)));
    }

    [Fact]
    public void WhatIsNotAllowed_IsNeverChangedTo() => Assert.Empty(SwitchPoints.Of(Trips((_, _) => 0, (w, _) => 0.1 * (w - 5)), [true, false]));

    [Fact]
    public void DrawsThatNeverCross_LeaveTheBoundOpen()
    {
        SwitchPoint point = Assert.Single(SwitchPoints.Of(Trips((_, _) => 0, (w, s) => 0.1 * (w - 13 - 4 * s)), [true, true]));
        Assert.True(double.IsNaN(point.At.High));
        Assert.Equal(9.4, point.At.Low, 9);
    }

    [Fact]
    public void BeyondThePolars_ThereIsNothingToChange() =>
        Assert.Single(SwitchPoints.Of(Trips((w, _) => w > 9 ? double.NaN : 0, (w, _) => w > 9 ? double.NaN : 0.1 * (w - 5.2)), [true, true]));

    [Fact]
    public void SweptTrips_AtTheWindAsked_AreTheComparisons()
    {
        Advised advised = AdviceModels.Answer(AdviceModels.Predicted(AdviceModels.Tansy), AdviceModels.Ask(4, 1.5, 0.1));
        (CurveMaker maker, double[][] draws) = AdviceModels.Predicted(AdviceModels.Tansy).Curves(advised.Choices.Options, 1, 300);
        DrawnOptions options = new(advised.Choices.Options, 0.248, maker, draws, 300);
        SweptTrips winds = SweptTrips.OverWind(options, advised.Air, advised.Asked, [4]), lifts = SweptTrips.OverLift(options, advised.Air, [1.5]);
        for (int k = 0; k < options.Options.Count; k++)
        {
            Assert.Equal(advised.Options[k].Outcome.RoundTripDrawsMps.Where((_, d) => d % 4 == 0), winds.Draws[k][0], (a, b) => Math.Abs(a - b) < 1e-9);
            Assert.Equal(winds.Mean(k, 0), lifts.Mean(k, 0), 9);
        }
    }
}

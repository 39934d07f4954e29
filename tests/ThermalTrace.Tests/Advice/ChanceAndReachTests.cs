using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;

namespace ThermalTrace.Tests.Advice;

public sealed class ChanceAndReachTests
{
    private static readonly SeasonModel Model = AdviceModels.Predicted(AdviceModels.Tansy);

    private static Band Chance(double wind, double lift, double timeS, double fromM = 50) =>
        AdviceModels.Answer(Model, AdviceModels.Ask(wind, lift, 0.1) with { TimeS = timeS, FromHeightM = fromM }).Options[0].Chance;

    // s = 0.01 V² − 0.12 V + 0.8: (1 + s)/V is least at 13.416408 m/s, 1/6.741808 (the tangent of the speed to fly).
    private static readonly SinkCurve Quadratic = Curve(v => 0.01 * v * v - 0.12 * v + 0.8);

    private static SinkCurve Curve(Func<double, double> sink)
    {
        double[] speeds = [.. Enumerable.Range(0, 4001).Select(i => 5 + 0.005 * i)];
        return new SinkCurve(speeds, [.. speeds.Select(sink)]);
    }

    [Fact]
    public void Reach_IsFlownAtTheSpeedToFly_AndGainsWhatTheTangentSays()
    {
        (_, double gain, double speed) = ReachForLift.Best(Quadratic, 1, 100, 100, 15);
        Assert.Equal(120 - 100 / 6.741808, gain, 4);
        Assert.Equal(13.416408, speed, 2);
    }

    // Best glide of the same polar: 16.98213 at 8.944272 m/s.
    [Fact]
    public void Reach_FromLow_IsFlownMoreSlowly_AndFromLowerNotAtAll()
    {
        double lost = 100 / 16.98213;
        (double arrival, double gain, double speed) = ReachForLift.Best(Quadratic, 1, 15 + lost + 0.05, 100, 15);
        Assert.Equal(15.05, arrival, 4);
        Assert.InRange(speed, 8.9, 10.5);
        Assert.True(gain < 120 - 100 / 6.741808);
        (arrival, gain, speed) = ReachForLift.Best(Quadratic, 1, 15 + lost - 0.05, 100, 15);
        Assert.Equal(14.95, arrival, 4);
        Assert.True(double.IsNaN(gain) && double.IsNaN(speed));
    }

    [Fact]
    public void Reach_OfLiftFartherOff_GainsLess()
    {
        IReadOnlyList<ReachedLift> reach = AdviceModels.Answer(Model, AdviceModels.Ask(4, 2, 0.1) with { FromHeightM = 60 }).Options[0].Reach;
        Assert.Equal([50, 100, 200], reach.Select(r => r.DistanceM));
        Assert.Equal(reach.Select(r => r.NetGainM.Value).OrderDescending(), reach.Select(r => r.NetGainM.Value));
        Assert.All(AdviceModels.Answer(Model, AdviceModels.Ask(4, 2, 0.1) with { FromHeightM = 14 }).Options[0].Reach, r => Assert.False(r.NetGainM.IsKnown));
    }

    [Fact]
    public void Chance_WithoutLift_IsThatOfGlidingLongEnough()
    {
        // 50 m of height at the best glide's sink: the scatter of launches and of the prediction decides; the middle is a coin's.
        Advised advised = AdviceModels.Answer(Model, AdviceModels.Ask(0, 0, 0.1) with { FromHeightM = 50 });
        double sink = 0, n = 0;
        (CurveMaker maker, double[][] draws) = Model.Curves(advised.Choices.Options, 1, 300);
        DrawnOptions options = new(advised.Choices.Options, 0.248, maker, draws, 300);
        for (int d = 0; d < 300; d++)
        {
            (double v, double ratio) = options.Level(0, d).BestGlide(0)!.Value;
            (sink, n) = (sink + v / ratio, n + 1);
        }
        double usual = 50 / (sink / n);
        Assert.InRange(Chance(0, 0, usual).Value, 0.35, 0.65);
        Assert.True(Chance(0, 0, usual * 0.4).Value > 0.97);
        Assert.True(Chance(0, 0, usual * 2).Value < 0.03);
    }

    [Fact]
    public void Chance_FallsWithTime_RisesWithLiftAndHeight()
    {
        double usual = Chance(3, 2, 240).Value;
        Assert.True(usual > Chance(3, 2, 480).Value);
        Assert.True(usual < Chance(3, 4, 240).Value);
        Assert.True(usual < Chance(3, 2, 240, 80).Value);
        Assert.InRange(usual, 0.02, 0.98);
    }

    [Fact]
    public void Chance_HasAnIntervalAboutIt()
    {
        Band chance = Chance(3, 2, 240);
        Assert.True(chance.Low < chance.Value && chance.Value < chance.High);
        Assert.InRange(chance.Low, 0, 1);
        Assert.InRange(chance.High, 0, 1);
    }

    [Fact]
    public void Chance_InAWindThatNothingMakesWayAgainst_IsNone() => Assert.Equal(0, Chance(30, 4, 600).Value, 2);

    [Fact]
    public void LiftMet_IsTheLogbooks_WhereItHasClimbs()
    {
        SessionEvidence evidence = AdviceModels.TwoDays()[0].Evidence;
        LiftMet met = LiftMet.Of(SeasonModel.Tune(AdviceModels.Tansy, AdviceModels.TwoDays(), 1));
        Assert.Equal(2 * evidence.Climbs.Count, met.Climbs);
        Assert.Equal(2 * evidence.Flights.Sum(f => f.GlideWayM!.Value) / 1000, met.WayKm, 9);
        LiftMet much = new(400, 200, [30, 40, 50, 60, 70]);
        System.Random random = new(3);
        double[] rates = [.. Enumerable.Range(0, 4000).Select(_ => much.DrawRate(random))];
        Assert.InRange(Math.Exp(rates.Average(Math.Log)), 1.9, 2.1);
        Assert.All(Enumerable.Range(0, 50), _ => Assert.InRange(much.DrawDurationS(random), 30, 70));
    }

    [Fact]
    public void LiftMet_OfFlightsWithoutAirspeed_CountsNeitherTheirWayNorTheirClimbs()
    {
        LiftMet met = LiftMet.Of(SeasonModel.Tune(AdviceModels.Tansy, AdviceModels.TwoDays(f => f with { GlideWayM = null }), 1));
        Assert.Equal((0, 0.0), (met.Climbs, met.WayKm));
    }
}

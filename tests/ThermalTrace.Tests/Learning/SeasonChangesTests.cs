using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Learning;

public sealed class SeasonChangesTests(ITestOutputHelper output)
{
    private static readonly Airframe Airframe = AdviceModels.Tansy;
    private static readonly Prediction Prediction = Prediction.For(Airframe);

    [Theory]
    [InlineData(5, 0.06)]
    [InlineData(10, 0.06)]
    [InlineData(16, 0.06)]
    [InlineData(10, -0.06)]
    public void OneChange_OnQuietDays_IsFoundOnItsDayWithItsSize(int from, double share)
    {
        (int found, Band band, double factor) = Assert.Single(SeasonChanges.Find(Prediction, Parts(20, s => s >= from ? share : 0)));
        Assert.Equal(from, found);
        Assert.InRange(share, band.Low, band.High);
        Assert.True(band.Low * band.High > 0, $"{band.Low} to {band.High} might be no change");
        Assert.True(factor > 3);
    }

    [Fact]
    public void TwoChanges_OnQuietDays_AreBothFound()
    {
        IReadOnlyList<(int From, Band Share, double LogFactor)> found = SeasonChanges.Find(Prediction, Parts(27, s => s >= 18 ? 0 : s >= 9 ? 0.08 : 0));
        Assert.Equal([9, 18], found.Select(f => f.From));
        Assert.InRange(0.08, found[0].Share.Low, found[0].Share.High);
        Assert.InRange(-0.08, found[1].Share.Low, found[1].Share.High);
    }

    [Fact]
    public void TwoChangesTheSameWay_OnQuietDays_AreBothFound()
    {
        IReadOnlyList<(int From, Band Share, double LogFactor)> found = SeasonChanges.Find(Prediction, Parts(30, s => s >= 22 ? 0.14 : s >= 8 ? 0.07 : 0));
        Assert.Equal([8, 22], found.Select(f => f.From));
        Assert.All(found, f => Assert.InRange(0.07, f.Share.Low, f.Share.High));
    }

    [Fact]
    public void FortyDaysOfUsualScatter_WithoutAChange_SeldomRaiseAnAlarm()
    {
        const int seasons = 40;
        int alarms = 0;
        for (int season = 0; season < seasons; season++)
        {
            alarms += SeasonChanges.Find(Prediction, Parts(40, _ => 0, scatter: 1, seed: 1_000 * (season + 1))).Count > 0 ? 1 : 0;
        }
        output.WriteLine($"false alarms: {alarms} of {seasons} seasons of 40 sessions");
        Assert.True(alarms <= 1, $"{alarms} of {seasons} seasons raised a false alarm");
    }

    [Fact]
    public void RealChange_AmongFortyDaysOfUsualScatter_IsMostlyFound()
    {
        // Beside the test above: one that never says anything would pass that alone.
        const int seasons = 10;
        int found = 0;
        for (int season = 0; season < seasons; season++)
        {
            found += SeasonChanges.Find(Prediction, Parts(40, s => s >= 20 ? 0.10 : 0, scatter: 1, seed: 1_000 * (season + 1))).Any(c => Math.Abs(c.From - 20) <= 4) ? 1 : 0;
        }
        output.WriteLine($"a change of 10 % found within four days: {found} of {seasons} seasons of 40 sessions");
        Assert.True(found >= 7, $"{found} of {seasons} changes were found");
    }

    [Fact]
    public void Change_WithSessionsAddedInAnotherOrder_IsFoundByTheirDays()
    {
        SeasonSession[] sessions = [.. Enumerable.Range(0, 16).Select(s => Day(s, s >= 8 ? 0.08 : 0, 0, 0).Session("id-" + (s * 7 % 16)))];
        new System.Random(3).Shuffle(sessions);
        SeasonModel model = SeasonModel.Tune(Airframe, sessions, 1);
        SeasonChange change = Assert.Single(model.Changes);
        Assert.Equal(MadeUpDay.Day(8), change.Since);
        Assert.Equal("id-8", change.SessionId); // 8 · 7 mod 16
        Assert.InRange(0.08, change.Share.Low, change.Share.High);
    }

    [Fact]
    public void DragAfterAChange_IsThatOfTheModelAsItIsNow()
    {
        SeasonModel changed = SeasonModel.Tune(Airframe, [.. Enumerable.Range(0, 24).Select(s => Day(s, s >= 12 ? 0.08 : 0, 0, 0).Session("s" + s))], 1);
        SeasonModel always = SeasonModel.Tune(Airframe, [.. Enumerable.Range(0, 24).Select(s => Day(s, 0.08, 0, 0).Session("s" + s))], 1);
        Assert.Single(changed.Changes);
        Assert.Empty(always.Changes);
        foreach (double v in new[] { 6.0, 7, 8.5, 10 })
        {
            Assert.Equal(1, TunedSink.At(changed.Drag, Prediction, v, 0.248, 0).Mps / TunedSink.At(always.Drag, Prediction, v, 0.248, 0).Mps, 0.015);
        }
    }

    private static DragPool.Part[] Parts(int count, Func<int, double> share, double scatter = 0, int seed = 0) =>
        [.. Enumerable.Range(0, count).Select(s => DragPool.Of(Day(s, share(s), scatter, seed + s).Evidence(), Prediction)!)];

    private static MadeUpDay Day(int number, double share, double scatter, int seed) => new()
    {
        Airframe = Airframe,
        DragAreaM2 = MadeUpDay.Drag(Airframe, share),
        BallastsG = number % 3 == 0 ? [0] : [0, 60],
        Scatter = scatter,
        LiftMps = scatter > 0 ? 1.5 : 0,
        AirspeedSpreadMps = scatter > 0 ? 0.2 : 0.05,
        Noise = scatter > 0 ? 0.05 : 0.02,
        WindMps = scatter > 0 ? 1 + number % 5 : 0,
        Seed = seed,
        Date = MadeUpDay.Day(number),
    };
}

using CsCheck;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;

namespace ThermalTrace.Tests.Learning;

public sealed class TuningHistoryTests
{
    private static readonly Airframe Airframe = AdviceModels.Tansy;

    [Fact]
    public void LastPoint_IsTheModelInUse()
    {
        SeasonSession[] sessions = Season(8, s => s >= 4 ? 0.08 : 0);
        SeasonModel model = SeasonModel.Tune(Airframe, sessions, 1);
        TuningHistory history = TuningHistory.Of(Airframe, sessions, null, 1, CancellationToken.None);
        Assert.Equal(model.Drag.Mean[0], history.Points[^1].ParasiteDrag.Value);
        Assert.Equal(model.Changes, history.Changes);
        Assert.Equal((8, sessions[^1].Id), (history.Points[^1].Sessions, history.Points[^1].Last!.Id));
    }

    [Fact]
    public void EveryPoint_IsTheLastOneOfASeasonThatEndedThere()
    {
        SeasonSession[] sessions = Season(6, s => 0.02 * s);
        TuningHistory whole = TuningHistory.Of(Airframe, sessions, 30, 1, CancellationToken.None);
        for (int count = 0; count <= sessions.Length; count++)
        {
            Assert.Equal(Figures(TuningHistory.Of(Airframe, [.. sessions.Take(count)], 30, 1, CancellationToken.None).Points[^1]), Figures(whole.Points[count]));
        }
    }

    [Fact]
    public void Sessions_InAnyOrder_GiveTheSameHistory()
    {
        SeasonSession[] sessions = Season(6, _ => 0);
        string expected = TuningPictures.Write(SeasonHistory.Run(Airframe, sessions));
        Gen.Shuffle(sessions).Sample(shuffled => TuningPictures.Write(SeasonHistory.Run(Airframe, shuffled)) == expected, iter: 5, threads: 1);
    }

    [Fact]
    public void Sessions_NarrowWhatIsKnown_TowardsTheTruth()
    {
        SeasonHistoryDocument history = SeasonHistory.Run(Airframe, Season(10, _ => 0.2));
        TuningPointEntry before = history.Points[0], after = history.Points[^1];
        Assert.InRange(0.2, after.SinkShare.Low!.Value, after.SinkShare.High!.Value);
        Assert.True(after.SinkShare.Low > 0, "twenty per cent more drag is seen");
        Assert.True(Width(after.BestGlide) < 0.7 * Width(before.BestGlide), $"{Width(before.BestGlide)} to {Width(after.BestGlide)}");
        Assert.True(after.BestGlide.Value < before.BestGlide.Value);
    }

    [Fact]
    public void SinkShare_OfGeometryAlone_IsNone() => Assert.Equal(0, SeasonHistory.Run(Airframe, []).Points[0].SinkShare.Value!.Value, 9);

    [Fact]
    public void Ballast_LeftOut_IsTheOneFlownInMostSessions()
    {
        SeasonSession[] sessions = [.. Enumerable.Range(0, 3).Select(s => (Day(s, 0) with { BallastsG = s == 0 ? [0, 90] : [0, 60, 90] }).Session($"s{s}"))];
        Assert.Equal(0, SeasonHistory.Run(Airframe, sessions).BallastG);
        Assert.Equal(60, SeasonHistory.Run(Airframe, [.. sessions.Skip(1).Select((s, i) => new SeasonSession(s.Id, (Day(i + 1, 0) with { BallastsG = [60] }).Evidence()))]).BallastG);
    }

    [Fact]
    public void Session_WithoutAirspeed_IsCountedAndNotDrawn()
    {
        SeasonSession[] sessions = Season(3, _ => 0);
        sessions[1] = sessions[1] with { Evidence = sessions[1].Evidence with { Information = [], Score = [], Terms = [], PriorMean = [], PriorSd = [], BallastsG = [], Rows = 0, Basis = sessions[1].Evidence.Basis } };
        SeasonHistoryDocument history = SeasonHistory.Run(Airframe, sessions);
        Assert.Equal((3, 1), (history.Points.Count, history.SessionsWithoutDrag));
        Assert.Contains("1 session without airspeed tells nothing of drag", TuningPictures.Write(history), StringComparison.Ordinal);
    }

    [Fact]
    public void ManySessions_AreToldAtAsManyPointsAsAPictureShows_TheLastIncluded()
    {
        SeasonHistoryDocument history = SeasonHistory.Run(Airframe, Season(130, _ => 0));
        Assert.Equal(61, history.Points.Count);
        Assert.Equal(130, history.Points[^1].Sessions);
        Assert.Equal(history.Points.Count, history.Points.Select(p => p.Sessions).Distinct().Count());
    }

    [Fact]
    public void Cancelled_ItStops()
    {
        using CancellationTokenSource cancel = new();
        cancel.Cancel();
        Assert.Throws<OperationCanceledException>(() => SeasonHistory.Run(Airframe, Season(2, _ => 0), cancel: cancel.Token));
    }

    internal static SeasonSession[] Season(int days, Func<int, double> more) => [.. Enumerable.Range(0, days).Select(s => Day(s, more(s)).Session($"s{s:000}"))];

    private static MadeUpDay Day(int number, double more) => new() { Airframe = Airframe, DragAreaM2 = MadeUpDay.Drag(Airframe, more), Date = MadeUpDay.Day(number), Noise = 0.02 };

    private static double[] Figures(TuningPoint p) => [p.Sessions, p.BestGlide.Value, p.BestGlide.Low, p.BestGlide.High, p.LeastSinkMps.Value, p.LeastSinkMps.Low, p.SinkShare.Value, p.InducedDrag.High];

    private static double Width(Interval interval) => interval.High!.Value - interval.Low!.Value;
}

using MathNet.Numerics.Distributions;
using ThermalTrace.Calibration;

namespace ThermalTrace.Tests.Calibration;

/// <summary>The arithmetic of the calibration program's tables, on results made by hand.</summary>
public class CalibrationTablesTests
{
    [Theory]
    [InlineData(100, 0.1, 5, 16)] // tables of the binomial: P(X ≤ 4) = 0.0237, P(X ≤ 5) = 0.0576, P(X ≥ 16) = 0.0399, P(X ≥ 17) = 0.0206
    [InlineData(20, 0.5, 6, 14)]  // P(X ≤ 5) = 0.0207, P(X ≤ 6) = 0.0577
    public void BinomialRange_LeavesAtMostOneInFortyOnEitherSide(int trials, double chance, int low, int high) =>
        Assert.Equal((low, high), Figures.BinomialRange(trials, chance));

    [Fact]
    public void BinomialError_OfNoneInTen_IsNotNothing()
    {
        // Agresti and Coull 1998: (0 + 2)/(10 + 4) = 1/7, sqrt(1/7 · 6/7 / 14).
        Assert.Equal(Math.Sqrt(6.0 / 49 / 14), Figures.BinomialError(new double[10]), 12);
    }

    [Fact]
    public void Rank_IsTheShareOfDrawsBelow_TiesCountedHalf()
    {
        Assert.Equal(0.5, Ranks.Share([1, 2, 3, 4], 2.5));
        Assert.Equal(0.375, Ranks.Share([1, 2, 3, 4], 2));
        Assert.Equal(1.0, Ranks.Share([1, 2, double.NaN], 5));
        Assert.True(double.IsNaN(Ranks.Share([], 1)));
        Assert.True(double.IsNaN(Ranks.Share([1, 2], double.NaN)));
    }

    [Fact]
    public void Ranks_OfAPosteriorThatIsRight_AreFlat_AndOfOneTooNarrowAreNot()
    {
        const int sessions = 2000, draws = 200;
        System.Random random = new(11);
        // Truth from N(0,1), one measurement with error 1: the posterior is N(y/2, 1/2).
        int[] Histogram(double widening) => RankHistogram.Counts(Enumerable.Range(0, sessions).Select(_ =>
        {
            double truth = Normal.Sample(random, 0, 1), seen = truth + Normal.Sample(random, 0, 1);
            return Ranks.Share(Enumerable.Range(0, draws).Select(_ => seen / 2 + widening * Math.Sqrt(0.5) * Normal.Sample(random, 0, 1)), truth);
        }));
        (int low, int high) = Figures.BinomialRange(sessions, 1.0 / RankHistogram.Bins);
        int[] right = Histogram(1), narrow = Histogram(0.5);
        Assert.True(right.Count(c => c < low || c > high) <= 2, string.Join(' ', right));
        Assert.True(narrow[0] > high && narrow[^1] > high, string.Join(' ', narrow));
        Assert.Equal(sessions, right.Sum());
    }

    [Fact]
    public void MoreFlights_FindTheFloorThatWasPutIn()
    {
        double[] errors = [.. MoreFlights.Times.Select(t => Math.Sqrt(0.01 * 0.01 + 0.03 * 0.03 / t))];
        (double floor, double above) = MoreFlights.Fit(errors);
        Assert.Equal(0.01, floor, 9);
        Assert.Equal(0.03, above, 9);
        Assert.Equal(Math.Sqrt(0.5), MoreFlights.Left(errors, floor), 9);
    }

    [Fact]
    public void MoreFlights_WithoutAFloor_FindNone()
    {
        (double floor, double above) = MoreFlights.Fit([0.04, 0.02, 0.01]);
        Assert.Equal(0, floor);
        Assert.InRange(above, 0.01, 0.05);
    }

    [Fact]
    public void Reliability_CountsOptionsInTheFifthTheirProbabilityLiesIn()
    {
        SessionResult[] results = [.. Enumerable.Range(0, 10).Select(i => With(i < 9 ? [1, 0] : [0, 1], [0.9, 0.1]))];
        IReadOnlyList<Reliability.Fifth> fifths = Reliability.Of(results);
        Assert.Equal([10, 0, 0, 0, 10], fifths.Select(f => f.Options));
        Assert.Equal(0.1, fifths[0].Seen, 12);
        Assert.Equal(0.9, fifths[^1].Seen, 12);
        Assert.All(fifths, f => Assert.True(f.Holds));
        Assert.False(Reliability.Of([.. Enumerable.Range(0, 40).Select(_ => With([0, 1], [0.9, 0.1]))])[^1].Holds);
    }

    [Fact]
    public void Brier_OfTwoOptions_IsTwiceTheSquaredError()
    {
        Score score = With([1, 0], [0.7, 0.3]).Score;
        Assert.Equal(2 * 0.3 * 0.3, score.Brier, 12);
        Assert.Equal(0.5, score.BrierEven, 12);
    }

    [Fact]
    public void Tables_SayEveryGoalAndEveryKind()
    {
        (string, IReadOnlyList<SessionResult>)[] kinds = [("made up", [With([1, 0], [0.9, 0.1]), With([1, 0], [0.8, 0.2])])];
        string text = Goals.Write(kinds) + KindTables.Write(kinds) + RankHistogram.Write(kinds);
        Assert.Contains("| sink error over the bound, median over kinds | ≤ 1.5 | 2.00 | no |", text, StringComparison.Ordinal);
        Assert.Contains("| made up | 2 | 0.0200 ± 0.0000 | 0.0100 ± 0.0000 | 2.00 |", text, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
    }

    /// <summary>A result in which nothing but what is given is remarkable.</summary>
    private static SessionResult With(double[] best, double[] said) => new("made up", 1, 8, new Score
    {
        PolarErrorMps = 0.02,
        PolarBiasMps = 0.01,
        PolarCoverage = 1,
        PolarWidthMps = 0.08,
        PredictedErrorMps = 0.05,
        SpeedSpan = 1,
        PolarsLost = 0,
        MinSinkErrors = [],
        MinSinkInside = [1],
        BestGlideErrors = [0.01],
        BestGlideInside = [1],
        Kinds = 0.99,
        ClimbHits = 100,
        ClimbMisses = 1,
        ClimbFalse = 1,
        FlightsOver = 0,
        FlightsLost = 0,
        WindErrorsMps = [0.1],
        WindPulls = [1],
        LaunchHeightErrorsM = [0.5],
        EdrLogErrors = [0.1],
        EdrInside = [1],
        LossMps = 0,
        PlainRuleLossMps = 0.02,
        TrueMarginMps = 0.03,
        Verdict = "clear",
        ProbabilitiesBest = said,
        TrulyBest = best,
        RoundTripErrorsMps = [0.01, -0.01],
        RoundTripInside = [1, 1],
    }, new Bound { PolarErrorMps = 0.01, PolarBiasMps = 0, PolarCoverage = 0.9, LossMps = 0 },
        new Ranks { SinkAtLeast = 0.3, SinkAtMiddle = 0.5, SinkAtFast = double.NaN, RoundTrip = 0.7 });
}

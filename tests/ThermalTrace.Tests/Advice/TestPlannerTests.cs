using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Reports.Plan;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.EndToEnd;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Advice;

public sealed class TestPlannerTests
{
    private static readonly Airframe Tansy = new()
    {
        Name = "Tansy 150",
        WingSpanMm = 1500,
        WingAreaDm2 = 21.3,
        UnballastedMassG = 248,
        MaxFlyingMassG = 420,
        Launch = LaunchKind.Discus,
        BallastOptionsG = [0, 35, 70],
    };

    private static readonly PlanAsked Windy = new() { WindMps = new AskedRange(4, 6), LiftMps = new AskedRange(1.5, 1.5), Edr = new AskedRange(0.1, 0.1) };

    private static readonly Lazy<(TestPlanner Planner, TestPlan Plan)> Planned = new(() =>
    {
        SeasonModel model = SeasonModel.Tune(Tansy, [], 1);
        return (new TestPlanner(model, Windy), TestPlanner.Plan(model, Windy));
    });

    private static TestPlan Plan => Planned.Value.Plan;

    [Fact]
    public void Plan_FliesEveryBallastAsOftenThereAsBack()
    {
        int[] order = [.. Plan.Flights.Select(f => f.Option)];
        Assert.Equal(order, order.Reverse());
        Assert.InRange(order.Length, 4, 12);
    }

    [Fact]
    public void Plan_TellsAtLeastAsMuchAsPlainRules()
    {
        Assert.Equal(5, Plan.Compared.Count);
        Assert.All(Plan.Compared.Skip(2), plain => Assert.True(Plan.Compared[0].LossMps <= plain.LossMps + 1e-6, $"{plain.Name}: {plain.LossMps} against {Plan.Compared[0].LossMps}"));
    }

    [Fact]
    public void CalmAir_NarrowsMoreThanTheUsual() => Assert.True(Plan.Compared[1].Lead.DragMps < Plan.Compared[0].Lead.DragMps);

    [Fact]
    public void MoreFlights_NarrowMore() =>
        Assert.All(Plan.Growth.Zip(Plan.Growth.Skip(1)), step => Assert.True(step.Second.Lead.DragMps < step.First.Lead.DragMps && step.Second.LossMps <= step.First.LossMps + 1e-9));

    [Fact]
    public void WhatGlidesCannotSettle_StaysAsItIs() =>
        Assert.All(Plan.Outlooks, o => Assert.True(o.Now.RestMps > 0 && o.After.RestMps == o.Now.RestMps && o.After.DragMps < o.Now.DragMps));

    [Fact]
    public void Cards_NeedNoMoreHeightThanTheLaunchGives_AndNoLegLeavesSight() =>
        Assert.All(Planned.Value.Planner.Search.Choices.SelectMany(c => c), choice =>
        {
            Assert.InRange(choice.Card.Pairs.Sum(p => p.HeightM), 0, Plan.LaunchHeightM);
            Assert.All(choice.Card.Pairs, p => Assert.InRange(p.AirspeedMps * p.SecondsEach, 1, 150 * Tansy.WingSpanM));
        });

    // Twenty times the glides of a day are twenty times one day's luck of dew, instruments and wind.
    [Fact]
    public void ManyFlightsOnOneDay_TellLessThanAsManyOnManyDays()
    {
        PlanSearch search = Planned.Value.Planner.Search;
        FlightChoice[] flights = [.. search.Choices.SelectMany(c => Enumerable.Repeat(c[0], 6))];
        double Left(IReadOnlyList<FlightChoice>[] days) => search.After(days).Trace();
        double few = Left([flights]), many = Left([[.. Enumerable.Repeat(flights, 20).SelectMany(f => f)]]), days = Left([.. Enumerable.Repeat(flights, 20)]);
        Assert.True(days < many && many < few, $"{days}, {many}, {few}");
    }

    // What all flights of a day have in common cannot be told from drag with one ballast alone; from their difference it falls out.
    [Fact]
    public void ADepartureOfOneBallast_IsToldByFlyingBothOnOneDay_AndHardlyByFlyingItAlone()
    {
        PlanSearch search = Planned.Value.Planner.Search;
        PlannedInformation known = search.Known;
        double Difference(IReadOnlyList<FlightChoice>[] days)
        {
            Matrix<double> covariance = known.Root * search.After(days) * known.Root.Transpose();
            int a = TunedDrag.Airframe;
            return covariance[a, a] + covariance[a + 1, a + 1] - 2 * covariance[a, a + 1];
        }
        FlightChoice[] Times(int option, int count) => [.. Enumerable.Repeat(search.Choices[option][0], count)];
        double now = Difference([]), alone = Difference([Times(0, 40)]), both = Difference([[.. Times(0, 20), .. Times(1, 20)]]);
        Assert.True(now - both > 1.5 * (now - alone), $"{now}, alone {alone}, both {both}");
    }

    [Fact]
    public void Search_OfTwoCouples_IsAsGoodAsTryingAll()
    {
        PlanSearch all = Planned.Value.Planner.Search;
        PlanSearch search = all with { Choices = [.. all.Choices.Select(c => c.Take(6).ToArray())] };
        IReadOnlyList<FlightChoice>[] found = search.Exchange(search.Grow(2, 1, CancellationToken.None)[1], CancellationToken.None);
        IEnumerable<FlightChoice[]> Couples(int option) => search.Choices[option].SelectMany(a => search.Choices[option].Select(b => new[] { a, b }))
            .Where(c => c.SelectMany(f => f.Card.Pairs.Select(p => p.AirspeedMps)).Distinct().Count() > 1);
        double best = Couples(search.Always[0]).SelectMany(a => Couples(search.Always[1]).Select(b => search.Worth(search.After([[.. a, .. b]])))).Max();
        Assert.True(search.Worth(search.After(found)) >= 0.99 * best);
    }

    [Fact]
    public void Options_AboveTheLimitOfMass_AreNeverFlown()
    {
        SeasonModel model = SeasonModel.Tune(Tansy with { MaxFlyingMassG = 300 }, [], 1);
        TestPlan plan = TestPlanner.Plan(model, Windy with { Flights = 4 });
        Assert.Equal([0, 35], plan.Options.Select(o => o.BallastG));
        Assert.Contains(plan.Cautions, c => c.StartsWith("70 g", StringComparison.Ordinal));
    }

    [Fact]
    public void Options_OutsideTheLimitsOfBalance_AreNeverFlown()
    {
        SeasonModel model = SeasonModel.Tune(Tansy with { CgMm = 70, CgLimitsMm = (66, 74), BallastTube = new BallastTube(10, 0, 50) }, [], 1);
        TestPlan plan = TestPlanner.Plan(model, Windy with { Flights = 4 });
        Assert.Equal([0, 35], plan.Options.Select(o => o.BallastG));
        Assert.Contains(plan.Cautions, c => c.Contains("centre of gravity", StringComparison.Ordinal));
    }

    [Fact]
    public void OneBallast_IsNothingToDecide() =>
        Assert.Contains("ballast_options_g", Assert.Throws<UnusableInputException>(() => TestPlanner.Plan(SeasonModel.Tune(Tansy with { BallastOptionsG = [0] }, [], 1), Windy)).Message, StringComparison.Ordinal);

    [Fact]
    public void AWindBeyondTheModel_IsSaid() =>
        Assert.Contains("faster than this model", Assert.Throws<UnusableInputException>(() => TestPlanner.Plan(SeasonModel.Tune(Tansy, [], 1), Windy with { WindMps = new AskedRange(35, 35) })).Message, StringComparison.Ordinal);

    [Fact]
    public void ManyFlights_AreSpreadOverDays()
    {
        TestPlan plan = TestPlanner.Plan(SeasonModel.Tune(Tansy with { BallastOptionsG = [0, 70] }, [], 1), Windy with { Flights = 24 });
        Assert.Equal([12, 12], plan.Flights.GroupBy(f => f.Session).Select(g => g.Count()));
    }

    [Fact]
    public void ASession_SaysWhatAGlideIsWorth()
    {
        GlideWorth none = GlideWorth.Of([], Predicted, Mean), one = GlideWorth.Of([new SeasonSession("1", ShortSession.Document.Evidence)], Predicted, Mean);
        Assert.Equal((1, 0), (none.Factor, none.Sessions));
        Assert.Equal(1, one.Sessions);
        Assert.InRange(one.Factor, 0.1, 10);
        Assert.True(one.Widening >= 1);
    }

    // Both sides of every condition: open, something to lose, and the flights save a tenth of it.
    [Theory]
    [InlineData("leaning", 0.004, 0.003, true)]
    [InlineData("leaning", 0.004, 0.0038, false)]
    [InlineData("leaning", 0.0019, 0, false)]
    [InlineData("clear", 0.004, 0.003, false)]
    [InlineData("no_difference", 0.004, 0.003, false)]
    public void Flights_PayWhereAChoiceIsOpenAndTheySaveAFairPart(string verdict, double lossNowMps, double lossAfterMps, bool expected)
    {
        DecisionOutlook outlook = Plan.Outlooks[0] with { Verdict = verdict, LossNowMps = lossNowMps, LossAfterMps = lossAfterMps };
        Assert.Equal(expected, PlanEntries.Pays(outlook));
        PlanDocument document = PlanEntries.Of(SeasonModel.Tune(Tansy, [], 1), With(Plan, [outlook], Plan.Worth), Windy);
        Assert.Equal(expected, document.WorthFlying);
        Assert.Equal(expected, !PlanSentences.Headline(document).StartsWith("If you fly test glides all the same", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(1, "as on the one past day that tells how much a glide is worth")]
    [InlineData(3, "as on the 3 past days that tell how much a glide is worth")]
    public void PastDays_AreCounted(int days, string expected) =>
        Assert.Contains(expected, PlanSentences.Assumptions(With(Plan, Plan.Outlooks, Plan.Worth with { Sessions = days }), SeasonModel.Tune(Tansy, [], 1))[0], StringComparison.Ordinal);

    private static TestPlan With(TestPlan plan, IReadOnlyList<DecisionOutlook> outlooks, GlideWorth worth) => plan with { Outlooks = outlooks, Worth = worth };

    private static Prediction Predicted => Prediction.For(ShortSession.Session.Airframe);

    private static Vector<double> Mean => SeasonModel.Tune(ShortSession.Session.Airframe, [], 1).Drag.Mean;
}

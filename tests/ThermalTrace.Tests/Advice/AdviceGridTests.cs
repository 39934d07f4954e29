using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Reports.Card;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Reports.Card;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Advice;

public sealed class AdviceGridTests
{
    private const int Draws = 120, Seed = 5;

    private static readonly Airframe Airframe = ExampleCard.Airframe;

    [Fact]
    public void Cell_IsTheComparisonOfItsDraws()
    {
        SeasonModel model = SeasonModel.Tune(Airframe, [], Seed);
        IReadOnlyList<Option> options = CardOptions.Of(model).Options;
        GridNodes nodes = new([0, 3, 6], [0.6, 2], [0.05, 0.3]);

        AdviceGrid grid = AdviceGrid.Compute(model, options, nodes, Seed, Draws);

        (CurveMaker maker, double[][] coefficients) = model.Curves(options, Seed, Draws);
        DrawnOptions drawn = new(options, Airframe.UnballastedMassG / 1000, maker, coefficients, Draws);
        double height = AskedAir.ClimbHeightM(model);
        HashSet<string> verdicts = [];
        for (int w = 0; w < 3; w++)
        {
            for (int l = 0; l < 2; l++)
            {
                for (int e = 0; e < 2; e++)
                {
                    double[][] trips = [.. Enumerable.Range(0, options.Count).Select(k => Enumerable.Range(0, Draws).Select(d =>
                        RoundTrip.For(drawn.Level(k, d), drawn.Climb(k, d, model.Habits[d * model.Habits.Count / Draws].At(height, nodes.Edrs[e], 0)).At(nodes.LiftsMps[l]).ClimbMps, nodes.WindsMps[w], 0)!.ClimbMps).ToArray())];
                    double[] felt = new double[Draws];
                    Array.Fill(felt, Comparison.FeltMps);
                    (int best, string verdict, double certainty, _, double?[] shares) = Comparison.Judge(trips, felt, [.. options.Select(_ => true)]);
                    int cell = nodes.Cell(w, l, e);
                    Assert.Equal((best, verdict), (grid.Best[cell], grid.Verdict[cell]));
                    Assert.Equal(certainty, grid.Options[best].ProbabilityAsGood[cell], 0.00051);
                    Assert.All(Enumerable.Range(0, options.Count), k => Assert.Equal(shares[k]!.Value, grid.Options[k].ProbabilityBest[cell], 0.00051));
                    Assert.All(Enumerable.Range(0, options.Count), k => Assert.Equal(trips[k].Average(), grid.Options[k].RoundTripMps[cell].Value, 0.00006));
                    Assert.All(grid.Differences, d => Assert.Equal(Band.Of(trips[d.Option].Zip(trips[d.Than], (a, b) => a - b)).Low, d.Mps[cell].Low, 0.00006));
                    verdicts.Add(verdict);
                }
            }
        }
        Assert.True(verdicts.Count > 1, "all cells came out alike, so little was tried");
    }

    [Fact]
    public void BetweenItsPoints_StraightLinesTellTheOptionsApartToHalfOfWhatIsFelt()
    {
        SeasonModel model = SeasonModel.Tune(Airframe, [], Seed);
        IReadOnlyList<Option> options = CardOptions.Of(model).Options;
        GridNodes nodes = GridNodes.Card;
        static double[] Middles(IReadOnlyList<double> axis) => [.. axis.Zip(axis.Skip(1), (a, b) => (a + b) / 2)];
        GridNodes between = new(Middles(nodes.WindsMps), Middles(nodes.LiftsMps), Middles(nodes.Edrs));

        AdviceGrid grid = AdviceGrid.Compute(model, options, nodes, Seed, Draws), truth = AdviceGrid.Compute(model, options, between, Seed, Draws);

        double worst = 0, loss = 0;
        foreach ((int w, int l, int e) in from w in Enumerable.Range(0, between.WindsMps.Count) from l in Enumerable.Range(0, between.LiftsMps.Count) from e in Enumerable.Range(0, between.Edrs.Count) select (w, l, e))
        {
            int cell = between.Cell(w, l, e);
            double[] lines = [.. grid.Options.Select(o => (from a in new[] { w, w + 1 } from b in new[] { l, l + 1 } from c in new[] { e, e + 1 } select o.RoundTripMps[nodes.Cell(a, b, c)].Value).Average())];
            double[] direct = [.. truth.Options.Select(o => o.RoundTripMps[cell].Value)];
            worst = Math.Max(worst, Enumerable.Range(1, options.Count - 1).Max(k => Math.Abs(lines[k] - lines[0] - direct[k] + direct[0])));
            loss = Math.Max(loss, direct.Max() - direct[Array.IndexOf(lines, lines.Max())]);
        }
        Assert.InRange(worst, 0, 0.005);
        Assert.InRange(loss, 0, 0.005); // by choosing on the lines
    }

    [Fact]
    public void Document_IsTheSameAgain()
    {
        CardDocument again = FieldCard.Run(Season.Tune(Airframe, []), new FieldCardOptions { Made = "2026-06-14" });
        Assert.Equal(ExampleCard.Page, ExampleCard.Write(again));
    }

    [Fact]
    public void AboveTheLimitOfMass_NothingIsOnTheCard()
    {
        CardDocument card = ExampleCard.Document;
        Assert.Equal([0, 30, 60, 90], card.Options.Select(o => o.BallastG));
        Assert.Contains(card.Cautions, c => c.Contains("120 g", StringComparison.Ordinal));
    }

    [Fact]
    public void LimitBelowTheEmptyModel_IsRefusedInWords()
    {
        UnusableInputException refusal = Assert.Throws<UnusableInputException>(() => FieldCard.Run(Season.Tune(Airframe with { MaxFlyingMassG = 250 }, []), new FieldCardOptions()));
        Assert.Contains("max_flying_mass_g", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void WithoutOptions_TheEmptyModelIsTheOneChoice()
    {
        CardDocument card = FieldCard.Run(Season.Tune(Airframe with { BallastOptionsG = [] }, []), new FieldCardOptions());
        Assert.Equal(0, Assert.Single(card.Options).BallastG);
        Assert.All(card.Grid.Verdict, v => Assert.Equal("unknown", v));
    }

    [Fact]
    public void CalmAirInWeakLift_WantsTheLightest_AndStrongWindTheHeaviest()
    {
        CardGrid grid = ExampleCard.Document.Grid;
        Assert.Equal(0, grid.BestBallastG[ExampleCard.Cell(grid, 0, 0.75, 0.03)]);
        Assert.Equal(90, grid.BestBallastG[ExampleCard.Cell(grid, 10, 1.5, 0.16)]);
    }

    [Fact]
    public void WindBeyondTheFastestSpeed_IsNotKnownForThatBallast()
    {
        // 4.2 kg/m² empty: the fastest speed of the polar is about 7.5 m/s; with 200 g more it is above 12.
        CardDocument card = FieldCard.Run(Season.Tune(Airframe with { UnballastedMassG = 94, BallastOptionsG = [0, 200] }, []), new FieldCardOptions());
        CardGrid grid = card.Grid;
        int strong = ExampleCard.Cell(grid, 12, 1.5, 0.08), light = ExampleCard.Cell(grid, 4, 1.5, 0.08);
        Assert.Null(grid.Options[0].RoundTripClimbMps[strong]);
        Assert.NotNull(grid.Options[0].RoundTripClimbMps[light]);
        Assert.Equal(200, grid.BestBallastG[strong]);
        Assert.Equal("clear", grid.Verdict[strong]);
        Assert.False(grid.HardlyMatters[strong]);
    }

    [Fact]
    public void Season_IsSaidToBeBehindTheCard()
    {
        SessionEvidence evidence = EndToEnd.ShortSession.Document.Evidence;
        Airframe airframe = EndToEnd.ShortSession.Session.Airframe;
        CardDocument card = FieldCard.Run(Season.Tune(airframe, [new SeasonSession("one", evidence)]), new FieldCardOptions());
        Assert.Equal(("tuned", 1, 4), (card.Model.Kind, card.Model.Sessions, card.Model.Flights));
        Assert.Equal(["measured", "measured"], card.Options.Where(o => o.BallastG is 0 or 70).Select(o => o.Support));
        Assert.All(card.Options.Where(o => o.BallastG is 0 or 70), o => Assert.InRange(o.FlownWindMps[0], 1, o.FlownWindMps[1]));
        Assert.DoesNotContain(card.Limits, l => l.Contains("No session", StringComparison.Ordinal));
    }
}

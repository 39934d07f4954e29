using ThermalTrace.Advice;
using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Advice;

public sealed class BallastChoicesTests
{
    private static readonly BallastPiece[] Stock =
        [new("brass long", "brass", 20, 8, 46.9, 2), new("brass short", "brass", 10, 8, 23.4, 1), new("lead fat", "lead", 15, 12, 11.7, 4)];

    private static readonly Airframe Airframe = AdviceModels.Tansy with
    {
        BallastOptionsG = [0, 50],
        BallastTube = new BallastTube(10, 120, 60),
        BallastStock = Stock,
    };

    private static BallastChoices Choices(Airframe airframe) => BallastChoices.Of(AdviceModels.Predicted(airframe));

    [Fact]
    public void Between_WhatTheThinPiecesMake_IsAnOption()
    {
        BallastChoices choices = Choices(Airframe);
        Assert.Equal([0, 10, 20, 30, 40, 50], choices.Options.Select(o => o.BallastG));
        Assert.Equal([true, false, false, false, false, true], choices.All.Select(c => c.Listed));
        Assert.True(choices.FitKnown);
    }

    [Fact]
    public void ManyPieces_AreThinnedEvenly()
    {
        BallastChoices choices = Choices(Airframe with { BallastOptionsG = [0, 150], BallastStock = [new("grain", "lead", 1, 5, 0.5, 150)] });
        Assert.InRange(choices.All.Count, 9, 12);
        double[] steps = [.. choices.Options.Zip(choices.Options.Skip(1), (a, b) => b.BallastG - a.BallastG)];
        Assert.True(steps.Max() <= 2.2 * steps.Min(), string.Join(" ", steps));
    }

    [Fact]
    public void ManyDifferentPieces_AreAddedUpInBoundedWork()
    {
        BallastPiece[] stock = [.. Enumerable.Range(0, 40).Select(i => new BallastPiece($"p{i}", "lead", 1.1 + 0.37 * i, 5, 1 + 0.1 * i, 9))];
        Assert.InRange(Choices(Airframe with { BallastStock = stock, BallastOptionsG = [0, 1500], MaxFlyingMassG = 2000, BallastTube = new BallastTube(10, 5000, 60) }).All.Count, 3, 12);
    }

    [Fact]
    public void WithoutALimit_NothingHeavierThanWhatIsListedOrFlown()
    {
        BallastChoices choices = Choices(Airframe with { MaxFlyingMassG = null, BallastOptionsG = [0, 30] });
        Assert.Equal(30, choices.Options[^1].BallastG);
        Assert.Equal([0], Choices(Airframe with { MaxFlyingMassG = null, BallastOptionsG = [] }).Options.Select(o => o.BallastG));
    }

    // --with 500 for 50: a slip of the finger is not a licence.
    [Fact]
    public void WithoutALimit_ABallastNamedToday_IsShownAndNotSuggestedBeyondTheList()
    {
        BallastChoices choices = BallastChoices.Of(AdviceModels.Predicted(Airframe with { MaxFlyingMassG = null, BallastOptionsG = [0, 30], BallastStock = [] }), alsoG: 500);
        Assert.Equal([(0, true), (30, true), (500, false)], choices.Options.Select(o => (o.BallastG, o.Allowed)));
    }

    [Fact]
    public void WithoutAList_ThePiecesAreTheList_UpToTheLimit() =>
        Assert.Equal([0, 10, 20, 30], Choices(Airframe with { MaxFlyingMassG = 280, BallastOptionsG = [] }).Options.Select(o => o.BallastG));

    [Fact]
    public void WithoutATube_PiecesAreAddedUp_AndItIsKnownThatFitIsNot() => Assert.False(Choices(Airframe with { BallastTube = null }).FitKnown);

    // 248 + 60 g; a limit is a limit, to the tenth of a gram.
    [Theory]
    [InlineData(308, true)]
    [InlineData(307.9, false)]
    public void ALimitOfMass_IsKeptToTheTenthOfAGram(double limitG, bool allowed) =>
        Assert.Equal(allowed, Choices(AdviceModels.Tansy with { MaxFlyingMassG = limitG, BallastOptionsG = [0, 60] }).All[^1].Option.Allowed);

    // 260 g at 72 mm and 60 g at 66 mm balance at 70.875 mm (constructed).
    [Fact]
    public void Balance_WithinTheLimits_IsThatOfTheMoments()
    {
        Airframe airframe = AdviceModels.Tansy with { UnballastedMassG = 260, CgMm = 72, BallastTube = new BallastTube(10, 60, 66), CgLimitsMm = (70.875, 73) };
        Assert.True(MassBalance.CanBalance(airframe, 60, 60));
        Assert.False(MassBalance.CanBalance(airframe with { CgLimitsMm = (70.88, 73) }, 60, 60));
        // A shorter stack slides aft, and then it does.
        Assert.True(MassBalance.CanBalance(airframe with { CgLimitsMm = (70.88, 73) }, 60, 40));
        Assert.False(MassBalance.CanBalance(airframe with { CgLimitsMm = (60, 68.9) }, 60, 40));
    }

    [Fact]
    public void OutOfBalance_IsShownAndNeverSuggested()
    {
        BallastChoices choices = Choices(Airframe with { CgMm = 70, CgLimitsMm = (69, 71), BallastTube = new BallastTube(10, 120, 20), BallastOptionsG = [0, 50] });
        Assert.True(choices.BalanceKnown);
        Assert.Equal(Refusal.Balance, choices.All[^1].Refusal);
        Assert.False(choices.All[^1].Option.Allowed);
        Assert.True(choices.All[0].Option.Allowed);
    }
}

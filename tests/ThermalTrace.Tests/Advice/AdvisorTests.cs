using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Advice;

public sealed class AdvisorTests
{
    private static readonly SeasonModel Model = AdviceModels.Predicted(AdviceModels.Tansy);

    private static double Best(Advised advised) => advised.Options[advised.Comparison.Best].Choice.Option.BallastG;

    [Theory]
    [InlineData(0.7)]
    [InlineData(1.5)]
    [InlineData(3)]
    public void MoreWind_NeverSuggestsLessBallast(double lift)
    {
        double[] suggested = [.. Enumerable.Range(0, 7).Select(i => Best(AdviceModels.Answer(Model, AdviceModels.Ask(2 * i, lift, 0.1))))];
        Assert.Equal(suggested.Order(), suggested);
        Assert.True(suggested[0] < suggested[^1]);
    }

    [Fact]
    public void ARange_IsTheMeanOfItsPoints()
    {
        Advised range = AdviceModels.Answer(Model, AdviceModels.Ask(0, 0, 0) with { WindMps = new AskedRange(2, 8), LiftMps = new AskedRange(1, 2), Edr = AskedRange.At(0.1) });
        double[] points = [.. from wind in new[] { 3.0, 5, 7 } from lift in new[] { 1 + 1 / 6.0, 1.5, 1 + 5 / 6.0 } select AdviceModels.Answer(Model, AdviceModels.Ask(wind, lift, 0.1)).Options[2].Outcome.RoundTripMps.Value];
        Assert.Equal(points.Average(), range.Options[2].Outcome.RoundTripMps.Value, 0.01);
        // A day that is not one number is less certain than one that is.
        Band one = AdviceModels.Answer(Model, AdviceModels.Ask(5, 1.5, 0.1)).Options[2].Outcome.RoundTripMps, all = range.Options[2].Outcome.RoundTripMps;
        Assert.True(all.High - all.Low > one.High - one.Low);
    }

    [Fact]
    public void AClimbSeen_IsTheClimbOfItsBallast()
    {
        AskedConditions asked = AdviceModels.Ask(4, 0, 0.1) with { LiftMps = null, ClimbMps = AskedRange.At(0.8), ClimbWithG = 40 };
        Advised advised = AdviceModels.Answer(Model, asked);
        Assert.Equal(0.8, advised.Options.Single(o => o.Choice.Option.BallastG == 40).Outcome.ClimbMps.Value, 0.01);
        Assert.True(advised.Options[0].Outcome.ClimbMps.Value > 0.8);
        Assert.True(advised.Options[^1].Outcome.ClimbMps.Value < 0.8);
    }

    [Fact]
    public void AClimbSeen_WithABallastThatIsNotListed_MakesItAnOption()
    {
        AskedConditions asked = AdviceModels.Ask(4, 0, 0.1) with { LiftMps = null, ClimbMps = AskedRange.At(0.8), ClimbWithG = 33 };
        Assert.Contains(AdviceModels.Answer(Model, asked).Options, o => o.Choice.Option is { BallastG: 33, Allowed: true });
    }

    // At the same lift coefficient speeds and sinks grow with 1/√density; 2,000 m: 1.00649 kg/m³ (ISO 2533).
    [Fact]
    public void ThinAir_RaisesSpeedsAndSinksAlike()
    {
        AskedConditions asked = AdviceModels.Ask(0, 0, 0.1) with { FromHeightM = 50 };
        OptionAdvice low = AdviceModels.Answer(Model, asked).Options[0], high = AdviceModels.Answer(Model, asked with { FieldHeightM = 2000 }).Options[0];
        double factor = Math.Sqrt(1.225 / 1.00649);
        Assert.Equal(factor, low.Outcome.StillAirS.Value / high.Outcome.StillAirS.Value, 4);
        Assert.Equal(factor, high.PenetrationMps / low.PenetrationMps, 4);
        Assert.Equal(1, low.ReturnHeightM.Value / high.ReturnHeightM.Value, 4);
    }

    [Fact]
    public void AWarmDay_IsAThinnerOne() => Assert.Equal(101325 / (287.05287 * 303.15), (AdviceModels.Ask(1, 1, 1) with { TemperatureK = 303.15 }).DensityKgM3, 6);

    [Fact]
    public void NoLift_IsAnsweredByTimeInStillAir()
    {
        Advised advised = AdviceModels.Answer(Model, AdviceModels.Ask(3, 0, 0.1) with { FromHeightM = 40 });
        Assert.False(advised.Comparison.RoundTrip);
        Assert.Equal(0, Best(advised));
        Assert.Empty(advised.WindSwitches);
        OptionOutcome bare = advised.Options[0].Outcome;
        Assert.Equal(40, bare.LaunchHeightM.Value, 0.1);
        Assert.True(bare.StillAirS.Value > 0);
    }

    [Fact]
    public void TheSuggestedRange_HoldsWhatIsWithinAHundredth_AndNoMore()
    {
        Advised advised = AdviceModels.Answer(Model, AdviceModels.Ask(4, 1.5, 0.1));
        (double low, double high) = advised.RangeG!.Value;
        double best = advised.Comparison.Outcomes[advised.Comparison.Best].RoundTripMps.Value;
        foreach (OptionAdvice option in advised.Options)
        {
            double ballast = option.Choice.Option.BallastG;
            bool inside = ballast >= low - 0.3 && ballast <= high + 0.3;
            Assert.Equal(option.Outcome.RoundTripMps.Value >= best - 0.01, inside);
        }
    }

    [Fact]
    public void AboveTheMassLimit_NothingIsSuggested_HoweverHardItBlows()
    {
        SeasonModel limited = AdviceModels.Predicted(AdviceModels.Tansy with { MaxFlyingMassG = 290 });
        Advised advised = AdviceModels.Answer(limited, AdviceModels.Ask(10, 2, 0.2));
        Assert.Equal(40, Best(advised));
        Assert.True(advised.RangeG!.Value.HighG <= 40);
        Assert.All(advised.Options.Where(o => o.Choice.Option.BallastG > 42), o => Assert.Equal((Refusal.Mass, (double?)null), (o.Choice.Refusal, o.Outcome.ProbabilityBest)));
        Assert.All(advised.WindSwitches.Concat(advised.LiftSwitches), s => Assert.True(advised.Options[s.To].Choice.Option.Allowed));
    }

    [Fact]
    public void WindBeyondEveryPolar_HasNoAnswer()
    {
        Advised advised = AdviceModels.Answer(Model, AdviceModels.Ask(35, 2, 0.2));
        Assert.Equal((-1, "unknown"), (advised.Comparison.Best, advised.Comparison.Verdict));
        Assert.Null(advised.RangeG);
        Assert.All(advised.Options, o => Assert.False(o.ReturnHeightM.IsKnown));
    }

    [Fact]
    public void TheSameQuestion_IsAnsweredAlike()
    {
        AskedConditions asked = AdviceModels.Ask(4, 1.5, 0.1) with { TimeS = 300, WindHeightM = 2, Edr = null };
        Advised one = AdviceModels.Answer(Model, asked), other = AdviceModels.Answer(Model, asked);
        Assert.Equal(one.Options.Select(o => (o.Outcome.RoundTripMps, o.Chance, o.ReturnHeightM)), other.Options.Select(o => (o.Outcome.RoundTripMps, o.Chance, o.ReturnHeightM)));
    }

    [Fact]
    public void Support_OfABallastFlownInThatAir_IsMeasured()
    {
        SeasonModel season = SeasonModel.Tune(AdviceModels.Tansy with { BallastOptionsG = [0, 35, 70, 90] }, AdviceModels.TwoDays(f => f with { WindMps = 3, Edr = 0.08 }), 1);
        Advised here = AdviceModels.Answer(season, AdviceModels.Ask(3, 1.5, 0.08));
        Assert.Equal(["measured", "interpolated", "measured", "extrapolated"], here.Options.Select(o => o.Rests.Support));
        // Twice the wind, four times the turbulence: nobody has been there.
        Assert.All(AdviceModels.Answer(season, AdviceModels.Ask(9, 1.5, 0.08)).Options, o => Assert.Equal("predicted", o.Rests.Support));
        Assert.All(AdviceModels.Answer(season, AdviceModels.Ask(3, 1.5, 0.35)).Options, o => Assert.Equal("predicted", o.Rests.Support));
    }

    [Fact]
    public void Support_OfABallastFlownOnlyInWind_RestsOnPhysicsInACalm()
    {
        SeasonModel season = SeasonModel.Tune(AdviceModels.Tansy with { BallastOptionsG = [0, 70] },
            AdviceModels.TwoDays(f => f with { WindMps = f.BallastG > 0 ? 8 : 2, Edr = f.BallastG > 0 ? 0.25 : 0.08 }), 1);
        Advised calm = AdviceModels.Answer(season, AdviceModels.Ask(1, 1.5, 0.08));
        Assert.Equal(["measured", "predicted"], calm.Options.Select(o => o.Rests.Support));
        Assert.Equal([false, true], calm.Options.Select(o => o.Rests.FlownInOtherAir));
        Assert.Equal("predicted", calm.Support);
    }
}

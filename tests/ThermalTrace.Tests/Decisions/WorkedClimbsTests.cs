using CsCheck;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Tests.Decisions;

public sealed class WorkedClimbsTests
{
    private const double BareKg = 0.25, HeavyKg = 0.35;

    private static readonly CurveMaker Maker = new(new DragTerms(
        new Prediction(new Planform(0.213, 10.6, 0.142, 7e4), new DragCurve(0.02, 0.3, 0.02, 0.4, 1.1, 0.3), new DragCurve(0.004, 0.1, 0.01, 0.1, 0.1, 0.1)),
        2, 1, 2, 0.1), new Planform(0.213, 10.6, 0.142, 7e4), 1);

    private static readonly double[] Coefficients = Maker.Terms.PriorMean.ToArray();

    [Fact]
    public void Core_InWhichTheBestCirclesGainWhatWasGained_IsFoundAgain() =>
        Gen.Select(Gen.Double[0.6, 6], Gen.Double[8, 40], Gen.Double[0, 0.4], Gen.Double[0, 0.3]).Sample((core, radius, search, gust) =>
        {
            Lift lift = new(radius, search, gust, 0.7, 0);
            WorkedClimbs worked = WorkedClimbs.Of([(Flown(BareKg, 0, core, lift, 40), BareKg, 0), (Flown(HeavyKg, 1, core, lift, 90), HeavyKg, 1)], BareKg, Maker);
            return Math.Abs(worked.CoreMps(Coefficients, lift) - core) < 1e-6 * core;
        });

    [Fact]
    public void Climbs_FallShortOfTheBestCircle_SoTheCoreIsRatherMoreThanTheySay()
    {
        Lift lift = new(16, 0.1, 0.05, 0.7, 0);
        WorkedClimbs worked = WorkedClimbs.Of([.. Enumerable.Range(0, 16).Select(_ => (Flown(BareKg, 0, 2, lift, 50), BareKg, 0))], BareKg, Maker);
        System.Random random = new(3);

        double[] draws = [.. Enumerable.Range(0, 2000).Select(_ => worked.CoreMps(Coefficients, lift with { Shortfall = worked.DrawLift(random, 0.1).Shortfall }) / 2).Order()];

        Assert.InRange(draws[1000], 1.03, 1.1);
        Assert.InRange(draws[1900] / draws[100], 1.2, 1.5);
    }

    [Fact]
    public void ManyClimbs_SayMoreThanOne()
    {
        Lift lift = new(16, 0.1, 0.05, 0.7, 0);
        double Width(int climbs)
        {
            System.Random random = new(3);
            WorkedClimbs worked = WorkedClimbs.Of([.. Enumerable.Range(0, climbs).Select(_ => (Flown(BareKg, 0, 2, lift, 50), BareKg, 0))], BareKg, Maker);
            double[] draws = [.. Enumerable.Range(0, 2000).Select(_ => worked.DrawLift(random, 0.1).Shortfall).Order()];
            return draws[1900] - draws[100];
        }

        Assert.True(Width(1) > 2 * Width(30));
    }

    [Fact]
    public void ClimbsTooShortToTell_AreTakenAsTheyAre_WhereThereIsNothingElse()
    {
        Lift lift = new(16, 0.1, 0.05, 0.7, 0);
        FlownClimb brief = Flown(BareKg, 0, 2, lift, 12) with { EstablishedS = 0, GainMps = double.NaN };
        FlownClimb lasting = Flown(BareKg, 0, 3, lift, 60);

        Assert.Equal(2, WorkedClimbs.Of([(brief, BareKg, 0)], BareKg, Maker).CoreMps(Coefficients, lift), 1e-6);
        Assert.Equal(3, WorkedClimbs.Of([(brief, BareKg, 0), (lasting, BareKg, 0)], BareKg, Maker).CoreMps(Coefficients, lift), 1e-6);
    }

    [Fact]
    public void Centring_IsThrownOffLess_WithMoreMass()
    {
        Lift lift = new(16, 0.1, 0.1, 1, 0);

        Assert.Equal(0.8, lift.Centring(1), 1e-12);
        Assert.Equal(0.85, lift.Centring(2), 1e-12);
    }

    private static FlownClimb Flown(double massKg, int ballast, double coreMps, Lift lift, double seconds)
    {
        double climb = new ClimbModel(Maker, massKg, BareKg, ballast).For(Coefficients, lift).At(coreMps).ClimbMps;
        return new FlownClimb(seconds, climb, 7, 1.25, 60, 1.2) { EstablishedS = seconds, GainMps = climb };
    }
}

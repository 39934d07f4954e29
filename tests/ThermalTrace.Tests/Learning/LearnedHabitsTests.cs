using ThermalTrace.Decisions;
using ThermalTrace.Learning;

namespace ThermalTrace.Tests.Learning;

public sealed class LearnedHabitsTests
{
    private static readonly IReadOnlyList<ClimbHabit> Prior = Learn([]);

    [Fact]
    public void ClimbsThatLoseMuchInTurbulenceWhenLight_MoveGustLossUp()
    {
        IReadOnlyList<ClimbHabit> steady = Learn(new MadeUpClimbs { Habit = new(1, 0.1, 0.01, 0.75) }.Rows());
        IReadOnlyList<ClimbHabit> thrown = Learn(new MadeUpClimbs { Habit = new(1, 0.1, 0.2, 1.1) }.Rows());
        Assert.True(Gust(thrown) > 1.3 * Gust(Prior), FormattableString.Invariant($"{Gust(Prior):0.000} before, {Gust(thrown):0.000} after climbs that lose much"));
        Assert.True(Gust(steady) < Gust(Prior), FormattableString.Invariant($"{Gust(Prior):0.000} before, {Gust(steady):0.000} after climbs that lose next to nothing"));
    }

    [Fact]
    public void HeavierOnlyInStrongerLift_MovesTheRadiusByLittle()
    {
        double without = Radius(Learn(new MadeUpClimbs { Sessions = 40, Scatter = 0.3 }.Rows()));
        double with = Radius(Learn(new MadeUpClimbs { Sessions = 40, Scatter = 0.3, ChoiceSlope = 0.3 }.Rows()));
        Assert.Equal(1, with / without, 0.12);
    }

    [Fact]
    public void ThermalsWiderThanUsual_AreFoundWider()
    {
        // Beside the test above: habits that never move would pass that alone. The heavy model's wide circle costs it little here.
        double narrow = Radius(Learn(new MadeUpClimbs { Sessions = 60, Habit = new(0.7, 0.1, 0.05, 0.75) }.Rows()));
        double wide = Radius(Learn(new MadeUpClimbs { Sessions = 60, Habit = new(1.6, 0.1, 0.05, 0.75) }.Rows()));
        Assert.True(wide > narrow * 1.1, FormattableString.Invariant($"{narrow:0.00} and {wide:0.00} of the usual radius"));
    }

    [Fact]
    public void OneMassAlone_LeavesThePriorAsItIs() => Assert.Equal(Prior, Learn(new MadeUpClimbs { Sessions = 40, MassRatios = [1], Habit = new(0.5, 0.3, 0.3, 0.3) }.Rows()));

    [Fact]
    public void SameClimbs_GiveTheSameHabits()
    {
        IReadOnlyList<ClimbRow> rows = new MadeUpClimbs().Rows();
        Assert.Equal(Learn(rows), Learn(rows));
        Assert.NotEqual(Learn(rows), Learn(new MadeUpClimbs { Seed = 2 }.Rows()));
    }

    [Fact]
    public void StrengthOfEachDaysLift_DropsOut()
    {
        // Twice the lift on every other day tells of the days, not of the pilot.
        IReadOnlyList<ClimbRow> rows = new MadeUpClimbs().Rows();
        IReadOnlyList<ClimbHabit> plain = Learn(rows), stronger = Learn([.. rows.Select(r => r.Session % 2 == 0 ? r with { AirMps = 2 * r.AirMps } : r)]);
        Assert.Equal(Gust(plain), Gust(stronger), 1e-9);
        Assert.Equal(Radius(plain), Radius(stronger), 1e-9);
    }

    private static IReadOnlyList<ClimbHabit> Learn(IReadOnlyList<ClimbRow> rows) => LearnedHabits.Learn(rows, 1, CancellationToken.None);

    private static double Gust(IReadOnlyList<ClimbHabit> habits) => habits.Average(h => h.GustLoss);

    private static double Radius(IReadOnlyList<ClimbHabit> habits) => habits.Average(h => h.RadiusFactor);
}

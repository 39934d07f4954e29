using ThermalTrace.Decisions;

namespace ThermalTrace.Tests.Decisions;

public sealed class CirclingHabitTests
{
    // Five flights that circle at one lift coefficient; the fifth as if it weighed 1.5 times what was noted.
    private static readonly double[] Masses = [0.25, 0.25, 0.32, 0.32, 0.25];
    private static readonly double[] Habits = [.. Masses[..4].Select(m => Math.Log(m)), Math.Log(0.375)];

    [Fact]
    public void Habit_OfAHeavierModel_SpeaksForTheHeavierMass()
    {
        Assert.True(CirclingHabit.LogFactor(Habits, Masses, [4], 0.375) > 1);
        Assert.True(CirclingHabit.LogFactor(Habits, Masses, [0], 0.375) < -1);
    }

    [Fact]
    public void Habit_Alone_NeverSettlesIt()
    {
        // Five times the mass, all of it true: pilots change their speed, so the factor stays below a hundred or so.
        double[] habits = [.. Masses[..4].Select(m => Math.Log(m)), Math.Log(1.25)];

        Assert.InRange(CirclingHabit.LogFactor(habits, Masses, [4], 1.25), 3, 12);
        Assert.InRange(CirclingHabit.LogFactor(Habits, Masses, [4], 0.375), 1, 4.5);
    }

    [Fact]
    public void Habit_WithoutCirclesOrOthers_SaysNothing()
    {
        Assert.Equal(0, CirclingHabit.LogFactor([0, 0, double.NaN], [1, 1, 1], [2], 2));
        Assert.Equal(0, CirclingHabit.LogFactor([0, double.NaN, 1], [1, 1, 1], [2], 2));
    }
}

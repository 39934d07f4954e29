using ThermalTrace.Phases;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Phases;

public class HabitsTests
{
    /// <summary>Found by a calibration run: strong lift all through a log made the spread's lower bound pass its upper one.</summary>
    [Theory]
    [InlineData(1.5)]
    [InlineData(4)]
    [InlineData(9)]
    public void ClimbsInLiftOfAnyStrength_AreLearned(double liftMps)
    {
        const int steps = 600;
        PhaseSigns[] signs = [.. Enumerable.Range(0, steps).Select(_ => new PhaseSigns(liftMps, liftMps, 3, liftMps - 0.6, 0.8, 8, 100, double.NaN))];
        double[] posterior = new double[steps * PhaseModel.States];
        for (int t = 0; t < steps; t++)
        {
            posterior[t * PhaseModel.States + PhaseModel.ClimbRight] = 1;
        }
        Habits learned = Habits.Usual(8, LaunchKind.Discus).Learn(signs, posterior, 0.5);
        Assert.InRange(learned.ClimbLiftMps, 0.7 * liftMps, 1.01 * Math.Max(liftMps, 1.5));
        Assert.True(learned.ClimbLiftSpreadMps > 0);
    }
}

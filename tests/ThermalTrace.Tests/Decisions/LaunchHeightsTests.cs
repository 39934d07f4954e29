using ThermalTrace.Decisions;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Decisions;

public class LaunchHeightsTests
{
    [Fact]
    public void Launches_WithBallastAndWindIndependent_ShowWhatEachDoes()
    {
        // ln h = ln 50 − 0.6 ln(m/m0) + 0.03 W, every mass in every wind, over and over: the prior has no say left.
        (double, double, double)[] launches = [.. from round in Enumerable.Range(0, 40)
            from ratio in new[] { 1.0, 1.15, 1.3 }
            from wind in new[] { 0.0, 3, 6 }
            select (50 * Math.Pow(ratio, -0.6) * Math.Exp(0.03 * wind), ratio, wind)];
        LaunchHeights heights = LaunchHeights.Fit(launches, LaunchKind.Discus)!;
        Assert.Equal(50 * Math.Pow(1.2, -0.6) * Math.Exp(0.03 * 4), MeanHeightM(heights, 1.2, 4), 0.3);
    }

    [Fact]
    public void OneLaunch_LeavesTheEffectOfMassToTheEnergyArgument()
    {
        LaunchHeights heights = LaunchHeights.Fit([(60, 1, 0)], LaunchKind.Discus)!;
        // Between fixed work (h ~ 1/m) and fixed speed (the same h): the square root of the mass, give or take.
        Assert.Equal(60 * Math.Pow(1.3, -0.5), MeanHeightM(heights, 1.3, 0), 2.5);
    }

    [Fact]
    public void ElectricLaunch_ChoosesItsHeight()
    {
        LaunchHeights heights = LaunchHeights.Fit([(100, 1, 2), (80, 1.3, 2)], LaunchKind.Electric)!;
        Assert.True(heights.Chosen);
        Assert.Equal(MeanHeightM(heights, 1, 2), MeanHeightM(heights, 1.3, 2), 1.0);
    }

    [Fact]
    public void NoLaunch_HasNoHeights() => Assert.Null(LaunchHeights.Fit([(double.NaN, 1, 0), (0.5, 1, 0)], null));

    private static double MeanHeightM(LaunchHeights heights, double massRatio, double windMps)
    {
        Random random = new(5);
        return Enumerable.Range(0, 400).Select(_ => LaunchHeights.HeightM(heights.Draw(random), massRatio, windMps)).Order().Skip(199).First();
    }
}

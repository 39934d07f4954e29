using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;

namespace ThermalTrace.Tests.Learning;

public sealed class UsualLaunchTests
{
    private static readonly SeasonModel Thrown = AdviceModels.Predicted(AdviceModels.Tansy);

    private static double MiddleM(UsualLaunch launch, double massRatio)
    {
        Random random = new(3);
        return Enumerable.Range(0, 401).Select(_ => LaunchHeights.HeightM(launch.Heights.Draw(random), massRatio, 0)).Order().ElementAt(200);
    }

    [Theory]
    [InlineData(LaunchKind.Discus, 40)]
    [InlineData(LaunchKind.Hand, 12)]
    [InlineData(LaunchKind.Winch, 120)]
    [InlineData(null, 40)]
    public void NoLaunchSeen_IsTheUsualOfItsKind(LaunchKind? kind, double heightM)
    {
        UsualLaunch launch = UsualLaunch.For(AdviceModels.Predicted(AdviceModels.Tansy with { Launch = kind }), null);
        Assert.Equal(heightM, launch.UsualM);
        Assert.InRange(MiddleM(launch, 1), 0.8 * heightM, 1.25 * heightM);
    }

    [Fact]
    public void LaunchesSeen_AreTaken_AndNothingIsUsual()
    {
        UsualLaunch launch = UsualLaunch.For(Thrown with { Launches = LaunchHeights.Fit([.. Enumerable.Repeat((55.0, 1.0, 0.0), 50)], LaunchKind.Discus) }, null);
        Assert.Null(launch.UsualM);
        Assert.Equal(55, MiddleM(launch, 1), 2.0);
    }

    [Fact]
    public void AHeightThatIsChosen_IsTheSameForEveryBallast()
    {
        UsualLaunch launch = UsualLaunch.For(Thrown, 90);
        Assert.Null(launch.UsualM);
        Assert.Equal(90, MiddleM(launch, 1), 0.5);
        Assert.Equal(90, MiddleM(launch, 1.4), 1.0);
    }
}

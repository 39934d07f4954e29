using ThermalTrace.Simulation;

namespace ThermalTrace.Tests.Simulation;

public class WorkedLiftTests
{
    [Fact]
    public void CirclesThatRise_AreAClimb() => Assert.Contains(Labelled(0.6, 0.3), m => m.Phase == Phase.Climb);

    [Fact]
    public void CirclesThatSink_AreAGlide() => Assert.All(Labelled(0.6, -0.3), m => Assert.Equal(Phase.Glide, m.Phase));

    [Fact]
    public void WideBendsThatRise_AreAGlide() => Assert.All(Labelled(0.1, 0.3), m => Assert.Equal(Phase.Glide, m.Phase));

    [Fact]
    public void NothingButTheLabelChanges()
    {
        List<Moment> before = Circles(0.6, 0.3), after = Labelled(0.6, 0.3);
        Assert.Equal(before, after.Select(m => m with { Phase = Phase.Glide }));
    }

    private static List<Moment> Labelled(double turnRadps, double climbMps)
    {
        List<Moment> moments = Circles(turnRadps, climbMps);
        WorkedLift.Relabel(moments);
        return moments;
    }

    /// <summary>Sixty seconds of even circles at 8 m/s in 5 m/s of wind.</summary>
    private static List<Moment> Circles(double turnRadps, double climbMps) =>
    [
        .. Enumerable.Range(0, 1200).Select(i => i * Glider.StepS).Select(t => new Moment(t, Phase.Glide, 0, 0, 80 + climbMps * t,
            5 + 8 * Math.Sin(turnRadps * t), 8 * Math.Cos(turnRadps * t), climbMps, 8, 1, new AirSample(5, 0, 0, 0), 1.2, 0, double.NaN, double.NaN)),
    ];
}

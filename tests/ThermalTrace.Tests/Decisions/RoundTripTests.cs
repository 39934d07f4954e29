using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Tests.Decisions;

/// <summary>Round-trip climb on the polar w = 0.01 V² − 0.12 V + 0.8, whose answers are closed forms.</summary>
public class RoundTripTests
{
    private const double SpeedStepMps = 0.001;

    // Speed to fly √((c + MC)/a): MC 1: 13.416408 m/s; it makes 6.741808 m/s across country, so that is the wind in which
    // nothing is gained.
    [Theory]
    [InlineData(3)]
    [InlineData(6.741808)]
    [InlineData(9)]
    public void SpeedHome_AfterAClimbOfOne_IsTheTangentsWhateverTheWind(double windMps)
    {
        RoundTripResult trip = RoundTrip.For(Polar(), 1, windMps, 0)!;
        Assert.Equal(13.416408, trip.ReturnAirspeedMps, SpeedStepMps);
        Assert.Equal(1 - windMps / 6.741808, trip.ClimbMps, 1e-6);
    }

    [Fact]
    public void GlideHome_OverTheGround_IsCountedAtTheSpeedHome()
    {
        RoundTripResult trip = RoundTrip.For(Polar(), 1, 5, 0)!;
        double v = trip.ReturnAirspeedMps;
        Assert.Equal((v - 5) / (0.01 * v * v - 0.12 * v + 0.8), trip.ReturnGlideRatio!.Value, 1e-6);
        Assert.Null(RoundTrip.For(Polar(), 1, 14, 0)!.ReturnGlideRatio);
    }

    // Air that sinks at d on the way home: speed √((c + d + MC)/a).
    [Fact]
    public void SinkingAir_OnTheWayHome_IsFlownThroughFaster() =>
        Assert.Equal(Math.Sqrt((0.8 + 0.5 + 1) / 0.01), RoundTrip.For(Polar(), 1, 5, 0.5)!.ReturnAirspeedMps, SpeedStepMps);

    // Lift that costs more than staying: least sink is 0.44 at 6 m/s, against a wind slower than that.
    [Fact]
    public void LiftThatCostsMoreThanStaying_IsNotFollowed() =>
        Assert.Equal(-0.44, RoundTrip.For(Polar(), -0.5, 3, 0)!.ClimbMps, 1e-6);

    [Fact]
    public void Calm_GivesTheWholeClimb() => Assert.Equal(1.5, RoundTrip.For(Polar(), 1.5, 0, 0)!.ClimbMps, 1e-12);

    [Fact]
    public void Wind_BeyondThePolarsFastestSpeed_HasNoRoundTrip() => Assert.Null(RoundTrip.For(Polar(), 1, 20.1, 0));

    private static SinkCurve Polar()
    {
        double[] speeds = [.. Enumerable.Range(0, 17_001).Select(i => 3 + i * SpeedStepMps)];
        return new SinkCurve(speeds, [.. speeds.Select(v => 0.01 * v * v - 0.12 * v + 0.8)]);
    }
}

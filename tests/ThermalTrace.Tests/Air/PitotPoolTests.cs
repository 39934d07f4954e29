using ThermalTrace.Air;
using ThermalTrace.Phases;

namespace ThermalTrace.Tests.Air;

public sealed class PitotPoolTests
{
    [Fact]
    public void Pool_OfNoFlights_IsNone() => Assert.Null(PitotPool.Of([null, Air(null)]));

    [Fact]
    public void Pool_OfManyFlights_CountsTheirCommonPriorOnce()
    {
        // A flight that found 1.08 ± 0.02 by itself reports it drawn a little towards the prior of 1 ± 0.08.
        double own = 1 / (0.02 * 0.02), prior = 1 / (0.08 * 0.08);
        FlightAir flight = Air((1 + 0.08 * own / (own + prior), 1 / Math.Sqrt(own + prior)));

        PitotPool one = PitotPool.Of([flight])!, nine = PitotPool.Of(Enumerable.Repeat(flight, 9))!;

        Assert.InRange(one.Factor, 1.070, 1.078);
        Assert.InRange(nine.Factor, 1.078, 1.0805);
        Assert.True(nine.StandardError < one.StandardError);
        Assert.Equal(9, nine.Flights);
    }

    private static FlightAir Air((double, double)? factor) => new()
    {
        Flight = new Flight(null!, 1, [], 0),
        WindEastMps = [],
        WindNorthMps = [],
        InertialSpeedMps = [],
        AirspeedMps = [],
        AirspeedVarianceM2ps2 = [],
        HeadingRad = [],
        LoadFactor = [],
        Circling = [],
        Wind = new MeanWind(0, 0, 1, 1, 0),
        PitotFactor = factor,
    };
}

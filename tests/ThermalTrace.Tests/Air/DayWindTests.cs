using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Air;

/// <summary>Flights that each never turn tell the wind together, though none does alone.</summary>
public class DayWindTests
{
    private const double EastMps = 3, NorthMps = -2, SpeedMps = 8;

    [Fact]
    public void Wind_OfFlightsThatNeverTurn_IsFoundFromTheirDifferentDirections()
    {
        Flight[] flights = [.. new[] { 20, 110, 200, 290, 65, 245 }.Select((deg, k) => Straight(deg, k))];
        FlightAir[] found = Estimate(flights);
        // The other end of a straight flight's valley is up to 16 m/s away.
        Assert.All(found, air => Assert.InRange(Distance(air.Wind), 0, 1.2));
        Assert.All(found, air => Assert.InRange(Distance(air.Wind), 0, 3 * air.Wind.StandardErrorMps));
    }

    [Fact]
    public void Wind_OfOneFlightThatNeverTurns_IsSaidToBeUnknown()
    {
        FlightAir alone = Assert.Single(Estimate([Straight(20, 0)]));
        Assert.True(alone.Wind.StandardErrorMps > 2, $"{alone.Wind.StandardErrorMps}");
    }

    private static FlightAir[] Estimate(Flight[] flights) =>
        [.. WindEstimator.Estimate(flights, [.. flights.Select(_ => SpeedMps)], [.. flights.Select(_ => 0.05)], 1, CancellationToken.None).Select(a => a!)];

    private static double Distance(MeanWind wind) => Math.Sqrt(Math.Pow(wind.EastMps - EastMps, 2) + Math.Pow(wind.NorthMps - NorthMps, 2));

    /// <summary>Two minutes in one direction at a speed that wanders a little.</summary>
    private static Flight Straight(double headingDeg, int number)
    {
        const int count = 120;
        (double sin, double cos) = Math.SinCos(headingDeg * Math.PI / 180);
        double[] speed = [.. Enumerable.Range(0, count).Select(i => SpeedMps + 0.2 * Math.Sin(0.13 * i + number))];
        return new Flight(MadeUpAir.Track(1, MadeUpAir.Filled(count, 100), MadeUpAir.Ground([.. speed.Select(v => EastMps + v * sin)], [.. speed.Select(v => NorthMps + v * cos)])),
            number + 1, [new Segment(PhaseKind.Glide, 0, count, 1)], 0);
    }
}

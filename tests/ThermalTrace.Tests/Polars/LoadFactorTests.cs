using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Polars;

public class LoadFactorTests
{
    // A steady turn at 8 m/s: n = 1/cos φ, R = V²/(g tan φ), turn rate V/R. 30°: 1.154701 and 11.3037 m; 45°: 1.414214 and
    // 6.5262 m; closed forms.
    [Theory]
    [InlineData(11.3037, 1.154701)]
    [InlineData(6.5262, 1.414214)]
    [InlineData(-6.5262, 1.414214)]
    public void SteadyTurn_OfAKnownRadius_HasTheLoadFactorOfItsBank(double radiusM, double loadFactor) =>
        Assert.Equal(loadFactor, GlideRows.LoadFactor(Turning(8, 8 / radiusM, 100), 50), 1e-5);

    [Fact]
    public void StraightFlight_AndFlightWithoutHeading_AreTakenAsLevel()
    {
        Assert.Equal(1, GlideRows.LoadFactor(Turning(8, 0, 100), 50));
        Assert.Equal(1, GlideRows.LoadFactor(Turning(8, double.NaN, 100), 50));
    }

    /// <summary>A flight at one airspeed and turn rate, 5 Hz, right through north and back.</summary>
    private static FlightAir Turning(double airspeedMps, double turnRadPerS, int count)
    {
        double[] Filled(Func<int, double> value) => [.. Enumerable.Range(0, count).Select(value)];
        Track track = new()
        {
            Log = 0,
            StartS = 0,
            StepS = 0.2,
            AltitudeM = Filled(_ => 100),
            AltitudeNoiseM = 0.1,
            SmoothAltitudeM = Filled(_ => 100),
            VerticalSpeedMps = Filled(_ => 0),
            Ground = null,
            PitotMps = null,
            Motor = null,
            LoadFactorDeparture = null,
            Camber = null,
            CamberLabels = [],
            BallastG = null,
            Density = new AirDensity(0, 1.225, 288.15, false),
        };
        return new FlightAir
        {
            Flight = new Flight(track, 1, [new Segment(PhaseKind.Glide, 0, count, 1)], 0),
            WindEastMps = Filled(_ => 0),
            WindNorthMps = Filled(_ => 0),
            AirspeedMps = Filled(_ => airspeedMps),
            InertialSpeedMps = Filled(_ => airspeedMps),
            AirspeedVarianceM2ps2 = Filled(_ => 0),
            HeadingRad = Filled(i => Math.IEEERemainder(turnRadPerS * 0.2 * i, 2 * Math.PI)),
            Wind = new MeanWind(0, 0, 0.01, 0.01, 0),
            PitotFactor = null,
        };
    }
}

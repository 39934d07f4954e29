using ThermalTrace.Air;
using ThermalTrace.Decisions;
using ThermalTrace.Phases;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Decisions;

public sealed class ClimbLogTests
{
    private const double StepS = 0.2, Fast = 16, Slow = 7, Gravity = 9.80665;
    private const int Straight = 25, Circling = 200;

    // Five seconds straight in at 16 m/s, sinking at 1; forty seconds of circles at 7 m/s, rising at 2; five seconds straight out.
    [Fact]
    public void Gain_OfAClimb_IsThatOfItsCircles_WithoutTheWaysInAndOut()
    {
        FlownClimb climb = Assert.Single(ClimbLog.Of(Flight(), Air()));

        Assert.Equal(2, climb.GainMps, 0.05);
        Assert.InRange(climb.EstablishedS, 27, 33);
        Assert.Equal(Slow, climb.AirspeedMps, 0.5);
        Assert.Equal((Circling * 2 - 2 * Straight) * StepS / climb.Seconds, climb.ClimbMps, 0.05);
    }

    [Fact]
    public void Speed_TurnedIntoHeight_IsNoLift()
    {
        // Slowing from 10 to 7 m/s while circling raises the model by 2.6 m, and it rises by nothing else.
        double[] speed = [.. Enumerable.Range(0, Circling).Select(i => 10 - 3.0 * i / Circling)];
        double[] height = [.. speed.Select(v => 100 + (100 - v * v) / (2 * Gravity))];
        Flight flight = Flight(height, Circling);

        FlownClimb climb = Assert.Single(ClimbLog.Of(flight, Air(flight, speed, _ => true)));

        Assert.Equal(0, climb.GainMps, 1e-3);
        Assert.True(climb.ClimbMps > 0.05);
    }

    [Fact]
    public void Gain_WithoutAirspeed_IsThatOfHeight()
    {
        FlownClimb climb = Assert.Single(ClimbLog.Of(Flight(), null));

        Assert.True(double.IsNaN(climb.AirspeedMps));
        Assert.InRange(climb.GainMps, 1.5, 2);
    }

    private static Flight Flight()
    {
        double height = 100;
        double[] heights = [.. Enumerable.Range(0, Circling + 2 * Straight).Select(i => height += (IsCircling(i) ? 2 : -1) * StepS)];
        return Flight(heights, heights.Length);
    }

    private static bool IsCircling(int i) => i >= Straight && i < Straight + Circling;

    private static FlightAir Air()
    {
        Flight flight = Flight();
        return Air(flight, [.. Enumerable.Range(0, flight.Track.Count).Select(i => IsCircling(i) ? Slow : Fast)], IsCircling);
    }

    private static Flight Flight(double[] heights, int count) => new(new Track
    {
        Log = 0,
        StartS = 0,
        StepS = StepS,
        AltitudeM = heights,
        AltitudeNoiseM = 0.1,
        SmoothAltitudeM = heights,
        VerticalSpeedMps = new double[count],
        Ground = null,
        PitotMps = null,
        Motor = null,
        LoadFactorDeparture = null,
        Camber = null,
        CamberLabels = [],
        BallastG = null,
        Density = new AirDensity(0, 1.225, 288.15, false),
    }, 1, [new Segment(PhaseKind.Climb, 0, count, 1)], 0);

    private static FlightAir Air(Flight flight, double[] speed, Func<int, bool> turns)
    {
        double heading = 0;
        double[] headings = [.. speed.Select((_, i) => heading += turns(i) ? StepS : 0)];
        return new FlightAir
        {
            Flight = flight,
            WindEastMps = new double[speed.Length],
            WindNorthMps = new double[speed.Length],
            AirspeedMps = speed,
            InertialSpeedMps = speed,
            LoadFactor = [.. speed.Select((v, i) => turns(i) ? Math.Sqrt(1 + v * v / (Gravity * Gravity)) : 1)],
            Circling = [.. speed.Select((_, i) => turns(i))],
            AirspeedVarianceM2ps2 = new double[speed.Length],
            HeadingRad = [.. headings.Select(h => Math.IEEERemainder(h, 2 * Math.PI))],
            Wind = new MeanWind(0, 0, 0.01, 0.01, 0),
            PitotFactor = null,
        };
    }
}

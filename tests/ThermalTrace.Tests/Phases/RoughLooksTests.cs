using ThermalTrace.Phases;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Phases;

/// <summary>The first looks at wind and polar, on motion made by hand.</summary>
public class RoughLooksTests
{
    private const double StepS = 0.5;

    [Theory]
    [InlineData(0, 0, 7)]
    [InlineData(6, -3, 8)]
    [InlineData(-9, 5, 9)] // stronger than the model is fast
    public void Wind_OfCirclesAndLegsIntoIt_IsFound(double east, double north, double airspeed)
    {
        int count = 400;
        double[] vEast = new double[count], vNorth = new double[count];
        double upwind = Math.Atan2(-east, -north);
        for (int i = 0; i < count; i++)
        {
            // Twenty seconds in a hundred circling, the rest with the nose near the wind.
            double heading = i % 200 < 40 ? upwind + i * StepS * 0.8 : upwind + 0.5 * Math.Sin(i * 0.05);
            vEast[i] = east + airspeed * Math.Sin(heading);
            vNorth[i] = north + airspeed * Math.Cos(heading);
        }
        double[] zeros = new double[count], height = new double[count];
        Array.Fill(height, 50.0);
        bool[] airborne = new bool[count];
        Array.Fill(airborne, true);
        (double[] foundEast, double[] foundNorth) = RoughWind.Find(new GroundMotion(zeros, zeros, vEast, vNorth, zeros, 0, true, true), height, airborne, StepS);
        Assert.InRange(double.Hypot(foundEast[200] - east, foundNorth[200] - north), 0, 0.8);
    }

    [Fact]
    public void Wind_ThatGrowsWithHeight_IsLessNearTheGround()
    {
        int count = 400;
        double[] vEast = new double[count], vNorth = new double[count], zeros = new double[count], height = new double[count];
        bool[] airborne = new bool[count];
        Array.Fill(airborne, true);
        for (int i = 0; i < count; i++)
        {
            height[i] = i < 200 ? 6.25 : 50;
            double wind = 6 * (i < 200 ? 0.743 : 1); // (6.25/50)^(1/7) = 0.743
            vEast[i] = wind + 8 * Math.Sin(0.4 * i);
            vNorth[i] = 8 * Math.Cos(0.4 * i);
        }
        (double[] east, _) = RoughWind.Find(new GroundMotion(zeros, zeros, vEast, vNorth, zeros, 0, true, true), height, airborne, StepS);
        Assert.Equal(6, east[350], 0.2);
        Assert.Equal(0.743, east[150] / (east[350] + 1e-9), 0.06);
    }

    [Fact]
    public void Sink_AtSlowAndFast_IsFoundThoughEveryThirdGlideMeetsLift()
    {
        // sink = 0.0008 V³ + 1.6/V: 0.47 m/s at 6.5 m/s, 1.52 m/s at 12 m/s.
        int count = 3000;
        double[] energy = new double[count], turn = new double[count], speed = new double[count], height = new double[count];
        bool[] airborne = new bool[count];
        Random random = new(3);
        for (int i = 0; i < count; i++)
        {
            speed[i] = (i / 300 % 3) switch { 0 => 6.5, 1 => 8, _ => 12 };
            energy[i] = -(0.0008 * Math.Pow(speed[i], 3) + 1.6 / speed[i]) + 0.3 * (random.NextDouble() - 0.5) + (i / 100 % 3 == 0 ? 1.5 : 0);
            height[i] = 60;
            airborne[i] = true;
        }
        RoughPolar polar = RoughPolar.Fit(energy, turn, speed, airborne, height, StepS);
        Assert.Equal(0.47, polar.SinkMps(6.5, 0), 0.15);
        Assert.Equal(1.52, polar.SinkMps(12, 0), 0.2);
        Assert.True(polar.SinkMps(6.5, 1.0) > polar.SinkMps(6.5, 0), "a turn costs");
    }
}

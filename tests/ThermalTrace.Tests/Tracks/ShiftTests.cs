using System.Globalization;
using System.Text;
using CsCheck;
using ThermalTrace.Logs;
using ThermalTrace.Tests.EndToEnd;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Tracks;

/// <summary>Velocity brought onto the barometer's clock, by less than a row.</summary>
public class ShiftTests
{
    // 8 m/s at 30° of bank: R = V²/(g tan φ) = 11.3037 m, 0.7077 rad/s; closed form. A straight line half-way between two rows a
    // second apart would leave cos 0.354 = 0.938 of the speed.
    private const double SpeedMps = 8, TurnRadPerS = SpeedMps / 11.3037;

    [Fact]
    public void ACircle_AtOneRowASecond_KeepsItsSpeedAndDirection() =>
        Gen.Select(Gen.Double[-0.9, 0.9], Gen.Double[0, 6.28]).Sample((by, phase) =>
        {
            double[] At(Func<double, double> wave, double from) => [.. Enumerable.Range(0, 40).Select(i => SpeedMps * wave(TurnRadPerS * (i + from) + phase))];
            double[] east = TrackBuilder.Shift(At(Math.Sin, 0), by), north = TrackBuilder.Shift(At(Math.Cos, 0), by);
            double[] trueEast = At(Math.Sin, by), trueNorth = At(Math.Cos, by);
            return Enumerable.Range(3, 34).All(i => Math.Abs(Math.Sqrt(east[i] * east[i] + north[i] * north[i]) / SpeedMps - 1) < 0.01
                && Math.Abs(east[i] - trueEast[i]) < 0.02 * SpeedMps && Math.Abs(north[i] - trueNorth[i]) < 0.02 * SpeedMps);
        });

    [Fact]
    public void Shift_ByNothing_AndByWholeRows_ChangesNoValue()
    {
        double[] values = [1, 4, 2, 8, 5, 7];
        Assert.Equal(values, TrackBuilder.Shift(values, 0));
        Assert.Equal([4, 2, 8, 5, 7, 7], TrackBuilder.Shift(values, 1));
    }

    [Fact]
    public void Track_OfALogOfCircles_AtOneRowASecondWithADelay_KeepsTheirSpeed()
    {
        StringBuilder text = new("time_s,altitude_m,latitude,longitude,ground_speed_mps,track_deg\n");
        for (int t = 0; t < 90; t++)
        {
            double angle = TurnRadPerS * t;
            text.Append(CultureInfo.InvariantCulture, $"{t},{200 - 0.5 * t:0.00},{46.5 + 11.3037 * Math.Sin(angle) / 111_170:0.0000000},{7.5 - 11.3037 * Math.Cos(angle) / 76_700:0.0000000},8.00,{angle * 180 / Math.PI % 360:0.00}\n");
        }
        FlightLog log = ShortSession.Import("circles.csv", Encoding.UTF8.GetBytes(text.ToString()));

        Track track = Assert.Single(TrackBuilder.Build(log, 0, new LocalTangentPlane(46.5, 7.5), CancellationToken.None));

        GroundMotion ground = track.Ground!;
        Assert.Equal(0.6, ground.DelayS);
        Assert.True(ground.VelocityLogged);
        for (int i = 10; i < 80; i++)
        {
            Assert.InRange(Math.Sqrt(ground.EastMps[i] * ground.EastMps[i] + ground.NorthMps[i] * ground.NorthMps[i]), 0.99 * SpeedMps, 1.01 * SpeedMps);
        }
    }
}

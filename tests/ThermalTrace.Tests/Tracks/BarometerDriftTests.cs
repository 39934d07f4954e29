using ThermalTrace.Logs;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Tracks;

public sealed class BarometerDriftTests
{
    [Fact]
    public void Drift_Of36MetresAnHour_IsFoundAsAHundredthOfAMetreASecondAndTakenOut()
    {
        BarometerDrift drift = BarometerDrift.Of(Log(3600, 36))!;

        Assert.InRange(drift.RateMps, 0.01 - 3 * drift.StandardErrorMps, 0.01 + 3 * drift.StandardErrorMps);
        Assert.InRange(drift.StandardErrorMps, 0.0001, 0.0025);
        Assert.True(drift.Corrected);
        double[] altitude = [100, 100, 100];
        drift.TakeFrom(altitude, 1000, 10);
        Assert.Equal(100 - drift.RateMps * 1020, altitude[2], 9);
    }

    [Fact]
    public void Drift_OfWeatherAlone_IsLeftAlone()
    {
        BarometerDrift drift = BarometerDrift.Of(Log(3600, 4))!;

        Assert.False(drift.Corrected);
        double[] altitude = [100, 100];
        drift.TakeFrom(altitude, 1000, 10);
        Assert.Equal([100, 100], altitude);
    }

    [Fact]
    public void Drift_WithoutSatelliteAltitudeOrInAShortLog_IsNotTold()
    {
        Assert.Null(BarometerDrift.Of(Log(3600, 36, satellite: false)));
        Assert.Null(BarometerDrift.Of(Log(500, 36)));
    }

    /// <summary>A model that goes up and down by 40 m, a barometer that creeps, and a satellite altitude that wanders by 2 m over a minute or so.</summary>
    private static FlightLog Log(int seconds, double metresAnHour, bool satellite = true)
    {
        double[] time = [.. Enumerable.Range(0, seconds).Select(i => (double)i)];
        double[] height = [.. time.Select(t => 40 + 40 * Math.Sin(t / 50))];
        Dictionary<Quantity, double[]> columns = new() { [Quantity.Altitude] = [.. height.Zip(time, (h, t) => h + metresAnHour * t / 3600)] };
        if (satellite)
        {
            columns[Quantity.GpsAltitude] = [.. height.Zip(time, (h, t) => h + 350 + 2 * Math.Sin(t / 23) + 1.5 * Math.Sin(t / 71))];
        }
        return new FlightLog("log.csv", "", time, columns, [], []);
    }
}

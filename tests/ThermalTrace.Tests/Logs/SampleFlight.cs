using System.Globalization;
using System.Text;
using ThermalTrace.Logs;

namespace ThermalTrace.Tests.Logs;

/// <summary>A short made-up flight with every channel moving, and short ways to import text.</summary>
internal static class SampleFlight
{
    /// <summary>A launch, then circles that drift and sink; 5 Hz, starts at 10:00:00.05 on 2026-05-09.</summary>
    public static FlightLog Log { get; } = Make(600);

    public static FlightLog Import(string text, params ColumnNote[] notes) => Import(Encoding.UTF8.GetBytes(text), notes);

    public static FlightLog Import(byte[] bytes, params ColumnNote[] notes) => LogImporter.Read(new MemoryStream(bytes), "kestrel.csv", notes);

    /// <summary>A log of these columns: a header and as many rows as asked for, row i made by <paramref name="row"/>.</summary>
    public static string Text(string header, int rows, Func<int, string> row, string newLine = "\n")
    {
        StringBuilder text = new();
        text.Append(header).Append(newLine);
        for (int i = 0; i < rows; i++)
        {
            text.Append(row(i)).Append(newLine);
        }
        return text.ToString();
    }

    public static string F(double value, int decimals) => value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>Height of the made-up flight, m.</summary>
    public static double AltitudeM(double t) => 120 + (t < 4 ? 15 * t : 60 - 0.4 * (t - 4)) + 3 * Math.Sin(t / 7) + 0.07 * Math.Sin(37 * t);

    private static FlightLog Make(int rows)
    {
        double[] time = new double[rows], altitude = new double[rows], pressure = new double[rows], climb = new double[rows], latitude = new double[rows],
            longitude = new double[rows], gpsAltitude = new double[rows], speed = new double[rows], track = new double[rows], temperature = new double[rows];
        for (int i = 0; i < rows; i++)
        {
            double t = i * 0.2;
            time[i] = Math.Round(t, 3);
            altitude[i] = Math.Round(AltitudeM(t), 2);
            pressure[i] = Math.Round(101325 * Math.Pow(1 - AltitudeM(t) / 44330.77, 5.25588), 1);
            climb[i] = Math.Round((AltitudeM(t + 0.1) - AltitudeM(t - 0.1)) / 0.2, 2);
            latitude[i] = Math.Round(47.137 + 3e-4 * Math.Sin(t / 3) + 1e-6 * t, 7);
            longitude[i] = Math.Round(9.883 + 4e-4 * Math.Cos(t / 3) + 2e-6 * t, 7);
            gpsAltitude[i] = Math.Round(AltitudeM(t - 0.4) - 1.5, 1);
            speed[i] = Math.Round(10 + 2 * Math.Sin(t / 3 + 1), 2);
            track[i] = Math.Round((t / 3 * 180 / Math.PI + 90) % 360, 1);
            temperature[i] = 290 + 0.1 * (i % 7);
        }
        Dictionary<Quantity, double[]> columns = new()
        {
            [Quantity.Altitude] = altitude,
            [Quantity.Pressure] = pressure,
            [Quantity.ClimbRate] = climb,
            [Quantity.Latitude] = latitude,
            [Quantity.Longitude] = longitude,
            [Quantity.GpsAltitude] = gpsAltitude,
            [Quantity.GroundSpeed] = speed,
            [Quantity.Track] = track,
            [Quantity.Temperature] = temperature,
        };
        return new FlightLog("kestrel.csv", "", time, columns, [], [])
        {
            RateHz = 5,
            ClockAtStartS = 36000.05,
            StartedAt = new DateTimeOffset(2026, 5, 9, 10, 0, 0, 50, TimeSpan.Zero),
        };
    }
}

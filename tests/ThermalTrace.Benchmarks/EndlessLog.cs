using System.Globalization;
using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Benchmarks;

/// <summary>
/// One simulated day flown again and again without end: logs of any number of rows that hold real flights. Ten columns,
/// 5 Hz, comma, decimal point.
/// </summary>
internal static class EndlessLog
{
    private static readonly double[] BallastsG = [0, 40, 80];

    private static readonly Lazy<FlightLog> Day = new(() =>
    {
        SimulatedFile file = Simulator.Run(new SimulationOptions
        {
            Seed = 7,
            Flights = 9,
            BallastsG = [0],
            Logs = LogSplit.One,
            Temperature = true,
        }).Logs[0];
        return LogImporter.Read(new MemoryStream(file.Bytes, writable: false), file.FileName, []);
    });

    /// <summary>The log as a file's bytes.</summary>
    public static byte[] Bytes(int rows)
    {
        using MemoryStream stream = new();
        Write(stream, rows);
        return stream.ToArray();
    }

    /// <summary>Writes the log, header first.</summary>
    /// <param name="stream">Where to.</param>
    /// <param name="rows">How many.</param>
    /// <param name="firstDay">Which day it begins with: another ballast, and a clock that began some seconds later.</param>
    public static void Write(Stream stream, int rows, int firstDay = 0)
    {
        FlightLog day = Day.Value;
        double dayS = day.TimeS[^1] + 1 / day.RateHz;
        using StreamWriter writer = new(stream, new UTF8Encoding(false), 1 << 16, leaveOpen: true);
        writer.Write("time_s,altitude_m,vario_mps,latitude,longitude,gps_altitude_m,ground_speed_mps,track_deg,temperature_k,ballast_g\n");
        Span<char> line = stackalloc char[256];
        for (int row = 0; row < rows; row++)
        {
            int i = row % day.Rows;
            double timeS = day.TimeS[i] + row / day.Rows * dayS + firstDay;
            line.TryWrite(CultureInfo.InvariantCulture, $"{timeS:F2},{day[Quantity.Altitude][i]:F2},{day[Quantity.ClimbRate][i]:F2},{day[Quantity.Latitude][i]:F7},{day[Quantity.Longitude][i]:F7},{day[Quantity.GpsAltitude][i]:F1},{day[Quantity.GroundSpeed][i]:F2},{day[Quantity.Track][i]:F1},{day[Quantity.Temperature][i]:F1},{BallastsG[(firstDay + row / day.Rows) % BallastsG.Length]:F0}\n", out int length);
            writer.Write(line[..length]);
        }
    }

    /// <summary>A session around the log, which says itself which ballast was flown: another each day.</summary>
    public static Session SessionOf(FlightLog log) => new(
        new Airframe
        {
            Name = "benchmark",
            WingSpanMm = 1500,
            WingAreaDm2 = 22.4,
            UnballastedMassG = 262,
            MaxFlyingMassG = 400,
            Launch = LaunchKind.Discus,
            BallastOptionsG = BallastsG,
        },
        [log],
        [], [], []);
}

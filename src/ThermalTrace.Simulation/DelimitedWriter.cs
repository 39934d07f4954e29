using System.Globalization;
using System.Text;

namespace ThermalTrace.Simulation;

/// <summary>Delimited text logs in all the ways that loggers write them.</summary>
internal static class DelimitedWriter
{
    private const double FeetPerMetre = 1 / 0.3048;
    private const double KnotsPerMps = 3600 / 1852.0;
    private const double KmhPerMps = 3.6;
    private const double FeetPerMinutePerMps = 60 / 0.3048;

    private sealed record Column(string Name, string Unit, Func<int, string> Text)
    {
        /// <summary>A stamp keeps its point where numbers have a comma.</summary>
        public bool IsStamp { get; init; }
    }

    public static byte[] Write(LogChannels log, LogFlavour flavour)
    {
        List<Column> columns = flavour switch
        {
            LogFlavour.Semicolon => Imperial(log),
            LogFlavour.Tab => Knots(log),
            LogFlavour.Latin1UnitsRow => BareNames(log),
            LogFlavour.DegreesMinutes => Minutes(log),
            LogFlavour.Quoted => Bracketed(log),
            _ => Metric(log, TimeColumn(log, flavour)),
        };
        char delimiter = flavour switch
        {
            LogFlavour.Semicolon or LogFlavour.Latin1UnitsRow or LogFlavour.DegreesMinutes => ';',
            LogFlavour.Tab or LogFlavour.Utf16 => '\t',
            _ => ',',
        };
        string newLine = flavour switch
        {
            LogFlavour.CarriageReturn => "\r",
            LogFlavour.Comma or LogFlavour.Semicolon or LogFlavour.Utf16 or LogFlavour.Latin1UnitsRow => "\r\n",
            _ => "\n",
        };
        bool decimalComma = flavour is LogFlavour.Semicolon or LogFlavour.Latin1UnitsRow;
        bool quoted = flavour is LogFlavour.Quoted;
        Encoding encoding = flavour switch
        {
            LogFlavour.Utf16 => new UnicodeEncoding(bigEndian: false, byteOrderMark: true),
            LogFlavour.Latin1UnitsRow => Encoding.Latin1,
            _ => new UTF8Encoding(flavour is LogFlavour.Comments),
        };

        StringBuilder text = new();
        if (flavour == LogFlavour.Comments)
        {
            text.Append("# simulated flight log").Append(newLine).Append("# heights are barometric, standard setting").Append(newLine).Append(newLine);
        }
        AppendRow(text, columns.Select(c => c.Name), delimiter, quoted, newLine);
        if (flavour == LogFlavour.Latin1UnitsRow)
        {
            AppendRow(text, columns.Select(c => c.Unit), delimiter, quoted, newLine);
        }
        for (int row = 0; row < log.TimeS.Count; row++)
        {
            int r = row;
            AppendRow(text, columns.Select(c => decimalComma && !c.IsStamp ? c.Text(r).Replace('.', ',') : c.Text(r)), delimiter, quoted, newLine);
        }
        byte[] body = encoding.GetBytes(text.ToString());
        return [.. encoding.GetPreamble(), .. body];
    }

    private static void AppendRow(StringBuilder text, IEnumerable<string> fields, char delimiter, bool quoted, string newLine)
    {
        bool first = true;
        foreach (string field in fields)
        {
            if (!first)
            {
                text.Append(delimiter);
            }
            first = false;
            if (quoted)
            {
                text.Append('"').Append(field).Append('"');
            }
            else
            {
                text.Append(field);
            }
        }
        text.Append(newLine);
    }

    private static Column TimeColumn(LogChannels log, LogFlavour flavour)
    {
        if (flavour == LogFlavour.PastMidnight)
        {
            // The clock is set so that midnight falls two fifths of the way through this log.
            double shift = 86400 - 0.4 * log.TimeS[^1];
            return new("clock", "", r => TimeSpan.FromSeconds((Math.Round(log.TimeS[r], 2) + Math.Round(shift)) % 86400)
                .ToString(@"hh\:mm\:ss\.ff", CultureInfo.InvariantCulture));
        }
        return flavour switch
        {
            LogFlavour.EpochMilliseconds => new("epoch_ms", "ms", r => Whole(EpochS(log, r) * 1000)),
            LogFlavour.EpochSeconds => new("epoch_s", "s", r => Fixed(EpochS(log, r), 2)),
            LogFlavour.WholeSeconds => new("date_time", "", r => Stamp(log, r).ToString("yyyy-MM-dd HH:mm:ss", CultureInfo.InvariantCulture)),
            _ => new("time_s", "s", r => Fixed(log.TimeS[r], 2)),
        };
    }

    private static List<Column> Metric(LogChannels log, Column time)
    {
        List<Column> columns = [time, new("altitude_m", "m", r => Fixed(Altitude(log, r), 2))];
        Add(columns, log.ClimbRateMps, "climb_mps", "m/s", 1, 2);
        Add(columns, log.LatitudeDeg, "latitude", "deg", 1, 7);
        Add(columns, log.LongitudeDeg, "longitude", "deg", 1, 7);
        Add(columns, log.GpsAltitudeM, "gps_altitude_m", "m", 1, 1);
        Add(columns, log.GroundSpeedMps, "ground_speed_mps", "m/s", 1, 2);
        Add(columns, log.TrackDeg, "course_deg", "deg", 1, 1);
        Add(columns, log.AirspeedMps, "airspeed_mps", "m/s", 1, 2);
        Add(columns, log.AccelerationMps2, "acceleration_mps2", "m/s2", 1, 2);
        Add(columns, log.TemperatureK, "temperature_c", "C", 1, 2, -273.15);
        Add(columns, log.Motor, "motor", "", 1, 2);
        return columns;
    }

    private static List<Column> Imperial(LogChannels log)
    {
        List<Column> columns =
        [
            new("Date", "", r => Stamp(log, r).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
            new("Time of day", "", r => Stamp(log, r).ToString("HH:mm:ss.ff", CultureInfo.InvariantCulture)) { IsStamp = true },
            new("Altitude (ft)", "ft", r => Fixed(Altitude(log, r) * FeetPerMetre, 2)),
        ];
        Add(columns, log.ClimbRateMps, "Climb rate (ft/min)", "ft/min", FeetPerMinutePerMps, 1);
        Add(columns, log.LatitudeDeg, "Latitude (deg)", "deg", 1, 7);
        Add(columns, log.LongitudeDeg, "Longitude (deg)", "deg", 1, 7);
        Add(columns, log.GpsAltitudeM, "GPS altitude (ft)", "ft", FeetPerMetre, 1);
        Add(columns, log.GroundSpeedMps, "Ground speed (km/h)", "km/h", KmhPerMps, 2);
        Add(columns, log.TrackDeg, "Track (deg)", "deg", 1, 1);
        Add(columns, log.AirspeedMps, "Airspeed (km/h)", "km/h", KmhPerMps, 2);
        Add(columns, log.AccelerationMps2, "Acceleration (g)", "g", 1 / 9.80665, 3);
        Add(columns, log.TemperatureK, "Temperature (F)", "F", 1.8, 2, -459.67);
        Add(columns, log.Motor, "Motor (%)", "%", 100, 0);
        return columns;
    }

    private static List<Column> Knots(LogChannels log)
    {
        List<Column> columns =
        [
            new("utc", "", r => Stamp(log, r).ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture)),
            new("pressure [hPa]", "hPa", r => Fixed(log.PressurePa[r] / 100, 3)),
        ];
        Add(columns, log.ClimbRateMps, "vario [m/s]", "m/s", 1, 2);
        if (log.LatitudeDeg is { } latitude && log.LongitudeDeg is { } longitude)
        {
            columns.Add(new("position", "", r => double.IsNaN(latitude[r]) ? "" : Fixed(latitude[r], 7) + " " + Fixed(longitude[r], 7)));
        }
        Add(columns, log.GpsAltitudeM, "gps altitude [m]", "m", 1, 1);
        Add(columns, log.GroundSpeedMps, "ground speed [kn]", "kn", KnotsPerMps, 3);
        Add(columns, log.TrackDeg, "course [deg]", "deg", 1, 1);
        Add(columns, log.AirspeedMps, "airspeed [kn]", "kn", KnotsPerMps, 3);
        Add(columns, log.AccelerationMps2, "acceleration [m/s^2]", "m/s2", 1, 2);
        Add(columns, log.TemperatureK, "temperature [K]", "K", 1, 2);
        Add(columns, log.Motor, "motor [%]", "%", 100, 0);
        return columns;
    }

    private static List<Column> BareNames(LogChannels log)
    {
        List<Column> columns = [new("Time", "s", r => Fixed(log.TimeS[r], 2)), new("Height", "m", r => Fixed(Altitude(log, r), 2))];
        Add(columns, log.ClimbRateMps, "Climb", "m/s", 1, 2);
        Add(columns, log.LatitudeDeg, "Latitude", "\u00b0", 1, 7);
        Add(columns, log.LongitudeDeg, "Longitude", "\u00b0", 1, 7);
        Add(columns, log.GpsAltitudeM, "GPS height", "m", 1, 1);
        Add(columns, log.GroundSpeedMps, "Ground speed", "km/h", KmhPerMps, 2);
        Add(columns, log.TrackDeg, "Course", "\u00b0", 1, 1);
        Add(columns, log.AirspeedMps, "Airspeed", "km/h", KmhPerMps, 2);
        Add(columns, log.AccelerationMps2, "Acceleration", "m/s\u00b2", 1, 2);
        Add(columns, log.TemperatureK, "Temperature", "\u00b0C", 1, 2, -273.15);
        Add(columns, log.Motor, "Motor", "%", 100, 0);
        return columns;
    }

    private static List<Column> Minutes(LogChannels log)
    {
        List<Column> columns = [new("Time [s]", "s", r => Fixed(log.TimeS[r], 2)), new("Alt [m]", "m", r => Fixed(Altitude(log, r), 2))];
        Add(columns, log.ClimbRateMps, "Vario [m/s]", "m/s", 1, 2);
        if (log.LatitudeDeg is { } latitude && log.LongitudeDeg is { } longitude)
        {
            columns.Add(new("Lat", "", r => DegreesMinutes(latitude[r], 'N', 'S')));
            columns.Add(new("Lon", "", r => DegreesMinutes(longitude[r], 'E', 'W')));
        }
        Add(columns, log.GpsAltitudeM, "GPS alt [m]", "m", 1, 1);
        Add(columns, log.GroundSpeedMps, "GS [km/h]", "km/h", KmhPerMps, 2);
        Add(columns, log.TrackDeg, "Trk [deg]", "deg", 1, 1);
        Add(columns, log.AirspeedMps, "IAS [km/h]", "km/h", KmhPerMps, 2);
        Add(columns, log.AccelerationMps2, "Acceleration [g]", "g", 1 / 9.80665, 3);
        Add(columns, log.TemperatureK, "Temp [C]", "C", 1, 2, -273.15);
        Add(columns, log.Motor, "Motor [%]", "%", 100, 0);
        return columns;
    }

    private static List<Column> Bracketed(LogChannels log)
    {
        List<Column> columns =
        [
            new("Elapsed time (s)", "s", r => Fixed(log.TimeS[r], 2)),
            new("Altitude, barometric (m)", "m", r => Fixed(Altitude(log, r), 2)),
        ];
        Add(columns, log.ClimbRateMps, "Vertical speed (m/s)", "m/s", 1, 2);
        Add(columns, log.LatitudeDeg, "Latitude (deg)", "deg", 1, 7);
        Add(columns, log.LongitudeDeg, "Longitude (deg)", "deg", 1, 7);
        Add(columns, log.GpsAltitudeM, "Altitude, GPS (m)", "m", 1, 1);
        Add(columns, log.GroundSpeedMps, "Speed over ground (m/s)", "m/s", 1, 2);
        Add(columns, log.TrackDeg, "Course over ground (deg)", "deg", 1, 1);
        Add(columns, log.AirspeedMps, "Airspeed (m/s)", "m/s", 1, 2);
        Add(columns, log.AccelerationMps2, "Acceleration (m/s2)", "m/s2", 1, 2);
        Add(columns, log.TemperatureK, "Temperature (degC)", "C", 1, 2, -273.15);
        Add(columns, log.Motor, "Motor (%)", "%", 100, 0);
        return columns;
    }

    private static void Add(List<Column> columns, IReadOnlyList<double>? values, string name, string unit, double scale, int decimals, double offset = 0)
    {
        if (values is not null)
        {
            columns.Add(new(name, unit, r => Fixed(values[r] * scale + offset, decimals)));
        }
    }

    private static double Altitude(LogChannels log, int row) => Atmosphere.PressureAltitudeM(log.PressurePa[row]);

    private static DateTime Stamp(LogChannels log, int row) => log.StartUtc.AddMilliseconds(Math.Round(log.TimeS[row] * 1000));

    private static double EpochS(LogChannels log, int row) => (Stamp(log, row) - DateTime.UnixEpoch).TotalSeconds;

    private static string DegreesMinutes(double degrees, char positive, char negative)
    {
        if (double.IsNaN(degrees))
        {
            return "";
        }
        double minutes = Math.Round(Math.Abs(degrees) * 60, 5);
        double whole = Math.Floor(minutes / 60);
        return string.Create(CultureInfo.InvariantCulture, $"{whole:0}\u00b0{minutes - 60 * whole:00.00000}'{(degrees < 0 ? negative : positive)}");
    }

    private static string Whole(double value) => value.ToString("0", CultureInfo.InvariantCulture);

    /// <summary>Fixed decimals; nothing for a missing value, no negative zero.</summary>
    private static string Fixed(double value, int decimals)
    {
        if (double.IsNaN(value))
        {
            return "";
        }
        double rounded = Math.Round(value, decimals);
        return (rounded == 0 ? 0 : rounded).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }
}

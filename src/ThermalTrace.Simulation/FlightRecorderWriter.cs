using System.Globalization;
using System.Text;

namespace ThermalTrace.Simulation;

/// <summary>
/// The open formats of flight recorders: IGC (FAI technical specification for GNSS flight recorders, appendix A) and
/// GPX 1.1. Both are written at one point a second, values between rows by straight lines.
/// </summary>
internal static class FlightRecorderWriter
{
    private const double LongestBridgeS = 2.5;

    /// <summary>B records with two more digits of position, ground speed and course, airspeed and motor where there are any.</summary>
    public static byte[] Igc(LogChannels log)
    {
        StringBuilder text = new();
        void Line(FormattableString line) => text.Append(line.ToString(CultureInfo.InvariantCulture)).Append("\r\n");
        Line($"AXXXSIM simulated");
        Line($"HFDTE{log.StartUtc:ddMMyy}");
        Line($"HFPLTPILOTINCHARGE:simulated pilot");
        Line($"HFGTYGLIDERTYPE:simulated model");
        Line($"HFDTM100GPSDATUM:WGS-84");
        Line($"HFALGALTGPS:GEO");
        Line($"HFALPALTPRESSURE:ISA");
        Line($"HFTZNTIMEZONE:0");
        List<(string Code, int Width, Func<double, string> Text)> extensions =
        [
            ("LAD", 2, t => Thousandths(At(log, log.LatitudeDeg!, t)).Extra.ToString("00", CultureInfo.InvariantCulture)),
            ("LOD", 2, t => Thousandths(At(log, log.LongitudeDeg!, t)).Extra.ToString("00", CultureInfo.InvariantCulture)),
        ];
        if (log.GroundSpeedMps is { } speed && log.TrackDeg is { } track)
        {
            extensions.Add(("GSP", 3, t => Digits(At(log, speed, t) * 3.6, 3)));
            extensions.Add(("TRT", 3, t => Digits(Nearest(log, track, t), 3)));
        }
        if (log.AirspeedMps is { } airspeed)
        {
            extensions.Add(("IAS", 3, t => Digits(At(log, airspeed, t) * 3.6, 3)));
        }
        if (log.Motor is { } motor)
        {
            extensions.Add(("MOP", 3, t => Digits(At(log, motor, t) * 999, 3)));
        }
        int column = 36;
        text.Append(CultureInfo.InvariantCulture, $"I{extensions.Count:00}");
        foreach ((string code, int width, _) in extensions)
        {
            text.Append(CultureInfo.InvariantCulture, $"{column:00}{column + width - 1:00}{code}");
            column += width;
        }
        text.Append("\r\n");

        string lastPosition = "0000000N00000000E";
        foreach ((DateTime stamp, double t) in Seconds(log))
        {
            double latitude = At(log, log.LatitudeDeg!, t);
            double longitude = At(log, log.LongitudeDeg!, t);
            bool fix = !double.IsNaN(latitude) && !double.IsNaN(longitude);
            if (fix)
            {
                (int latitudeDegrees, int latitudeThousandths, _) = Thousandths(latitude);
                (int longitudeDegrees, int longitudeThousandths, _) = Thousandths(longitude);
                lastPosition = string.Create(CultureInfo.InvariantCulture,
                    $"{latitudeDegrees:00}{latitudeThousandths:00000}{(latitude < 0 ? 'S' : 'N')}{longitudeDegrees:000}{longitudeThousandths:00000}{(longitude < 0 ? 'W' : 'E')}");
            }
            double gpsAltitude = log.GpsAltitudeM is null ? double.NaN : At(log, log.GpsAltitudeM, t);
            text.Append(CultureInfo.InvariantCulture,
                $"B{stamp:HHmmss}{lastPosition}{(fix ? 'A' : 'V')}{Digits(Atmosphere.PressureAltitudeM(At(log, log.PressurePa, t)), 5)}{Digits(fix ? gpsAltitude : 0, 5)}");
            foreach ((_, _, Func<double, string> value) in extensions)
            {
                text.Append(value(t));
            }
            text.Append("\r\n");
        }
        return Encoding.ASCII.GetBytes(text.ToString());
    }

    /// <summary>Track points; the elevation is the barometric altitude, as recorders with a barometer write it.</summary>
    public static byte[] Gpx(LogChannels log)
    {
        StringBuilder text = new();
        text.Append("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
        text.Append("<gpx version=\"1.1\" creator=\"simulated\" xmlns=\"http://www.topografix.com/GPX/1/1\">\n<trk><name>simulated</name>\n<trkseg>\n");
        double before = double.NaN;
        foreach ((DateTime stamp, double t) in Seconds(log))
        {
            double latitude = At(log, log.LatitudeDeg!, t);
            double longitude = At(log, log.LongitudeDeg!, t);
            if (double.IsNaN(latitude) || double.IsNaN(longitude))
            {
                continue;
            }
            if (t - before > LongestBridgeS)
            {
                text.Append("</trkseg>\n<trkseg>\n");
            }
            before = t;
            double altitude = Atmosphere.PressureAltitudeM(At(log, log.PressurePa, t));
            text.Append(CultureInfo.InvariantCulture,
                $"<trkpt lat=\"{latitude:F7}\" lon=\"{longitude:F7}\"><ele>{altitude:F2}</ele><time>{stamp:yyyy-MM-dd'T'HH:mm:ss'Z'}</time></trkpt>\n");
        }
        text.Append("</trkseg>\n</trk>\n</gpx>\n");
        return Encoding.UTF8.GetBytes(text.ToString());
    }

    /// <summary>Whole seconds of the clock that the log has rows around, with their time in the log.</summary>
    private static IEnumerable<(DateTime Stamp, double TimeS)> Seconds(LogChannels log)
    {
        double first = log.TimeS.Min();
        double last = log.TimeS.Max();
        DateTime start = log.StartUtc.AddSeconds(first);
        DateTime stamp = new DateTime(start.Ticks / TimeSpan.TicksPerSecond * TimeSpan.TicksPerSecond, DateTimeKind.Utc).AddSeconds(1);
        for (double t = (stamp - log.StartUtc).TotalSeconds; t <= last; t += 1, stamp = stamp.AddSeconds(1))
        {
            int after = RowAfter(log, t);
            if (after < log.TimeS.Count && (after == 0 || log.TimeS[after] - log.TimeS[after - 1] < LongestBridgeS))
            {
                yield return (stamp, t);
            }
        }
    }

    private static double At(LogChannels log, IReadOnlyList<double> values, double timeS)
    {
        int after = Math.Clamp(RowAfter(log, timeS), 1, log.TimeS.Count - 1);
        double span = log.TimeS[after] - log.TimeS[after - 1];
        double part = span > 0 ? Math.Clamp((timeS - log.TimeS[after - 1]) / span, 0, 1) : 0;
        return part == 0 ? values[after - 1] : part == 1 ? values[after] : values[after - 1] + (values[after] - values[after - 1]) * part;
    }

    private static double Nearest(LogChannels log, IReadOnlyList<double> values, double timeS)
    {
        int after = Math.Clamp(RowAfter(log, timeS), 1, log.TimeS.Count - 1);
        return log.TimeS[after] - timeS < timeS - log.TimeS[after - 1] ? values[after] : values[after - 1];
    }

    /// <summary>First row at or after a time; rows out of order do no more harm than their own displacement.</summary>
    private static int RowAfter(LogChannels log, double timeS)
    {
        int low = 0, high = log.TimeS.Count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = log.TimeS[middle] < timeS ? (middle + 1, high) : (low, middle);
        }
        return low;
    }

    /// <summary>Degrees, thousandths of a minute, and the two digits that follow.</summary>
    private static (int Degrees, int Thousandths, int Extra) Thousandths(double degrees)
    {
        if (double.IsNaN(degrees))
        {
            return (0, 0, 0);
        }
        long units = (long)Math.Round(Math.Abs(degrees) * 6_000_000);
        return ((int)(units / 6_000_000), (int)(units % 6_000_000 / 100), (int)(units % 100));
    }

    private static string Digits(double value, int width)
    {
        double whole = double.IsNaN(value) ? 0 : Math.Round(value);
        return whole < 0
            ? "-" + (-whole).ToString(new string('0', width - 1), CultureInfo.InvariantCulture)
            : whole.ToString(new string('0', width), CultureInfo.InvariantCulture);
    }
}

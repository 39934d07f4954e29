using System.Globalization;
using System.Text;
using ThermalTrace.Logs;

namespace ThermalTrace.Tests.Logs;

/// <summary>
/// A way to write a log, one of the many in which loggers do. <see cref="Write"/> gives any log's columns in it, with all the
/// digits that a double has, so that reading it back must give the same numbers.
/// </summary>
internal sealed record LogFlavour(string Name)
{
    public char Separator { get; init; } = ',';
    public char DecimalMark { get; init; } = '.';
    public string NewLine { get; init; } = "\n";
    public Encoding Encoding { get; init; } = new UTF8Encoding(false);
    public bool ByteOrderMark { get; init; }
    public bool QuoteAll { get; init; }
    public string Before { get; init; } = "";

    /// <summary>Headers of the time columns, and the fields of one row.</summary>
    public IReadOnlyList<string> TimeHeaders { get; init; } = ["time_s"];
    public Func<DateTimeOffset, double, IReadOnlyList<string>> Time { get; init; } = (_, s) => [Number(s)];

    /// <summary>Headers of the position columns, and their fields.</summary>
    public IReadOnlyList<string> PositionHeaders { get; init; } = ["latitude", "longitude"];
    public Func<double, double, IReadOnlyList<string>> Position { get; init; } = (lat, lon) => [Number(lat), Number(lon)];

    /// <summary>Header and factor from SI of every other channel.</summary>
    public IReadOnlyDictionary<Quantity, (string Header, Func<double, double> FromSi)> Channels { get; init; } = Si;

    /// <summary>Fields of a units row; empty for none.</summary>
    public IReadOnlyList<string> Units { get; init; } = [];

    public static IReadOnlyDictionary<Quantity, (string Header, Func<double, double> FromSi)> Si { get; } = new Dictionary<Quantity, (string, Func<double, double>)>
    {
        [Quantity.Altitude] = ("altitude_m", v => v),
        [Quantity.ClimbRate] = ("vario_mps", v => v),
        [Quantity.GpsAltitude] = ("gps_altitude_m", v => v),
        [Quantity.GroundSpeed] = ("ground_speed_mps", v => v),
        [Quantity.Track] = ("track_deg", v => v),
    };

    public override string ToString() => Name;

    public static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    /// <summary>The log in this flavour; channels that the log lacks are left out.</summary>
    public byte[] Write(FlightLog log)
    {
        DateTimeOffset start = log.StartedAt ?? new DateTimeOffset(2026, 5, 9, 10, 0, 0, 50, TimeSpan.Zero);
        Quantity[] present = [.. Channels.Keys.Where(log.Has)];
        bool position = log.Has(Quantity.Latitude);
        StringBuilder text = new(Before.Replace("\n", NewLine, StringComparison.Ordinal));
        Row(text, [.. TimeHeaders, .. position ? PositionHeaders : [], .. present.Select(q => Channels[q].Header)], false);
        if (Units.Count > 0)
        {
            Row(text, Units, false);
        }
        for (int i = 0; i < log.Rows; i++)
        {
            double t = log.TimeS[i];
            DateTimeOffset at = start.AddTicks((long)Math.Round(t * TimeSpan.TicksPerSecond));
            List<string> fields = [.. Time(at, t)];
            if (position)
            {
                double latitude = log[Quantity.Latitude][i];
                fields.AddRange(double.IsNaN(latitude) ? PositionHeaders.Select(_ => "") : Position(latitude, log[Quantity.Longitude][i]));
            }
            foreach (Quantity quantity in present)
            {
                double value = log[quantity][i];
                fields.Add(double.IsNaN(value) ? "" : Number(Channels[quantity].FromSi(value)));
            }
            Row(text, fields, true);
        }
        byte[] body = Encoding.GetBytes(text.ToString());
        return ByteOrderMark ? [.. Encoding.GetPreamble(), .. body] : body;
    }

    private void Row(StringBuilder text, IReadOnlyList<string> fields, bool data)
    {
        for (int i = 0; i < fields.Count; i++)
        {
            string field = data && DecimalMark != '.' && fields[i].All(c => char.IsDigit(c) || c is '.' or '-' or ' ' or 'E') ? fields[i].Replace('.', DecimalMark) : fields[i];
            bool quote = QuoteAll || field.Contains(Separator, StringComparison.Ordinal);
            text.Append(i > 0 ? Separator : "").Append(quote ? "\"" : "").Append(quote ? field.Replace("\"", "\"\"", StringComparison.Ordinal) : field).Append(quote ? "\"" : "");
        }
        text.Append(NewLine);
    }

    private static string At(DateTimeOffset at, string format) => at.ToString(format, CultureInfo.InvariantCulture);

    private static string DegreesAndMinutes(double value, int width)
    {
        double degrees = Math.Floor(Math.Abs(value));
        return degrees.ToString(new string('0', width), CultureInfo.InvariantCulture) + " " + ((Math.Abs(value) - degrees) * 60).ToString("00.00000000", CultureInfo.InvariantCulture);
    }

    private static string DegreesMinutesSeconds(double value)
    {
        double degrees = Math.Floor(Math.Abs(value)), minutes = Math.Floor((Math.Abs(value) - degrees) * 60);
        double seconds = ((Math.Abs(value) - degrees) * 60 - minutes) * 60;
        return $"{degrees:0}°{minutes:00}'{seconds.ToString("00.000000", CultureInfo.InvariantCulture)}\"";
    }

    private static Dictionary<Quantity, (string, Func<double, double>)> Named(string altitude, string climb, string gpsAltitude, string speed, string track) => new()
    {
        [Quantity.Altitude] = (altitude, v => v),
        [Quantity.ClimbRate] = (climb, v => v),
        [Quantity.GpsAltitude] = (gpsAltitude, v => v),
        [Quantity.GroundSpeed] = (speed, v => v),
        [Quantity.Track] = (track, v => v),
    };

    private static readonly Dictionary<Quantity, (string, Func<double, double>)> Imperial = new()
    {
        [Quantity.Altitude] = ("Altitude [ft]", v => v / 0.3048),
        [Quantity.ClimbRate] = ("Climb (ft/min)", v => v / 0.3048 * 60),
        [Quantity.GpsAltitude] = ("GPS Alt {ft}", v => v / 0.3048),
        [Quantity.GroundSpeed] = ("Ground speed <mph>", v => v / 0.44704),
        [Quantity.Track] = ("Course [rad]", v => v * Math.PI / 180),
    };

    private static readonly Dictionary<Quantity, (string, Func<double, double>)> Metric = new()
    {
        [Quantity.Altitude] = ("Height (km)", v => v / 1000),
        [Quantity.ClimbRate] = ("VSI [m/min]", v => v * 60),
        [Quantity.GpsAltitude] = ("GAlt(cm)", v => v * 100),
        [Quantity.GroundSpeed] = ("GSpd(kmh)", v => v * 3.6),
        [Quantity.Track] = ("Hdg(°)", v => v),
    };

    private static readonly Dictionary<Quantity, (string, Func<double, double>)> Knots = new()
    {
        [Quantity.Pressure] = ("Static pressure [hPa]", v => v / 100),
        [Quantity.ClimbRate] = ("climb rate [kn]", v => v * 3600 / 1852),
        [Quantity.GpsAltitude] = ("GNSS altitude [m]", v => v),
        [Quantity.GroundSpeed] = ("SOG [kts]", v => v * 3600 / 1852),
        [Quantity.Track] = ("COG [deg]", v => v),
        [Quantity.Temperature] = ("OAT [°F]", v => v * 1.8 - 459.67),
    };

    /// <summary>Every flavour in which a log may come, made of delimited text.</summary>
    public static IReadOnlyList<LogFlavour> All { get; } =
    [
        new("comma, point, LF"),
        new("semicolon, decimal comma, CRLF, byte order mark") { Separator = ';', DecimalMark = ',', NewLine = "\r\n", ByteOrderMark = true, Encoding = new UTF8Encoding(true) },
        new("tab, CR") { Separator = '\t', NewLine = "\r" },
        new("bar") { Separator = '|' },
        new("comma, quoted decimal commas") { DecimalMark = ',' },
        new("tab, decimal comma, quoted") { Separator = '\t', DecimalMark = ',', QuoteAll = true, NewLine = "\r\n" },
        new("all quoted") { QuoteAll = true },
        new("UTF-16 little-endian, marked") { Encoding = new UnicodeEncoding(false, true), ByteOrderMark = true, Separator = '\t' },
        new("UTF-16 big-endian, marked") { Encoding = new UnicodeEncoding(true, true), ByteOrderMark = true },
        new("UTF-16 little-endian, unmarked") { Encoding = new UnicodeEncoding(false, false), NewLine = "\r\n" },
        new("Latin-1 with a degree sign") { Encoding = Encoding.Latin1, Channels = Named("Höhe/altitude [m]".Replace("Höhe/", "", StringComparison.Ordinal), "vario (m/s)", "gps altitude (m)", "speed (m/s)", "course (°)") },
        new("comments and blanks before the header") { Before = "# logger 3, firmware 1.02\n# battery 4.1 V\n\n\nPilot: A. Nemo, Field: nowhere\n\n" },
        new("header behind a comment mark") { Before = "# made by hand\n# ", TimeHeaders = ["time_s"] },
        new("a line that names the separator") { Separator = ';', Before = "sep=;\n" },
        new("units row") { TimeHeaders = ["Time"], PositionHeaders = ["Lat", "Lon"], Channels = Named("Altitude", "Vario", "GPS altitude", "Speed", "Course"), Units = ["s", "deg", "deg", "m", "m/s", "m", "m/s", "deg"] },
        new("units row in brackets") { TimeHeaders = ["Time"], PositionHeaders = ["Lat", "Lon"], Channels = Named("Altitude", "Vario", "GPS altitude", "Speed", "Course"), Units = ["[s]", "[°]", "[°]", "[m]", "[m/s]", "[m]", "[m/s]", "[°]"] },
        new("units after a comma") { QuoteAll = true, Channels = Named("Altitude, m", "Climb rate, m/s", "GPS height, m", "Ground speed, m/s", "Track, deg") },
        new("units after a slash") { Channels = Named("Altitude/m", "Vario/m/s", "GPS altitude/m", "Groundspeed/mps", "Track/deg") },
        new("run together") { Channels = Named("AltM", "VarioMps", "GpsAltM", "GroundSpeedMps", "TrackDeg") },
        new("feet and miles") { Channels = Imperial },
        new("kilometres and centimetres") { Channels = Metric },
        new("pressure, knots and Fahrenheit") { Channels = Knots },
        new("milliseconds") { TimeHeaders = ["timestamp_ms"], Time = (_, s) => [Number(Math.Round(s * 1000))] },
        new("microseconds") { TimeHeaders = ["time_us"], Time = (_, s) => [Number(Math.Round(s * 1e6))] },
        new("milliseconds without a unit") { TimeHeaders = ["Time"], Time = (_, s) => [Number(Math.Round(s * 1000))] },
        new("ISO 8601, UTC") { TimeHeaders = ["timestamp"], Time = (at, _) => [At(at, "yyyy-MM-ddTHH:mm:ss.fffZ")] },
        new("ISO 8601, offset") { TimeHeaders = ["Date and time"], Time = (at, _) => [At(at.ToOffset(TimeSpan.FromHours(2)), "yyyy-MM-ddTHH:mm:ss.fffzzz")] },
        new("ISO 8601, space, decimal comma") { Separator = ';', TimeHeaders = ["DateTime"], Time = (at, _) => [At(at, "yyyy-MM-dd HH:mm:ss,fff")] },
        new("clock") { TimeHeaders = ["clock"], Time = (at, _) => [At(at, "HH:mm:ss.fff")] },
        new("clock, am and pm") { TimeHeaders = ["Time"], Time = (at, _) => [At(at, "h:mm:ss.fff tt")] },
        new("clock past midnight") { TimeHeaders = ["UTC"], Time = (at, _) => [At(at.AddHours(13).AddSeconds(3540), "HH:mm:ss.fff")] },
        new("date and clock, ISO") { TimeHeaders = ["date", "time"], Time = (at, _) => [At(at, "yyyy-MM-dd"), At(at, "HH:mm:ss.fff")] },
        new("date and clock, day first") { Separator = ';', TimeHeaders = ["Day", "Clock"], Time = (at, _) => [At(at, "dd.MM.yyyy"), At(at, "HH:mm:ss.fff")] },
        new("date and clock in one, month first") { TimeHeaders = ["Date"], Time = (at, _) => [At(at.AddDays(10), "MM/dd/yyyy hh:mm:ss.fff tt")] },
        new("receiver's date and clock") { TimeHeaders = ["GPS date", "UTC"], Time = (at, _) => [At(at, "ddMMyy"), At(at, "HHmmss.fff")] },
        new("epoch seconds") { TimeHeaders = ["epoch"], Time = (at, _) => [(at.ToUnixTimeMilliseconds() / 1000m).ToString("F3", CultureInfo.InvariantCulture)] },
        new("epoch milliseconds") { TimeHeaders = ["time"], Time = (at, _) => [at.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture)] },
        new("position in one column") { PositionHeaders = ["GPS"], Position = (lat, lon) => [Number(lat) + " " + Number(lon)] },
        new("position in one column, comma") { PositionHeaders = ["position"], Position = (lat, lon) => [Number(lat) + ", " + Number(lon)] },
        new("position in one column, letters") { Separator = ';', PositionHeaders = ["Lat/Lon"], Position = (lat, lon) => ["N" + Number(lat) + " E" + Number(lon)] },
        new("position in one column, decimal commas") { Separator = ';', DecimalMark = ',', PositionHeaders = ["coordinates"], Position = (lat, lon) => [Number(lat) + " " + Number(lon)] },
        new("degrees and minutes with letters") { PositionHeaders = ["lat", "lng"], Position = (lat, lon) => [DegreesAndMinutes(lat, 2) + " N", DegreesAndMinutes(lon, 3) + " E"] },
        new("degrees and minutes run together") { PositionHeaders = ["Latitude", "Longitude"], Position = (lat, lon) => [DegreesAndMinutes(lat, 2).Replace(" ", "", StringComparison.Ordinal), DegreesAndMinutes(lon, 3).Replace(" ", "", StringComparison.Ordinal)] },
        new("degrees, minutes and seconds") { PositionHeaders = ["Latitude", "Longitude"], Position = (lat, lon) => [DegreesMinutesSeconds(lat) + "N", DegreesMinutesSeconds(lon) + "E"] },
        new("whole ten-millionths of a degree") { PositionHeaders = ["lat", "lon"], Position = (lat, lon) => [Number(Math.Round(lat * 1e7)), Number(Math.Round(lon * 1e7))] },
        new("radians") { PositionHeaders = ["lat_rad", "lon_rad"], Position = (lat, lon) => [Number(lat * Math.PI / 180), Number(lon * Math.PI / 180)] },
    ];
}

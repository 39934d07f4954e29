using System.Buffers.Text;
using System.Text;
using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>
/// Reads FAI IGC recordings (IGC data file standard, appendix A): B records with the extensions that the I record declares.
/// </summary>
internal static class IgcReader
{
    /// <summary>Length of a B record without extensions.</summary>
    private const int FixLength = 35;

    private const int MaxLineBytes = 4096;

    /// <summary>An extension that is read: its code in the standard, what it is, and SI over the digits' last place.</summary>
    private sealed record Extension(string Code, Quantity Quantity, string Unit, double Multiply, double Divide, double Zero = 0);

    // Speeds and angles without decimals unless the field is longer than the standard's; see FieldScale.
    private static readonly Extension[] Known =
    [
        new("GSP", Quantity.GroundSpeed, "km/h", 1, 3.6),
        new("TRT", Quantity.Track, "°", 1, 1),
        new("IAS", Quantity.Airspeed, "km/h", 1, 3.6),
        new("TAS", Quantity.Airspeed, "km/h", 1, 3.6),
        new("VAT", Quantity.ClimbRate, "m/s", 1, 1),
        new("VAR", Quantity.ClimbRate, "m/s", 1, 1),
        new("OAT", Quantity.Temperature, "°C", 1, 1, -273.15),
        new("ACZ", Quantity.VerticalAcceleration, "g", 9.80665, 1),
        new("RPM", Quantity.Motor, "rpm", 1, 1),
    ];

    private sealed record Field(Extension Extension, int From, int To)
    {
        public ColumnBuffer Values { get; } = new();
    }

    /// <summary>True for a B record: time, position, validity, two altitudes.</summary>
    public static bool IsFix(ReadOnlySpan<byte> line) =>
        line.Length >= FixLength && line[0] == 'B' && AllDigits(line[1..14]) && line[14] is (byte)'N' or (byte)'S'
        && AllDigits(line[15..23]) && line[23] is (byte)'E' or (byte)'W' && line[24] is (byte)'A' or (byte)'V';

    /// <exception cref="UnusableInputException">No fix could be read.</exception>
    public static RawLog Read(Utf8Stream text, string name, ProblemList problems)
    {
        Recording recording = new(problems);
        using StreamLines lines = new(text, MaxLineBytes);
        while (lines.Next(out ReadOnlySpan<byte> line, out int number, out bool tooLong))
        {
            if (tooLong)
            {
                problems.Count(ProblemKind.BadRecord, 0, number, default, (_, n) => $"{Words.Count(n, "line")} of more than {MaxLineBytes:N0} bytes passed over");
                continue;
            }
            recording.Add(line, number);
        }
        return recording.Finish(name);
    }

    private static bool AllDigits(ReadOnlySpan<byte> text) => text.IndexOfAnyExceptInRange((byte)'0', (byte)'9') < 0;

    private sealed class Recording(ProblemList problems)
    {
        private readonly ColumnBuffer _ticks = new(), _latitude = new(), _longitude = new(), _pressureAltitude = new(), _gpsAltitude = new();
        private readonly List<int> _lines = [];
        private readonly List<string> _notUsed = [];

        /// <summary>Where further digits stand: of latitude (LAD), longitude (LOD) and seconds (TDS).</summary>
        private readonly Dictionary<string, Range> _digits = [];
        private List<Field> _fields = [];
        private long _day = -1, _base, _previousClock = -1;
        private int _midnights, _flat, _firstFlat;
        private bool _ellipsoid, _geoid, _anyPressure, _anyGps;

        public void Add(ReadOnlySpan<byte> line, int number)
        {
            line = line.TrimEnd(" \t"u8);
            if (line.Length == 0)
            {
                return;
            }
            switch (line[0])
            {
                case (byte)'B' when IsFix(line):
                    AddFix(line, number);
                    break;
                case (byte)'B':
                    problems.Count(ProblemKind.BadRecord, 1, number, line, (example, n) => $"\"{example}\" is not a whole B record; {Words.Count(n, "such line")} skipped");
                    break;
                case (byte)'I' when _fields.Count == 0:
                    Declare(line, number);
                    break;
                case (byte)'H':
                    Header(line, number);
                    break;
                default:
                    break;
            }
        }

        /// <summary><c>HFDTE170717</c> or <c>HFDTEDATE:170717,01</c>; and what is said of the altitude's datum.</summary>
        private void Header(ReadOnlySpan<byte> line, int number)
        {
            if (line.Length > 5 && line[2..5].SequenceEqual("DTE"u8))
            {
                int at = line[5..].IndexOfAnyInRange((byte)'0', (byte)'9');
                if (at >= 0 && line.Length >= 5 + at + 6 && TimeText.TryDate(line.Slice(5 + at, 6), DateOrder.DayMonthYear, out int days, out _))
                {
                    // A second date record in one file begins a new day.
                    if (_day < 0 || _lines.Count == 0)
                    {
                        _day = days;
                    }
                    else
                    {
                        _midnights = (int)(days - _day);
                        _previousClock = -1;
                    }
                }
                else
                {
                    problems.Add(number, $"\"{ProblemList.Quote(line)}\" is not a date; expected HFDTE and ddmmyy");
                }
            }
            else if (line.IndexOf("ALG"u8) == 2 || line.IndexOf("ALTGPS"u8) >= 0)
            {
                _ellipsoid |= line.IndexOf("ELL"u8) >= 0;
                _geoid |= line.IndexOf("GEO"u8) >= 0;
            }
        }

        /// <summary><c>I053638FXA3940SIU…</c>: a count, then first byte, last byte and code of each extension.</summary>
        private void Declare(ReadOnlySpan<byte> line, int number)
        {
            if (line.Length < 3 || !Utf8Parser.TryParse(line[1..3], out int count, out int used) || used != 2 || line.Length < 3 + 7 * count)
            {
                problems.Add(number, $"\"{ProblemList.Quote(line)}\" is not a whole I record; its extensions were not read");
                return;
            }
            for (int i = 0; i < count; i++)
            {
                ReadOnlySpan<byte> entry = line.Slice(3 + 7 * i, 7);
                if (!Utf8Parser.TryParse(entry[..2], out int from, out used) || used != 2 || !Utf8Parser.TryParse(entry[2..4], out int to, out used) || used != 2
                    || from <= FixLength || to < from)
                {
                    problems.Add(number, $"extension \"{ProblemList.Quote(entry)}\" of the I record is not understood; it was not read");
                    continue;
                }
                string code = Encoding.ASCII.GetString(entry[4..]).ToUpperInvariant();
                if (code is "LAD" or "LOD" or "TDS")
                {
                    _digits[code] = (from - 1)..to;
                }
                else if (Array.Find(Known, e => e.Code == code) is Extension extension)
                {
                    _fields.Add(new Field(extension, from, to));
                }
                else
                {
                    _notUsed.Add(ProblemList.Quote(entry[4..]));
                }
            }
            // Two codes for one quantity: the table's order says which is the better.
            _fields = [.. _fields.GroupBy(f => f.Extension.Quantity).Select(g => g.MinBy(f => Array.IndexOf(Known, f.Extension))!)];
            // Fixes before the record, as where two files were put together, have none of them.
            foreach (Field field in _fields)
            {
                for (int i = 0; i < _lines.Count; i++)
                {
                    field.Values.Add(double.NaN);
                }
            }
        }

        private void AddFix(ReadOnlySpan<byte> line, int number)
        {
            int hours = Number(line.Slice(1, 2)), minutes = Number(line.Slice(3, 2)), seconds = Number(line.Slice(5, 2));
            double latitude = Number(line.Slice(7, 2)) + (Number(line.Slice(9, 5)) + Further(line, "LAD")) / 60_000.0;
            double longitude = Number(line.Slice(15, 3)) + (Number(line.Slice(18, 5)) + Further(line, "LOD")) / 60_000.0;
            if (hours > 23 || minutes > 59 || seconds > 60 || Number(line.Slice(9, 2)) > 59 || Number(line.Slice(18, 2)) > 59 || latitude > 90 || longitude > 180)
            {
                problems.Count(ProblemKind.BadRecord, 1, number, line, (example, n) => $"\"{example}\" is not a whole B record; {Words.Count(n, "such line")} skipped");
                return;
            }
            long clock = (hours * 60L + minutes) * 60 + seconds;
            if (_previousClock >= 0 && clock < _previousClock - 43_200)
            {
                _midnights++;
            }
            _previousClock = clock;
            long ticks = (Math.Max(_day, 0) + _midnights) * TimeSpan.TicksPerDay + clock * TimeSpan.TicksPerSecond
                + (long)Math.Round(Further(line, "TDS") * TimeSpan.TicksPerSecond);
            if (_lines.Count == 0)
            {
                _base = ticks;
            }
            _ticks.Add(ticks - _base);
            _lines.Add(number);
            bool fix = line[24] == 'A';
            if (!fix)
            {
                _firstFlat = _flat++ == 0 ? number : _firstFlat;
            }
            // V: two dimensions or no fix at all; the height over ground of such a fix is worthless, its position is kept unless 0, 0.
            _latitude.Add(line[14] == 'S' ? -latitude : latitude);
            _longitude.Add(line[23] == 'W' ? -longitude : longitude);
            double pressureAltitude = SignedNumber(line.Slice(25, 5)), gps = SignedNumber(line.Slice(30, 5));
            _anyPressure |= pressureAltitude != 0 && !double.IsNaN(pressureAltitude);
            _anyGps |= fix && gps != 0 && !double.IsNaN(gps);
            _pressureAltitude.Add(pressureAltitude);
            _gpsAltitude.Add(fix ? gps : double.NaN);
            foreach (Field field in _fields)
            {
                field.Values.Add(Extended(line, field));
            }
        }

        /// <summary>Digits that go on where a field of the main body ends, as a fraction of its last place; 0 where there are none.</summary>
        private double Further(ReadOnlySpan<byte> line, string code) =>
            _digits.TryGetValue(code, out Range range) && line.Length >= range.End.Value && AllDigits(line[range])
                ? Number(line[range]) / Math.Pow(10, range.End.Value - range.Start.Value)
                : 0;

        /// <summary>An extension's value; longer fields than the standard's three digits carry decimals by its own table of sizes.</summary>
        private static double Extended(ReadOnlySpan<byte> line, Field field)
        {
            if (line.Length < field.To)
            {
                return double.NaN;
            }
            ReadOnlySpan<byte> text = line[(field.From - 1)..field.To];
            double value = SignedNumber(text);
            int decimals = (field.Extension.Code, text.Length) switch
            {
                // VAR and VAT: m/s with one decimal in four bytes (sign, two digits, one decimal), two in five.
                ("VAR" or "VAT", 3 or 4) => 1,
                ("VAR" or "VAT", >= 5) => 2,
                // Speeds: three digits of km/h; further digits are decimals.
                ("GSP" or "IAS" or "TAS", > 3) => text.Length - 3,
                // OAT: sign or digit, two digits, then decimals.
                ("OAT", > 3) => text.Length - 3,
                // ACZ: hundredths of g.
                ("ACZ", _) => Math.Max(0, text.Length - 2),
                _ => 0,
            };
            Extension e = field.Extension;
            return (value / Math.Pow(10, decimals) - e.Zero) * e.Multiply / e.Divide;
        }

        private static int Number(ReadOnlySpan<byte> digits) => Utf8Parser.TryParse(digits, out int value, out _) ? value : 0;

        private static double SignedNumber(ReadOnlySpan<byte> text) =>
            NumberText.TryParse(text, out double value, out _) ? value : double.NaN;

        public RawLog Finish(string name)
        {
            if (_lines.Count == 0)
            {
                throw new UnusableInputException($"{name}: no fix in this IGC file; looked for B records such as B1353235105725N00657283EA0041200490");
            }
            if (!_anyPressure && !_anyGps)
            {
                throw new UnusableInputException($"{name}: both altitudes of every B record are 0; nothing says how high the model was");
            }
            if (_day < 0)
            {
                problems.Add(0, "no date (HFDTE record); the clock is known, the day is not");
            }
            if (_flat > 0)
            {
                problems.Add(_firstFlat, $"{Words.Count(_flat, "fix", "fixes")} marked V (no height from satellites); GPS altitude left out there");
            }
            if (_notUsed.Count > 0)
            {
                problems.Add(0, $"{Words.Count(_notUsed.Count, "extension")} of the B record not used: {string.Join(", ", _notUsed)}");
            }
            Dictionary<Quantity, double[]> columns = new()
            {
                [Quantity.Latitude] = _latitude.ToArray(),
                [Quantity.Longitude] = _longitude.ToArray(),
            };
            List<LogChannel> channels =
            [
                new(Quantity.Time, "B record, UTC", "clock"),
                new(Quantity.Latitude, "B record", "°"),
                new(Quantity.Longitude, "B record", "°"),
            ];
            if (_anyPressure)
            {
                columns[Quantity.Altitude] = _pressureAltitude.ToArray();
                channels.Add(new LogChannel(Quantity.Altitude, "B record, pressure altitude (1013.25 hPa)", "m"));
            }
            else
            {
                problems.Add(0, "the pressure altitude is 0 throughout: this recorder has no barometer");
            }
            if (_anyGps)
            {
                string datum = _ellipsoid ? "above the ellipsoid" : _geoid ? "above the geoid" : "datum not stated";
                columns[Quantity.GpsAltitude] = _gpsAltitude.ToArray();
                channels.Add(new LogChannel(Quantity.GpsAltitude, $"B record, GNSS altitude ({datum})", "m"));
                if (!_ellipsoid && !_geoid)
                {
                    problems.Add(0, "the datum of the GNSS altitude is not stated: above the WGS 84 ellipsoid by the specification, above the geoid (sea level) in some recorders, tens of metres apart");
                }
            }
            foreach (Field field in _fields)
            {
                columns[field.Extension.Quantity] = field.Values.ToArray();
                channels.Add(new LogChannel(field.Extension.Quantity, $"B record, {field.Extension.Code}", field.Extension.Unit));
            }
            return new RawLog
            {
                Ticks = _ticks.ToArray(),
                BaseTicks = _base,
                Lines = [.. _lines],
                Columns = columns,
                Channels = channels,
                HasClock = true,
                HasDate = _day >= 0,
                OffsetMinutes = 0,
            };
        }
    }
}

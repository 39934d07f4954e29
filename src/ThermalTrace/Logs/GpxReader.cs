using System.Globalization;
using System.Text;
using System.Xml;
using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>
/// Reads GPX 1.1 (and 1.0) tracks: points of all tracks and segments in file order. No document type, no entities, nothing fetched.
/// </summary>
internal static class GpxReader
{
    private const int MaxPoints = 20_000_000;

    /// <summary>What an element within a point means, by its local name whatever its name space; units as the open schemas have them.</summary>
    private static readonly Dictionary<string, (Quantity Quantity, string Unit)> Elements = new(StringComparer.OrdinalIgnoreCase)
    {
        ["ele"] = (Quantity.GpsAltitude, "m"),
        ["speed"] = (Quantity.GroundSpeed, "m/s"),
        ["course"] = (Quantity.Track, "°"),
        ["atemp"] = (Quantity.Temperature, "°C"),
        ["temp"] = (Quantity.Temperature, "°C"),
        ["vspeed"] = (Quantity.ClimbRate, "m/s"),
        ["verticalspeed"] = (Quantity.ClimbRate, "m/s"),
        ["baroaltitude"] = (Quantity.Altitude, "m"),
        ["pressure"] = (Quantity.Pressure, "hPa"),
    };

    /// <exception cref="UnusableInputException">No well-formed GPX, or no point with a time.</exception>
    public static RawLog Read(Stream stream, string name, ProblemList problems)
    {
        Points points = new(problems);
        XmlReaderSettings settings = new()
        {
            DtdProcessing = DtdProcessing.Prohibit,
            XmlResolver = null,
            IgnoreComments = true,
            IgnoreProcessingInstructions = true,
            IgnoreWhitespace = true,
            MaxCharactersFromEntities = 1024,
        };
        try
        {
            using XmlReader xml = XmlReader.Create(stream, settings);
            while (xml.Read())
            {
                if (xml.NodeType == XmlNodeType.Element && xml.LocalName is "trkpt")
                {
                    points.Add(xml);
                    if (points.Count > MaxPoints)
                    {
                        throw new UnusableInputException($"{name}: more than {MaxPoints:N0} points; split the log");
                    }
                }
                else if (xml.NodeType == XmlNodeType.Element && xml.LocalName is "rtept" or "wpt")
                {
                    points.OtherPoints++;
                }
            }
        }
        catch (XmlException e)
        {
            string what = e.Message.Contains("DTD", StringComparison.Ordinal) ? "a document type is not allowed in a log" : "not well-formed XML";
            if (points.Count == 0)
            {
                throw new UnusableInputException($"{name}:{e.LineNumber}: {what}; expected GPX 1.1 with trkpt elements");
            }
            problems.Add(e.LineNumber, $"{what} from here on: the file breaks off; {Words.Count(points.Count, "point")} before it were read");
        }
        return points.Finish(name);
    }

    private sealed class Points(ProblemList problems)
    {
        private readonly ColumnBuffer _ticks = new(), _latitude = new(), _longitude = new();
        private readonly Dictionary<Quantity, (ColumnBuffer Values, string Element, string Unit)> _channels = [];
        private readonly List<int> _lines = [];
        private long _base;
        private int _noTime;
        private int? _offset;

        public int Count => _lines.Count;

        public int OtherPoints { get; set; }

        public void Add(XmlReader xml)
        {
            int line = xml is IXmlLineInfo info && info.HasLineInfo() ? info.LineNumber : 0;
            double latitude = Coordinate(xml.GetAttribute("lat"), 90, line), longitude = Coordinate(xml.GetAttribute("lon"), 180, line);
            string? time = null;
            Dictionary<Quantity, double> values = [];
            if (!xml.IsEmptyElement)
            {
                int depth = xml.Depth;
                while (xml.Read() && !(xml.NodeType == XmlNodeType.EndElement && xml.Depth == depth))
                {
                    if (xml.NodeType != XmlNodeType.Element || xml.IsEmptyElement)
                    {
                        continue;
                    }
                    string element = xml.LocalName;
                    if (element != "time" && !Elements.ContainsKey(element))
                    {
                        continue;
                    }
                    string content = Text(xml);
                    if (element == "time")
                    {
                        time = content;
                    }
                    else
                    {
                        Value(element, content, line, values);
                    }
                }
            }
            Append(latitude, longitude, time, values, line);
        }

        /// <summary>The text of a simple element; the reader stays within it, so that its end is met in turn.</summary>
        private static string Text(XmlReader xml)
        {
            StringBuilder text = new();
            while (xml.Read() && xml.NodeType is XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace)
            {
                text.Append(xml.Value);
            }
            return text.ToString();
        }

        private void Value(string element, string content, int line, Dictionary<Quantity, double> values)
        {
            (Quantity quantity, string unit) = Elements[element];
            if (!NumberText.TryParse(content, out double value))
            {
                if (!NumberText.IsMissing(Encoding.UTF8.GetBytes(content)))
                {
                    problems.Count(ProblemKind.NotANumber, (int)quantity, line, Encoding.UTF8.GetBytes(content), (example, n) => $"{element} \"{example}\" is not a number; the value was left out{(n > 1 ? $" ({n:N0} such values)" : "")}");
                }
                return;
            }
            values[quantity] = UnitWords.Find(unit, Quantities.DimensionOf(quantity))!.ToSi(value);
            if (!_channels.ContainsKey(quantity))
            {
                ColumnBuffer column = new();
                for (int i = 0; i < _lines.Count; i++)
                {
                    column.Add(double.NaN);
                }
                _channels.Add(quantity, (column, element, unit));
            }
        }

        private void Append(double latitude, double longitude, string? time, Dictionary<Quantity, double> values, int line)
        {
            if (time is null || !TimeText.TryDateTime(Encoding.UTF8.GetBytes(time.Trim()), DateOrder.DayMonthYear, out long ticks, out int? offset, out _))
            {
                _noTime++;
                string found = time is null ? "no time" : $"the time \"{ColumnPlan.ProblemText(time)}\"";
                problems.Count(ProblemKind.NoTime, 0, line, default, (_, n) => $"a point with {found}; expected ISO 8601 such as 2026-05-09T10:00:00Z; {Words.Count(n, "such point")} skipped");
                return;
            }
            _offset ??= offset;
            ticks += offset is int own && _offset is int all ? (all - own) * TimeSpan.TicksPerMinute : 0;
            if (_lines.Count == 0)
            {
                _base = ticks;
            }
            _ticks.Add(ticks - _base);
            _latitude.Add(latitude);
            _longitude.Add(longitude);
            foreach ((Quantity quantity, (ColumnBuffer column, _, _)) in _channels)
            {
                column.Add(values.GetValueOrDefault(quantity, double.NaN));
            }
            _lines.Add(line);
        }

        private double Coordinate(string? text, double most, int line)
        {
            if (text is not null && NumberText.TryParse(text.Trim(), out double value) && Math.Abs(value) <= most)
            {
                return value;
            }
            problems.Count(ProblemKind.NotAPosition, (int)most, line, Encoding.UTF8.GetBytes(text ?? ""), (example, n) => $"{(most == 90 ? "lat" : "lon")} \"{example}\" is not in degrees; the position was left out{(n > 1 ? $" ({n:N0} such points)" : "")}");
            return double.NaN;
        }

        public RawLog Finish(string name)
        {
            if (_lines.Count == 0)
            {
                throw new UnusableInputException(_noTime > 0
                    ? $"{name}: none of {Words.Count(_noTime, "track point")} has a time; a log needs one"
                    : $"{name}: no track point (trkpt) in this GPX file{(OtherPoints > 0 ? $", only {Words.Count(OtherPoints, "route or way point")}" : "")}");
            }
            if (!_channels.ContainsKey(Quantity.GpsAltitude) && !_channels.ContainsKey(Quantity.Altitude) && !_channels.ContainsKey(Quantity.Pressure))
            {
                throw new UnusableInputException($"{name}: no track point has an elevation (ele); nothing says how high the model was");
            }
            Dictionary<Quantity, double[]> columns = new() { [Quantity.Latitude] = _latitude.ToArray(), [Quantity.Longitude] = _longitude.ToArray() };
            List<LogChannel> channels = [new(Quantity.Time, "time", "date and time"), new(Quantity.Latitude, "lat", "°"), new(Quantity.Longitude, "lon", "°")];
            foreach ((Quantity quantity, (ColumnBuffer column, string element, string unit)) in _channels.OrderBy(c => c.Key))
            {
                columns[quantity] = column.ToArray();
                channels.Add(new LogChannel(quantity, element, unit));
            }
            return new RawLog
            {
                Ticks = _ticks.ToArray(),
                BaseTicks = _base,
                Lines = [.. _lines],
                Columns = columns,
                Channels = channels,
                HasClock = true,
                HasDate = true,
                OffsetMinutes = _offset ?? 0,
            };
        }
    }
}

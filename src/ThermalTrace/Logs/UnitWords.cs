using System.Collections.Frozen;
using System.Text;

namespace ThermalTrace.Logs;

/// <summary>What a unit measures.</summary>
internal enum Dimension { None, Time, Length, Speed, Pressure, Angle, Temperature, Voltage, Mass, Acceleration, Fraction, Rotation }

/// <summary>
/// A unit as a log may name it. SI value = (value − <paramref name="Zero"/>) · <paramref name="Multiply"/> / <paramref name="Divide"/>,
/// both factors whole or short decimals, so that a conversion costs one rounding each.
/// </summary>
/// <param name="Symbol">How messages write it.</param>
internal sealed record LogUnit(string Symbol, Dimension Dimension, double Multiply = 1, double Divide = 1, double Zero = 0)
{
    /// <summary>True where the conversion changes nothing.</summary>
    public bool IsIdentity => Multiply == 1 && Divide == 1 && Zero == 0;

    /// <summary>The value in SI (angles: degrees; mass: g).</summary>
    public double ToSi(double value) => (value - Zero) * Multiply / Divide;
}

/// <summary>The unit names understood.</summary>
internal static class UnitWords
{
    public static readonly LogUnit Second = new("s", Dimension.Time);
    public static readonly LogUnit Millisecond = new("ms", Dimension.Time, 1, 1000);
    public static readonly LogUnit Microsecond = new("µs", Dimension.Time, 1, 1e6);
    public static readonly LogUnit Metre = new("m", Dimension.Length);
    public static readonly LogUnit MetrePerSecond = new("m/s", Dimension.Speed);
    public static readonly LogUnit Pascal = new("Pa", Dimension.Pressure);
    public static readonly LogUnit Hectopascal = new("hPa", Dimension.Pressure, 100);
    public static readonly LogUnit Kilopascal = new("kPa", Dimension.Pressure, 1000);
    public static readonly LogUnit Degree = new("°", Dimension.Angle);
    public static readonly LogUnit DegreeE7 = new("1e-7 °", Dimension.Angle, 1, 1e7);
    public static readonly LogUnit DegreeE6 = new("1e-6 °", Dimension.Angle, 1, 1e6);
    public static readonly LogUnit Celsius = new("°C", Dimension.Temperature, 1, 1, -273.15);
    public static readonly LogUnit Kelvin = new("K", Dimension.Temperature);
    // (t - 32) / 1.8 + 273.15 = (t + 459.67) / 1.8
    public static readonly LogUnit Fahrenheit = new("°F", Dimension.Temperature, 1, 1.8, -459.67);
    public static readonly LogUnit Volt = new("V", Dimension.Voltage);
    public static readonly LogUnit Gram = new("g", Dimension.Mass);
    public static readonly LogUnit MetrePerSecond2 = new("m/s²", Dimension.Acceleration);
    public static readonly LogUnit StandardGravity = new("g", Dimension.Acceleration, 9.80665);
    public static readonly LogUnit None = new("", Dimension.None);

    private static readonly (LogUnit Unit, string Names)[] Table =
    [
        (Second, "s sec secs second seconds"),
        (Millisecond, "ms msec msecs millis millisecond milliseconds"),
        (Microsecond, "us usec micros microsecond microseconds"),
        (new("ns", Dimension.Time, 1, 1e9), "ns nanos nanosecond nanoseconds"),
        (new("min", Dimension.Time, 60), "min mins minute minutes"),
        (new("h", Dimension.Time, 3600), "h hr hrs hour hours"),
        (Metre, "m meter meters metre metres mtr mtrs msl mamsl masl magl"),
        (new("ft", Dimension.Length, 0.3048), "ft foot feet ' ftmsl ftagl"),
        (new("km", Dimension.Length, 1000), "km kilometer kilometers kilometre kilometres"),
        (new("cm", Dimension.Length, 1, 100), "cm centimeter centimeters centimetre centimetres"),
        (new("dm", Dimension.Length, 1, 10), "dm decimeter decimetre"),
        (new("mm", Dimension.Length, 1, 1000), "mm millimeter millimeters millimetre millimetres"),
        (new("mi", Dimension.Length, 1609.344), "mi mile miles"),
        (new("yd", Dimension.Length, 0.9144), "yd yds yard yards"),
        (MetrePerSecond, "m/s mps m/sec ms-1 m.s-1 ms m/second meter/second metre/second meters/second metres/second meterspersecond metrespersecond meters/sec metres/sec"),
        (new("cm/s", Dimension.Speed, 1, 100), "cm/s cms cmps cm/sec"),
        (new("dm/s", Dimension.Speed, 1, 10), "dm/s"),
        (new("mm/s", Dimension.Speed, 1, 1000), "mm/s mmps mm/sec"),
        (new("km/h", Dimension.Speed, 1, 3.6), "km/h kmh kph kmph km/hr km/hour kmhr kmh-1 km.h-1 kilometers/hour kilometres/hour"),
        (new("kn", Dimension.Speed, 1852, 3600), "kn kt kts knot knots kns nm/h nmi/h"),
        (new("mph", Dimension.Speed, 0.44704), "mph mi/h mi/hr miles/hour mile/h"),
        (new("ft/min", Dimension.Speed, 0.3048, 60), "ft/min fpm ftmin ftpm feet/min feet/minute ft/minute feetperminute ft/m"),
        (new("ft/s", Dimension.Speed, 0.3048), "ft/s fps ft/sec fts ftps feet/s feet/second"),
        (new("m/min", Dimension.Speed, 1, 60), "m/min mpm mmin m/minute metres/minute meters/minute"),
        (Pascal, "pa pascal pascals"),
        (Hectopascal, "hpa hectopascal hectopascals mbar mb mbars millibar millibars"),
        (Kilopascal, "kpa kilopascal kilopascals"),
        (new("bar", Dimension.Pressure, 100_000), "bar bars"),
        // Conventional inch and millimetre of mercury (ISO 80000-4 annex; 101325/760).
        (new("inHg", Dimension.Pressure, 3386.389), "inhg inchhg inhg32 inchesofmercury \"hg"),
        (new("mmHg", Dimension.Pressure, 101_325, 760), "mmhg torr"),
        (Degree, "deg degs degree degrees ° @ ddeg decdeg decimaldegrees degt degtrue deg.true dec.deg"),
        (new("rad", Dimension.Angle, 180, Math.PI), "rad rads radian radians"),
        (DegreeE7, "dege7 dege-7 deg*1e7 deg1e7 e7 1e7 1e7deg 1e-7deg deg*10^7 10^-7deg degx1e7 deg*1e-7"),
        (DegreeE6, "dege6 dege-6 deg*1e6 deg1e6 e6 1e6 1e6deg 1e-6deg deg*1e-6"),
        (new("semicircle", Dimension.Angle, 180, 2147483648), "semicircle semicircles sc"),
        (new("0.01 °", Dimension.Angle, 1, 100), "cdeg centideg centidegrees deg*100 degx100"),
        (new("mrad", Dimension.Angle, 180, 1000 * Math.PI), "mrad"),
        (Celsius, "c degc °c celsius centigrade degcelsius degreesc"),
        (Kelvin, "k kelvin degk °k"),
        (Fahrenheit, "f degf °f fahrenheit degreesf"),
        (Volt, "v volt volts vdc"),
        (new("mV", Dimension.Voltage, 1, 1000), "mv millivolt millivolts"),
        (Gram, "g gr gram grams gramme grammes"),
        (new("kg", Dimension.Mass, 1000), "kg kgs kilogram kilograms"),
        (new("mg", Dimension.Mass, 1, 1000), "mg"),
        (new("oz", Dimension.Mass, 28.349523125), "oz ounce ounces"),
        (new("lb", Dimension.Mass, 453.59237), "lb lbs pound pounds"),
        (MetrePerSecond2, "m/s2 m/s/s mps2 mpss ms-2 m.s-2 ms2 m/sec2 m/s^2 m/s**2"),
        (StandardGravity, "g g0 gn gs gforce g-force gee"),
        (new("mg", Dimension.Acceleration, 9.80665, 1000), "mg"),
        (new("cm/s²", Dimension.Acceleration, 1, 100), "cm/s2"),
        (new("%", Dimension.Fraction, 1, 100), "% percent pct perc"),
        (new("rpm", Dimension.Rotation), "rpm r/min 1/min min-1 rev/min"),
        (new("Hz", Dimension.Rotation), "hz"),
        (new("us", Dimension.Fraction), "us usec"),
    ];

    private static readonly FrozenDictionary<string, LogUnit[]> ByName = Build();

    /// <summary>The unit of that name and dimension, or null.</summary>
    public static LogUnit? Find(string name, Dimension dimension) =>
        Array.Find(All(name), u => u.Dimension == dimension);

    /// <summary>All units of that name (<c>g</c> is a mass and an acceleration).</summary>
    public static LogUnit[] All(string name) => ByName.TryGetValue(Normalise(name), out LogUnit[]? found) ? found : [];

    /// <summary>The units of a dimension, for a message.</summary>
    public static string Examples(Dimension dimension) =>
        string.Join(", ", Table.Where(t => t.Unit.Dimension == dimension).Select(t => t.Unit.Symbol));

    /// <summary>The unit a quantity has where nobody says otherwise.</summary>
    public static LogUnit Default(Dimension dimension) => dimension switch
    {
        Dimension.Time => Second,
        Dimension.Length => Metre,
        Dimension.Speed => MetrePerSecond,
        Dimension.Pressure => Pascal,
        Dimension.Angle => Degree,
        Dimension.Temperature => Celsius,
        Dimension.Voltage => Volt,
        Dimension.Mass => Gram,
        Dimension.Acceleration => MetrePerSecond2,
        _ => None,
    };

    private static FrozenDictionary<string, LogUnit[]> Build()
    {
        Dictionary<string, List<LogUnit>> byName = [];
        foreach ((LogUnit unit, string names) in Table)
        {
            foreach (string name in names.Split(' ').Append(unit.Symbol))
            {
                string key = Normalise(name);
                if (!byName.TryGetValue(key, out List<LogUnit>? units))
                {
                    byName.Add(key, units = []);
                }
                if (!units.Exists(u => u.Dimension == unit.Dimension))
                {
                    units.Add(unit);
                }
            }
        }
        return byName.ToFrozenDictionary(p => p.Key, p => p.Value.ToArray(), StringComparer.Ordinal);
    }

    private static string Normalise(string name)
    {
        StringBuilder key = new(name.Length);
        foreach (char c in name.Trim())
        {
            switch (c)
            {
                case ' ' or '_' or '·' or '*' or '^' or '\u00a0': break;
                case '.' when key.Length == 0 || key[^1] is not (>= '0' and <= '9'): break;
                case '²': key.Append('2'); break;
                case '⁻' or '−' or '–': key.Append('-'); break;
                case '¹': key.Append('1'); break;
                case '°' or 'º' or '˚': key.Append("deg"); break;
                case 'µ' or 'μ': key.Append('u'); break;
                case '⁄' or '∕': key.Append('/'); break;
                default: key.Append(char.ToLowerInvariant(c)); break;
            }
        }
        key.Replace("per", "/");
        return key.Replace("//", "/").ToString();
    }
}

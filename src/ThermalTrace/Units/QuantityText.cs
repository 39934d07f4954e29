using System.Globalization;

namespace ThermalTrace.Units;

/// <summary>A unit that a person may type.</summary>
/// <param name="Symbol">How it is written back.</param>
/// <param name="Factor">One of it in the family's own unit.</param>
/// <param name="Offset">Added after the factor; 0 but for temperatures.</param>
/// <param name="Aliases">Other ways to write it, lower case.</param>
public sealed record TypedUnit(string Symbol, double Factor, double Offset = 0, params string[] Aliases);

/// <summary>The units of one kind of quantity; the first is the one that values are kept in and that a bare number has.</summary>
/// <param name="Name">What it is, for messages.</param>
/// <param name="Units">The units.</param>
public sealed record UnitFamily(string Name, params TypedUnit[] Units)
{
    /// <summary>m/s.</summary>
    public static UnitFamily Speed { get; } = new("speed",
        new("m/s", 1, 0, "mps", "ms-1"), new("km/h", 1 / 3.6, 0, "kmh", "kph"), new("kn", 1852 / 3600.0, 0, "kt", "kts", "knots"),
        new("mph", 0.44704, 0, "mi/h"), new("ft/s", 0.3048, 0, "fps"), new("ft/min", 0.3048 / 60, 0, "fpm"));

    /// <summary>g, as the contract keeps masses.</summary>
    public static UnitFamily Mass { get; } = new("mass",
        new("g", 1), new("kg", 1000), new("oz", 28.349523125), new("lb", 453.59237, 0, "lbs"), new("mg", 0.001));

    /// <summary>m.</summary>
    public static UnitFamily Length { get; } = new("length",
        new("m", 1), new("mm", 0.001), new("cm", 0.01), new("dm", 0.1), new("km", 1000), new("ft", 0.3048), new("in", 0.0254, 0, "\""));

    /// <summary>dm², as wings are measured.</summary>
    public static UnitFamily Area { get; } = new("area",
        new("dm2", 1, 0, "dm²"), new("m2", 100, 0, "m²"), new("cm2", 0.01, 0, "cm²"), new("in2", 0.064516, 0, "in²", "sqin"), new("ft2", 9.290304, 0, "ft²", "sqft"));

    /// <summary>g/cm³, as tables of materials have it.</summary>
    public static UnitFamily Density { get; } = new("density",
        new("g/cm3", 1, 0, "g/cm³", "g/cc", "kg/l"), new("kg/m3", 0.001, 0, "kg/m³"), new("lb/in3", 453.59237 / (2.54 * 2.54 * 2.54), 0, "lb/in³"));

    /// <summary>Pa.</summary>
    public static UnitFamily Pressure { get; } = new("pressure",
        new("Pa", 1), new("hPa", 100, 0, "mbar", "mb"), new("kPa", 1000), new("inHg", 3386.389));

    /// <summary>K.</summary>
    public static UnitFamily Temperature { get; } = new("temperature",
        new("K", 1), new("°C", 1, 273.15, "c", "degc"), new("°F", 1 / 1.8, 459.67 / 1.8, "f", "degf"));

    /// <summary>s.</summary>
    public static UnitFamily Time { get; } = new("time", new("s", 1, 0, "sec"), new("ms", 0.001), new("min", 60), new("h", 3600));

    /// <summary>Eddy dissipation rate to the power 1/3, m^(2/3)/s, as forecasts give it: a bare number.</summary>
    public static UnitFamily Turbulence { get; } = new("turbulence", new TypedUnit("m^(2/3)/s", 1, 0, "edr"));

    /// <summary>The units, for a message.</summary>
    public string Known => string.Join(", ", Units.Select(u => u.Symbol));
}

/// <summary>Quantities as people type and read them: <c>5 kn</c>, <c>18km/h</c>, <c>1.2oz</c>, <c>3..6m/s</c>.</summary>
public static class QuantityText
{
    /// <summary>Reads one quantity.</summary>
    /// <param name="text">A number and, after it, a unit; a number alone is in the family's first unit.</param>
    /// <param name="family">What is expected.</param>
    /// <param name="value">In the family's first unit; NaN where it is not understood.</param>
    /// <param name="complaint">What was found and which units are known; empty where it is understood.</param>
    public static bool TryParse(string text, UnitFamily family, out double value, out string complaint)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(family);
        value = double.NaN;
        (string number, string unit) = Split(text);
        return TryUnit(text, unit, family, out TypedUnit? found, out complaint)
            && TryNumber(text, number, family, out value, out complaint, found!);
    }

    /// <summary>Reads a quantity or a range of two, the unit holding for both.</summary>
    /// <param name="low">In the family's first unit.</param>
    /// <param name="high">As <paramref name="low"/>, and equal to it where one quantity was given.</param>
    /// <inheritdoc cref="TryParse"/>
    public static bool TryParseRange(string text, UnitFamily family, out double low, out double high, out string complaint)
    {
        ArgumentNullException.ThrowIfNull(text);
        low = high = double.NaN;
        int dots = text.IndexOf("..", StringComparison.Ordinal);
        if (dots < 0)
        {
            bool one = TryParse(text, family, out low, out complaint);
            high = low;
            return one;
        }
        (string number, string unit) = Split(text[(dots + 2)..]);
        (string first, string firstUnit) = Split(text[..dots]);
        TypedUnit? firstFound = null;
        if (!TryUnit(text, unit, family, out TypedUnit? found, out complaint)
            || (firstUnit.Length > 0 && !TryUnit(text, firstUnit, family, out firstFound, out complaint))
            || !TryNumber(text, first, family, out low, out complaint, firstFound ?? found!)
            || !TryNumber(text, number, family, out high, out complaint, found!))
        {
            low = high = double.NaN;
            return false;
        }
        if (!(low <= high))
        {
            complaint = $"\"{text}\" runs backwards; expected the smaller {family.Name} first";
            return false;
        }
        return true;
    }

    /// <summary>Writes a quantity in one of the family's units, with a fixed number of decimals.</summary>
    /// <exception cref="ArgumentException">The family has no such unit.</exception>
    public static string Format(double value, UnitFamily family, string unit, int decimals)
    {
        ArgumentNullException.ThrowIfNull(family);
        TypedUnit found = Array.Find(family.Units, u => u.Symbol == unit)
            ?? throw new ArgumentException($"{family.Name} has no unit {unit}; known are {family.Known}", nameof(unit));
        return double.IsFinite(value)
            ? ((value - found.Offset) / found.Factor).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) + " " + unit
            : "–";
    }

    /// <summary>What one step of the last digit typed is worth, in the family's first unit: 0.1 of "152.3g", 1000 of "2kg". NaN where the text is not understood.</summary>
    public static double LastDigit(string text, UnitFamily family)
    {
        if (!TryParse(text, family, out _, out _))
        {
            return double.NaN;
        }
        (string number, string unit) = Split(text);
        int power = number.IndexOfAny(['e', 'E']);
        string digits = power < 0 ? number : number[..power];
        int point = digits.IndexOf('.', StringComparison.Ordinal), decimals = point < 0 ? 0 : digits.Length - point - 1;
        int exponent = power < 0 ? 0 : int.Parse(number[(power + 1)..], CultureInfo.InvariantCulture);
        return TryUnit(text, unit, family, out TypedUnit? found, out _) ? Math.Pow(10, exponent - decimals) * found!.Factor : double.NaN;
    }

    /// <summary>Cuts before the unit: an exponent such as 1e3 belongs to the number.</summary>
    private static (string Number, string Unit) Split(string text)
    {
        string trimmed = text.Trim().Replace('−', '-');
        int end = 0;
        while (end < trimmed.Length && (char.IsAsciiDigit(trimmed[end]) || trimmed[end] is '.' or ',' or '+' or '-'
            || (trimmed[end] is 'e' or 'E' && end + 1 < trimmed.Length && (char.IsAsciiDigit(trimmed[end + 1]) || trimmed[end + 1] is '-' or '+'))))
        {
            end++;
        }
        return (trimmed[..end], trimmed[end..].Trim());
    }

    private static bool TryUnit(string text, string unit, UnitFamily family, out TypedUnit? found, out string complaint)
    {
        // Exact first: Pa and mPa differ in case alone in other families.
        found = unit.Length == 0 ? family.Units[0]
            : Array.Find(family.Units, u => u.Symbol == unit)
            ?? Array.Find(family.Units, u => u.Symbol.Equals(unit, StringComparison.OrdinalIgnoreCase) || u.Aliases.Contains(unit.ToLowerInvariant()));
        complaint = found is null
            ? $"\"{text}\" has the unit \"{unit}\", which is no unit of {family.Name}; known are {family.Known}"
            : "";
        return found is not null;
    }

    private static bool TryNumber(string text, string number, UnitFamily family, out double value, out string complaint, TypedUnit unit)
    {
        value = double.NaN;
        complaint = "";
        if (number.Contains(',', StringComparison.Ordinal))
        {
            complaint = $"\"{text}\" has a comma; write decimals with a point";
            return false;
        }
        if (!double.TryParse(number, NumberStyles.Float, CultureInfo.InvariantCulture, out double raw) || !double.IsFinite(raw))
        {
            complaint = $"\"{text}\" is not a {family.Name}; expected a number and a unit such as {(family.Units.Length > 1 ? "5" + family.Units[1].Symbol : "0.1")}; known units are {family.Known}";
            return false;
        }
        value = raw * unit.Factor + unit.Offset;
        return true;
    }
}

using System.Globalization;
using ThermalTrace.Advice;
using ThermalTrace.Ballast;
using ThermalTrace.Units;

namespace ThermalTrace.Jobs;

/// <summary>A quantity that a person may ask with: its units, and bounds beyond which a unit was mistaken.</summary>
/// <param name="Name">What messages call it, such as "--wind".</param>
/// <param name="Family">The units.</param>
/// <param name="Least">In the family's first unit.</param>
/// <param name="Most">In the family's first unit.</param>
internal sealed record AskedQuantity(string Name, UnitFamily Family, double Least, double Most)
{
    /// <summary>Reads one value, such as 45 or 1.5oz.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="value">In the family's first unit; NaN where it cannot be used.</param>
    /// <param name="complaint">Empty where it can.</param>
    public bool TryRead(string text, out double value, out string complaint) => AskedText.TryRead(Name, text, Family, Least, Most, out value, out complaint);

    /// <summary>Reads one value or a range, such as 25..35m/s.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="range">In the family's first unit; default where it cannot be used.</param>
    /// <param name="complaint">Empty where it can.</param>
    public bool TryReadRange(string text, out (double Low, double High) range, out string complaint)
    {
        range = default;
        if (!QuantityText.TryParseRange(text, Family, out double low, out double high, out complaint))
        {
            complaint = $"{Name} {complaint}";
            return false;
        }
        if (AskedText.OutOfRange(Name, text, Family, low, high, Least, Most) is { } outside)
        {
            complaint = outside;
            return false;
        }
        range = (low, high);
        return true;
    }
}

/// <summary>A condition of the day that may also be told by a word, such as "light".</summary>
/// <param name="Quantity">As a figure.</param>
/// <param name="Words">As a word; null where there is none for it.</param>
/// <param name="Expected">What may be typed, for messages and help.</param>
internal sealed record AskedCondition(AskedQuantity Quantity, IReadOnlyDictionary<string, AskedRange>? Words, string Expected)
{
    /// <summary>Reads a figure, a range or a word.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="range">Default where it cannot be used.</param>
    /// <param name="complaint">Empty where it can.</param>
    public bool TryRead(string text, out AskedRange range, out string complaint)
    {
        complaint = "";
        if (Words is not null && Words.TryGetValue(text.Trim(), out range))
        {
            return true;
        }
        if (Words is not null && !text.Any(char.IsAsciiDigit))
        {
            range = default;
            complaint = $"{Quantity.Name} \"{text}\" is not known; expected a {Quantity.Family.Name} such as {Expected}";
            return false;
        }
        bool read = Quantity.TryReadRange(text, out (double Low, double High) span, out complaint);
        range = read ? new AskedRange(span.Low, span.High) : default;
        return read;
    }
}

/// <summary>What a person types when asking for advice, metal or paper: bounds and reading in one place, for commands and pages alike.</summary>
internal static class AskedText
{
    // Beyond these a model is not flown, or a unit was mistaken.
    private const double MostWindMps = 40, MostLiftMps = 15, MostEdr = 1.5, MostBallastG = 50_000, MostForwardM = 0.05;
    private const int MostFlights = 48; // four days of twelve
    private const int LongestName = 60;

    // Where no length beyond this makes sense, m, people think in millimetres: bounds are told in them, or they may have been meant.
    private const double ToldInMm = 2, MeantInMm = 50;

    // A field is asked for in degrees Celsius, whatever the family begins with.
    private static readonly UnitFamily FieldTemperature = new("temperature", [new TypedUnit("°C", 1, 273.15, "c", "degc"), .. UnitFamily.Temperature.Units.Where(u => u.Symbol != "°C")]);

    public static readonly AskedCondition Wind = new(new("--wind", UnitFamily.Speed, 0, MostWindMps), ConditionWords.Wind, "4m/s, a range 3..6m/s, or calm, light, gentle, moderate, fresh");
    public static readonly AskedCondition Lift = new(new("--lift", UnitFamily.Speed, 0, MostLiftMps), ConditionWords.Lift, "1.5m/s, 1..2m/s, or none, weak, middling, strong");
    public static readonly AskedCondition Climb = new(new("--climb", UnitFamily.Speed, -2, MostLiftMps), null, "0.8m/s");
    public static readonly AskedCondition Turbulence = new(new("--turbulence", UnitFamily.Turbulence, 0, MostEdr), ConditionWords.Turbulence, "0.15, 0.1..0.2, or calm, light, moderate, rough, wooded");

    /// <summary>The pilot's own estimate for a debrief.</summary>
    public static readonly AskedQuantity OwnWind = new("--wind", UnitFamily.Speed, 0, MostWindMps);
    public static readonly AskedQuantity With = new("--with", UnitFamily.Mass, 0, MostBallastG);
    public static readonly AskedQuantity WindHeight = new("--wind-height", UnitFamily.Length, 1.5, 200);
    public static readonly AskedQuantity FieldHeight = new("--height", UnitFamily.Length, -500, 6000);
    public static readonly AskedQuantity Temperature = new("--temperature", FieldTemperature, 213.15, 333.15);
    public static readonly AskedQuantity Time = new("--time", UnitFamily.Time, 10, 7200);
    public static readonly AskedQuantity Arrive = new("--arrive", UnitFamily.Length, 0, 500);
    public static readonly AskedQuantity FromHeight = new("--from-height", UnitFamily.Length, 2, 2000);

    /// <summary>The mass that pieces are to make.</summary>
    public static readonly AskedQuantity Ballast = new("--ballast", UnitFamily.Mass, 0, MostBallastG);
    /// <summary>The mass of a stick to build.</summary>
    public static readonly AskedQuantity StickBallast = new("--ballast", UnitFamily.Mass, 0.1, MostBallastG);
    public static readonly AskedQuantity CgForward = new("--cg-forward", UnitFamily.Length, -MostForwardM, MostForwardM);
    public static readonly AskedQuantity Step = new("--step", UnitFamily.Mass, 0.1, 5_000);
    public static readonly AskedQuantity Diameter = new("--diameter", UnitFamily.Length, 0.0001, 0.2);
    public static readonly AskedQuantity ThrowSpeed = new("--throw-speed", UnitFamily.Speed, 2, 80);
    public static readonly AskedQuantity ThrowRadius = new("--throw-radius", UnitFamily.Length, 0.3, 10);

    /// <summary>What the wind of a day was read as near the ground, for the logbook.</summary>
    public static readonly AskedQuantity ReadWind = new("--wind-read", UnitFamily.Speed, 0, MostWindMps);
    public static readonly AskedQuantity ReadHeight = new("--wind-height", UnitFamily.Length, 0.5, 50);

    /// <summary>Reads what the wind comes across.</summary>
    public static bool TryReadGround(string text, out Ground ground, out string complaint)
    {
        // By name alone: the framework would take a number for one too.
        string? name = Enum.GetNames<Ground>().FirstOrDefault(n => n.Equals(text.Trim(), StringComparison.OrdinalIgnoreCase));
        ground = name is null ? default : Enum.Parse<Ground>(name);
        complaint = name is not null ? "" : $"--ground \"{text}\" is not known; expected grass, hedges or trees";
        return name is not null;
    }

    /// <summary>Reads how many flights a plan is to have.</summary>
    public static bool TryReadFlights(string text, out int flights, out string complaint)
    {
        bool read = int.TryParse(text, CultureInfo.InvariantCulture, out flights) && flights is >= 2 and <= MostFlights && flights % 2 == 0;
        complaint = read ? "" : $"--flights \"{text}\" is not possible; expected an even number from 2 to {MostFlights}, so that each ballast is flown on the way there and on the way back";
        return read;
    }

    /// <summary>What <see cref="TryReadFlights"/> takes, for help.</summary>
    public static string FlightsExpected { get; } = $"an even number from 2 to {MostFlights}";

    /// <summary>Reads a material by its name, or one of the pilot's own, such as "bismuth=9.8g/cm3".</summary>
    public static bool TryReadMaterial(string text, out Material? material, out string complaint)
    {
        int at = text.LastIndexOf('=');
        string name = (at < 0 ? text : text[..at]).Trim();
        material = null;
        complaint = "";
        double low = double.NaN, high = double.NaN;
        if (at < 0)
        {
            material = Materials.Find(text);
            complaint = material is not null ? ""
                : $"--material \"{text}\" is not known; expected {string.Join(", ", Materials.All.Select(m => m.Name))}, or a name and its density, such as \"bismuth=9.8g/cm3\"";
        }
        else if (name.Length is 0 or > LongestName)
        {
            complaint = $"--material \"{text}\" has {(name.Length == 0 ? "no name" : "a very long name")}; expected a name and its density, such as \"bismuth=9.8g/cm3\"";
        }
        else if (!QuantityText.TryParseRange(text[(at + 1)..], UnitFamily.Density, out low, out high, out complaint))
        {
            complaint = $"--material {complaint}";
        }
        else if (!(low >= Materials.LeastGCm3 && high <= Materials.MostGCm3))
        {
            complaint = $"--material {text} is outside {Materials.LeastGCm3:0.#} to {Materials.MostGCm3:0.#} g/cm3";
        }
        else
        {
            material = Material.Of(name, low, high);
        }
        return complaint.Length == 0;
    }

    /// <summary>Reads a quantity and checks its range.</summary>
    /// <param name="name">What messages call it.</param>
    /// <param name="text">What was typed.</param>
    /// <param name="family">The units.</param>
    /// <param name="least">In the family's first unit.</param>
    /// <param name="most">In the family's first unit.</param>
    /// <param name="value">In the family's first unit; NaN where it cannot be used.</param>
    /// <param name="complaint">Empty where it can.</param>
    public static bool TryRead(string name, string text, UnitFamily family, double least, double most, out double value, out string complaint)
    {
        if (!QuantityText.TryParse(text, family, out value, out complaint))
        {
            complaint = $"{name} {complaint}";
        }
        else if (OutOfRange(name, text, family, value, value, least, most) is { } outside)
        {
            value = double.NaN;
            complaint = outside;
        }
        return complaint.Length == 0;
    }

    /// <summary>What is wrong with a value, or a range, that is not within bounds; null where it is. All in the family's first unit.</summary>
    public static string? OutOfRange(string name, string text, UnitFamily family, double low, double high, double least, double most)
    {
        if (low >= least && high <= most)
        {
            return null;
        }
        double farthest = family == UnitFamily.Length ? Math.Max(Math.Abs(least), Math.Abs(most)) : double.PositiveInfinity;
        TypedUnit unit = farthest <= ToldInMm ? family.Units.First(u => u.Symbol == "mm") : family.Units[0];
        string Show(double value) => ((value - unit.Offset) / unit.Factor).ToString("0.###", CultureInfo.InvariantCulture);
        return $"{name} {text} is outside {Show(least)} to {Show(most)} {unit.Symbol}" + (farthest <= MeantInMm ? MeantMm(text, least, most) : "");
    }

    /// <summary>A bare length is in metres, which surprises people who build models: says so where millimetres would have fitted.</summary>
    private static string MeantMm(string text, double least, double most) =>
        double.TryParse(text.Trim().Replace('−', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out double bare) && bare / 1000 >= least && bare / 1000 <= most
        ? $"; {text.Trim()} without a unit is {text.Trim()} m, did you mean {text.Trim()}mm?"
        : "";
}

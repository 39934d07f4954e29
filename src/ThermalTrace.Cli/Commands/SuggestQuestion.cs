using System.CommandLine;
using ThermalTrace.Advice;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary>The options of <c>suggest</c> that describe the day.</summary>
internal sealed class SuggestQuestion
{
    // Beyond these a model is not flown, or a unit was mistaken.
    internal const double MostWindMps = 40, MostLiftMps = 15, MostEdr = 1.5;
    internal const string WindWords = "4m/s, a range 3..6m/s, or calm, light, gentle, moderate, fresh";
    internal const string LiftWords = "1.5m/s, 1..2m/s, or none, weak, middling, strong";
    internal const string TurbulenceWords = "0.15, 0.1..0.2, or calm, light, moderate, rough, wooded";
    private static readonly UnitFamily Temperature = new("temperature", [new TypedUnit("°C", 1, 273.15, "c", "degc"), .. UnitFamily.Temperature.Units.Where(u => u.Symbol != "°C")]);

    private readonly Option<AskedRange?> _wind = Range("--wind", "W", UnitFamily.Speed, ConditionWords.Wind, 0, MostWindMps, "Wind at flying height: " + WindWords + ".");
    private readonly Option<double?> _windHeight = QuantityOptions.Single("--wind-height", "H", UnitFamily.Length, 1.5, 200, "Height over ground at which that wind was read, such as 2m; it is then brought to flying height.");
    private readonly Option<string?> _field = new("--field") { HelpName = "NAME", Description = "The field, for what earlier readings of the wind there have shown." };
    private readonly Option<AskedRange?> _lift = Range("--lift", "L", UnitFamily.Speed, ConditionWords.Lift, 0, MostLiftMps, "Rise of the air in a thermal's core: " + LiftWords + ".");
    private readonly Option<AskedRange?> _climb = Range("--climb", "C", UnitFamily.Speed, null, -2, MostLiftMps, "In place of --lift: the climb seen, with the ballast of --with.");
    private readonly Option<double?> _with = QuantityOptions.Single("--with", "G", UnitFamily.Mass, 0, 50_000, "The ballast that climb was seen with.");
    private readonly Option<AskedRange?> _turbulence = Range("--turbulence", "T", UnitFamily.Turbulence, ConditionWords.Turbulence, 0, MostEdr, "Taken from wind and ground if not given. EDR in m^(2/3)/s: " + TurbulenceWords + ".");
    private readonly Option<Ground?> _ground = new("--ground")
    {
        HelpName = "WORD",
        Description = "What the wind comes across: grass (if not given), hedges, trees.",
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            if (Enum.GetNames<Ground>().FirstOrDefault(n => n.Equals(text, StringComparison.OrdinalIgnoreCase)) is { } name)
            {
                return Enum.Parse<Ground>(name);
            }
            result.AddError($"--ground \"{text}\" is not known; expected grass, hedges or trees");
            return null;
        },
    };
    private readonly Option<double?> _height = QuantityOptions.Single("--height", "H", UnitFamily.Length, -500, 6000, "Height of the field above the sea, for the air's density.");
    private readonly Option<double?> _temperature = QuantityOptions.Single("--temperature", "T", Temperature, 213.15, 333.15, "Temperature at the field, such as 25C, for the air's density.");
    private readonly Option<double?> _time = QuantityOptions.Single("--time", "T", UnitFamily.Time, 10, 7200, "The time to make, such as 5min: adds the chance of making it.");
    private readonly Option<double?> _arrive = QuantityOptions.Single("--arrive", "H", UnitFamily.Length, 0, 500, $"Least height at which lift is to be reached ({AskedConditions.UsualArriveM:0}m if not given).");
    private readonly Option<double?> _fromHeight = QuantityOptions.Single("--from-height", "H", UnitFamily.Length, 2, 2000, "Height to reckon from, in place of the model's own launch.");

    /// <summary>Adds them to the command.</summary>
    public SuggestQuestion(Command command)
    {
        foreach (Option option in (Option[])[_wind, _lift, _turbulence, _ground, _climb, _with, _windHeight, _field, _height, _temperature, _time, _arrive, _fromHeight])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>The question that was asked.</summary>
    /// <exception cref="WrongUsageException">Something is missing or does not go together.</exception>
    public AskedConditions Of(ParseResult parsed)
    {
        AskedRange? lift = parsed.GetValue(_lift), climb = parsed.GetValue(_climb);
        double? with = parsed.GetValue(_with), readAt = parsed.GetValue(_windHeight);
        string? wrong = parsed.GetValue(_wind) is null ? "--wind is missing; expected the wind at flying height, such as --wind 4m/s, --wind 3..6m/s or --wind light"
            : lift is null && climb is null ? "--lift is missing; expected the rise of the air in a thermal, such as --lift 1.5m/s, --lift weak or --lift none, or in its place the climb seen and its ballast, --climb 0.8m/s --with 30"
            : lift is not null && climb is not null ? "--lift and --climb say the same thing twice; give one of them"
            : climb is not null && with is null ? "--climb is missing its ballast; add --with, such as --with 30 (--with 0 for none)"
            : climb is null && with is not null ? "--with goes with --climb, the climb seen with that ballast"
            : parsed.GetValue(_field) is not null && readAt is null ? "--field goes with --wind-height: it tells how the wind read near the ground there compares with the wind above"
            : null;
        return wrong is not null ? throw new WrongUsageException(wrong) : new AskedConditions
        {
            WindMps = parsed.GetValue(_wind)!.Value,
            WindHeightM = readAt,
            Field = parsed.GetValue(_field),
            LiftMps = lift,
            ClimbMps = climb,
            ClimbWithG = with ?? 0,
            Edr = parsed.GetValue(_turbulence),
            Ground = parsed.GetValue(_ground) ?? Ground.Grass,
            FieldHeightM = parsed.GetValue(_height) ?? 0,
            TemperatureK = parsed.GetValue(_temperature),
            TimeS = parsed.GetValue(_time),
            ArriveM = parsed.GetValue(_arrive) ?? AskedConditions.UsualArriveM,
            FromHeightM = parsed.GetValue(_fromHeight),
        };
    }

    internal static Option<AskedRange?> Range(string name, string helpName, UnitFamily family, IReadOnlyDictionary<string, AskedRange>? words, double least, double most, string about) => new(name)
    {
        HelpName = helpName,
        Description = about,
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            if (words is not null && words.TryGetValue(text.Trim(), out AskedRange word))
            {
                return word;
            }
            if (words is not null && !text.Any(char.IsAsciiDigit))
            {
                string known = family == UnitFamily.Turbulence ? TurbulenceWords : words == ConditionWords.Wind ? WindWords : LiftWords;
                result.AddError($"{name} \"{text}\" is not known; expected a {family.Name} such as {known}");
                return null;
            }
            if (!QuantityText.TryParseRange(text, family, out double low, out double high, out string complaint))
            {
                result.AddError($"{name} {complaint}");
                return null;
            }
            if (QuantityOptions.OutOfRange(name, text, family, low, high, least, most) is { } outside)
            {
                result.AddError(outside);
                return null;
            }
            return new AskedRange(low, high);
        },
    };
}

using System.CommandLine;
using ThermalTrace.Advice;

namespace ThermalTrace.Cli.Commands;

/// <summary>The options of <c>suggest</c> that describe the day.</summary>
internal sealed class SuggestQuestion
{
    private readonly Option<AskedRange?> _wind = QuantityOptions.Condition(AskedText.Wind, "W", $"Wind at flying height: {AskedText.Wind.Expected}.");
    private readonly Option<double?> _windHeight = QuantityOptions.Single(AskedText.WindHeight, "H", "Height over ground at which that wind was read, such as 2m; it is then brought to flying height.");
    private readonly Option<string?> _field = new("--field") { HelpName = "NAME", Description = "The field, for what earlier readings of the wind there have shown." };
    private readonly Option<AskedRange?> _lift = QuantityOptions.Condition(AskedText.Lift, "L", $"Rise of the air in a thermal's core: {AskedText.Lift.Expected}.");
    private readonly Option<AskedRange?> _climb = QuantityOptions.Condition(AskedText.Climb, "C", "In place of --lift: the climb seen, with the ballast of --with.");
    private readonly Option<double?> _with = QuantityOptions.Single(AskedText.With, "G", "The ballast that climb was seen with.");
    private readonly Option<AskedRange?> _turbulence = QuantityOptions.Condition(AskedText.Turbulence, "T", $"Taken from wind and ground if not given. EDR in m^(2/3)/s: {AskedText.Turbulence.Expected}.");
    private readonly Option<Ground?> _ground = QuantityOptions.Read<Ground?>("--ground", "WORD", "What the wind comes across: grass (if not given), hedges, trees.",
        (string text, out Ground? ground, out string complaint) =>
        {
            bool read = AskedText.TryReadGround(text, out Ground known, out complaint);
            ground = read ? known : null;
            return read;
        });
    private readonly Option<double?> _height = QuantityOptions.Single(AskedText.FieldHeight, "H", "Height of the field above the sea, for the air's density.");
    private readonly Option<double?> _temperature = QuantityOptions.Single(AskedText.Temperature, "T", "Temperature at the field, such as 25C, for the air's density.");
    private readonly Option<double?> _time = QuantityOptions.Single(AskedText.Time, "T", "The time to make, such as 5min: adds the chance of making it.");
    private readonly Option<double?> _arrive = QuantityOptions.Single(AskedText.Arrive, "H", $"Least height at which lift is to be reached ({AskedConditions.UsualArriveM:0}m if not given).");
    private readonly Option<double?> _fromHeight = QuantityOptions.Single(AskedText.FromHeight, "H", "Height to reckon from, in place of the model's own launch.");

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
    public AskedConditions Of(ParseResult parsed) => new AskedDay
    {
        WindMps = parsed.GetValue(_wind),
        WindHeightM = parsed.GetValue(_windHeight),
        Field = parsed.GetValue(_field),
        LiftMps = parsed.GetValue(_lift),
        ClimbMps = parsed.GetValue(_climb),
        ClimbWithG = parsed.GetValue(_with),
        Edr = parsed.GetValue(_turbulence),
        Ground = parsed.GetValue(_ground),
        FieldHeightM = parsed.GetValue(_height),
        TemperatureK = parsed.GetValue(_temperature),
        TimeS = parsed.GetValue(_time),
        ArriveM = parsed.GetValue(_arrive),
        FromHeightM = parsed.GetValue(_fromHeight),
    }.Conditions();
}

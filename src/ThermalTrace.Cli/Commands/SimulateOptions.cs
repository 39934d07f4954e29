using System.CommandLine;
using System.Globalization;
using ThermalTrace.Simulation;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary>The options of <c>simulate</c>, one for every property of <see cref="SimulationOptions"/>.</summary>
internal sealed class SimulateOptions
{
    private readonly Command _command;
    private readonly List<Func<ParseResult, SimulationOptions, SimulationOptions>> _settings = [];

    private SimulateOptions(Command command) => _command = command;

    /// <summary>Adds the options to the command.</summary>
    /// <returns>What they say, once parsed.</returns>
    public static Func<ParseResult, SimulationOptions> AddTo(Command command)
    {
        SimulateOptions add = new(command);
        add.Whole("--seed", "Same seed and options, same files.", (o, v) => o with { Seed = v });
        add.Whole("--airframe-seed", "Draws the airframe: the same in many sessions flies one airframe through a season.", (o, v) => o with { AirframeSeed = v });
        add.Whole("--day", "Days after the first.", (o, v) => o with { Day = (int)Math.Clamp(v, int.MinValue, int.MaxValue) });
        add.Number("--wear", "By how much the model drags more than it did new; 0.06 is 6 %.", (o, v) => o with { Wear = v });
        add.Text("--preset", "NAME", $"The model: {string.Join(", ", AirframePresets.Names)}.", (o, v) => o with { Preset = v });
        add.Whole("--flights", "Flights in the whole session.", (o, v) => o with { Flights = (int)Math.Clamp(v, int.MinValue, int.MaxValue) });
        add.Ballasts();
        add.Choice<BallastOrder>("--order", "In which order ballasts are flown", (o, v) => o with { Order = v });
        add.Choice<LogSplit>("--logs", "Which flights share a log", (o, v) => o with { Logs = v });
        add.Choice<SimulatedLaunch>("--launch", "How the model gets its height", (o, v) => o with { Launch = v });
        add.Quantity("--wind", UnitFamily.Speed, "Mean wind 50 m above ground at the start.", (o, v) => o with { WindMps = v });
        add.Number("--wind-from", "Direction it comes from, degrees.", (o, v) => o with { WindFromDeg = v });
        add.Quantity("--wind-change", UnitFamily.Speed, "Added to the wind by the end of the session.", (o, v) => o with { WindChangeMps = v });
        add.Number("--shear", "Exponent of the wind's power law in height.", (o, v) => o with { ShearExponent = v });
        add.Quantity("--edr", UnitFamily.Turbulence, "Mean turbulence at 50 m, m^(2/3)/s.", (o, v) => o with { Edr = v });
        add.Quantity("--lift", UnitFamily.Speed, "Vertical speed of the air in a thermal's core; 0 for none.", (o, v) => o with { LiftMps = v });
        add.Quantity("--thermal-radius", UnitFamily.Length, "Where lift has fallen to 1/e, at 50 m.", (o, v) => o with { ThermalRadiusM = v });
        add.Quantity("--waves", UnitFamily.Speed, "Long waves in the vertical air, root mean square.", (o, v) => o with { WavesMps = v });
        add.Number("--warmer", "Than the standard atmosphere, K.", (o, v) => o with { WarmerK = v });
        add.Number("--test-share", "Share of flights in which the pilot holds speeds on purpose, 0 to 1.", (o, v) => o with { TestShare = v });
        add.Quantity("--flight-time", UnitFamily.Time, "After which the pilot comes home.", (o, v) => o with { FlightTimeS = v });
        add.Number("--airframe-spread", "How far the model departs from its preset's drag; 0.08 is 8 %.", (o, v) => o with { AirframeSpread = v });
        add.Number("--ballast-spread", "How far a ballast departs in drag; 0.01 is 1 %.", (o, v) => o with { BallastSpread = v });
        add.Number("--rate", "Rows a second.", (o, v) => o with { RateHz = v });
        add.Flag("--no-gps", "No position, ground speed or track.", o => o with { Gps = false });
        add.Quantity("--gps-delay", UnitFamily.Time, "How late a fix is.", (o, v) => o with { GpsDelayS = v });
        add.Flag("--no-ground-speed", "Position without ground speed and track.", o => o with { GroundSpeed = false });
        add.Flag("--no-vario", "No climb rate.", o => o with { Vario = false });
        add.Quantity("--vario-lag", UnitFamily.Time, "Time constant of the vario.", (o, v) => o with { VarioLagS = v });
        add.Flag("--pitot", "Airspeed is logged.", o => o with { Pitot = true });
        add.Number("--pitot-gain", "Error of the pitot's scale; 0.03 reads 3 % high.", (o, v) => o with { PitotGainError = v });
        add.Flag("--accelerometer", "Acceleration is logged.", o => o with { Accelerometer = true });
        add.Flag("--temperature", "Air temperature is logged.", o => o with { Temperature = true });
        add.Flag("--motor", "The motor's setting is logged.", o => o with { Motor = true });
        add.Number("--sensor-noise", "Multiplies every sensor's noise.", (o, v) => o with { SensorNoise = v });
        add.Number("--baro-drift", "By which the barometric altitude creeps up, m/h.", (o, v) => o with { BaroDriftMPerH = v });
        add.Whole("--camber-from", "From this flight on another camber setting is flown and not logged.", (o, v) => o with { CamberFrom = (int)Math.Clamp(v, int.MinValue, int.MaxValue) });
        add.Whole("--camber-to", "The last flight with that setting.", (o, v) => o with { CamberTo = (int)Math.Clamp(v, int.MinValue, int.MaxValue) });
        add.Number("--camber-shift", "By which it moves the lift coefficient of least drag.", (o, v) => o with { CamberShift = v });
        add.Flag("--faults", "Doubled rows, rows out of order, spikes, stuck sensors, lost fixes.", o => o with { Faults = true });
        add.Flag("--paused", "The logger is paused between flights.", o => o with { Paused = true });
        add.Choice<LogFlavour>("--flavour", "How the logs are written", (o, v) => o with { Flavour = v });
        return parsed => add._settings.Aggregate(new SimulationOptions(), (options, set) => set(parsed, options));
    }

    private void Text(string name, string helpName, string about, Func<SimulationOptions, string, SimulationOptions> with) =>
        Parsed(name, helpName, about, text => (text, ""), with);

    private void Whole(string name, string about, Func<SimulationOptions, long, SimulationOptions> with) =>
        Parsed(name, "N", about, text => long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long value)
            ? (value, "")
            : (value, $"\"{text}\" is not a whole number"), with);

    private void Flag(string name, string about, Func<SimulationOptions, SimulationOptions> with)
    {
        Option<bool> option = new(name) { Description = about };
        Add(option, (parsed, o) => parsed.GetValue(option) ? with(o) : o);
    }

    private void Number(string name, string about, Func<SimulationOptions, double, SimulationOptions> with) =>
        Parsed(name, "X", about, text => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value)
            ? (value, "")
            : (value, $"\"{text}\" is not a number"), with);

    private void Quantity(string name, UnitFamily family, string about, Func<SimulationOptions, double, SimulationOptions> with) =>
        Parsed(name, family.Name.ToUpperInvariant(), about, text =>
            QuantityText.TryParse(text, family, out double value, out string complaint) ? (value, "") : (value, complaint), with);

    private void Choice<T>(string name, string about, Func<SimulationOptions, T, SimulationOptions> with)
        where T : struct, Enum
    {
        Dictionary<string, T> words = Enum.GetValues<T>().ToDictionary(Hyphenated, v => v, StringComparer.Ordinal);
        string known = string.Join(", ", words.Keys);
        Parsed(name, "WORD", $"{about}: {known}.", text => words.TryGetValue(text, out T value)
            ? (value, "")
            : (value, $"\"{text}\" is not known; expected one of {known}"), with);
    }

    private void Ballasts() => Parsed("--ballasts", "G,G,…", "Masses of ballast in g, comma separated.", text =>
    {
        List<double> masses = [];
        foreach (string part in text.Split(','))
        {
            if (!QuantityText.TryParse(part, UnitFamily.Mass, out double mass, out string complaint))
            {
                return (masses, complaint);
            }
            masses.Add(mass);
        }
        return (masses, "");
    }, (SimulationOptions o, List<double> v) => o with { BallastsG = v });

    /// <summary>An option whose text is read here, so that what is wrong with it is said in one way.</summary>
    private void Parsed<T>(string name, string helpName, string about, Func<string, (T Value, string Complaint)> read,
        Func<SimulationOptions, T, SimulationOptions> with)
    {
        Option<T> option = new(name)
        {
            HelpName = helpName,
            Description = about,
            CustomParser = result =>
            {
                (T value, string complaint) = read(result.Tokens[0].Value);
                if (complaint.Length > 0)
                {
                    result.AddError($"{name} {complaint}");
                }
                return value;
            },
        };
        Add(option, (parsed, o) => with(o, parsed.GetRequiredValue(option)));
    }

    private void Add(Option option, Func<ParseResult, SimulationOptions, SimulationOptions> set)
    {
        _command.Options.Add(option);
        _settings.Add((parsed, o) => parsed.GetResult(option) is null ? o : set(parsed, o));
    }

    private static string Hyphenated<T>(T value)
        where T : struct, Enum =>
        string.Concat(value.ToString().Select((c, i) => (i > 0 && char.IsUpper(c) ? "-" : "") + char.ToLowerInvariant(c)));
}

namespace ThermalTrace.Simulation;

/// <summary>How a simulated model gets its height.</summary>
public enum SimulatedLaunch
{
    /// <summary>Side-arm throw by the wing tip.</summary>
    Discus,
    /// <summary>Javelin throw.</summary>
    Hand,
    /// <summary>Own motor; may be started again in the air.</summary>
    Electric,
    /// <summary>Winch line with a zoom at its end.</summary>
    Winch,
    /// <summary>Stretched rubber line.</summary>
    Bungee,
    /// <summary>Behind another model.</summary>
    Tow,
}

/// <summary>In which order ballasts are flown.</summary>
public enum BallastOrder
{
    /// <summary>All flights of the first, then of the second, and so on.</summary>
    Blocks,
    /// <summary>A-B-C-A-B-C.</summary>
    Turns,
    /// <summary>There and back, A-B-C-C-B-A, so that a slow change of the weather meets all alike.</summary>
    ThereAndBack,
}

/// <summary>Which flights share a log.</summary>
public enum LogSplit
{
    /// <summary>One log a ballast.</summary>
    PerBallast,
    /// <summary>One log for the day.</summary>
    One,
    /// <summary>One log a flight.</summary>
    PerFlight,
}

/// <summary>
/// What to simulate. Every property is one option of <c>thermaltrace simulate</c>, named in its first words.
/// </summary>
public sealed record SimulationOptions
{
    /// <summary><c>--seed</c>: same seed and options, same bytes.</summary>
    public long Seed { get; init; } = 1;

    /// <summary><c>--airframe-seed</c>: draws the airframe; null takes <see cref="Seed"/>. The same in many sessions flies one airframe through a season.</summary>
    public long? AirframeSeed { get; init; }

    /// <summary><c>--day</c>: days after the simulator's first.</summary>
    public int Day { get; init; }

    /// <summary><c>--wear</c>: by how much the airframe drags more than it did new; 0.06 is 6 %.</summary>
    public double Wear { get; init; }

    /// <summary><c>--preset</c>: name in <see cref="AirframePresets"/>.</summary>
    public string Preset { get; init; } = "discus-1500";

    /// <summary><c>--airframe-spread</c>: how far this seed's airframe departs from the preset's drag, as a standard deviation (0.08 is 8 %).</summary>
    public double AirframeSpread { get; init; }

    /// <summary><c>--ballast-spread</c>: standard deviation of a ballast's own departure in profile drag (0.01 is 1 %).</summary>
    public double BallastSpread { get; init; } = 0.005;

    /// <summary><c>--flights</c>: in the whole session.</summary>
    public int Flights { get; init; } = 9;

    /// <summary><c>--ballasts</c>: g, comma separated; empty takes the preset's.</summary>
    public IReadOnlyList<double> BallastsG { get; init; } = [];

    /// <summary><c>--order</c>: <c>blocks</c>, <c>turns</c> or <c>there-and-back</c>.</summary>
    public BallastOrder Order { get; init; } = BallastOrder.Turns;

    /// <summary><c>--logs</c>: <c>per-ballast</c>, <c>one</c> or <c>per-flight</c>.</summary>
    public LogSplit Logs { get; init; } = LogSplit.PerBallast;

    /// <summary><c>--launch</c>: null takes the preset's.</summary>
    public SimulatedLaunch? Launch { get; init; }

    /// <summary><c>--wind</c>: mean speed 50 m above ground at the session's start, m/s.</summary>
    public double WindMps { get; init; } = 4;

    /// <summary><c>--wind-from</c>: degrees, the direction it comes from; NaN draws one.</summary>
    public double WindFromDeg { get; init; } = double.NaN;

    /// <summary><c>--wind-change</c>: added by the end of the session, m/s.</summary>
    public double WindChangeMps { get; init; }

    /// <summary><c>--shear</c>: exponent of the wind's power law in height.</summary>
    public double ShearExponent { get; init; } = 0.15;

    /// <summary><c>--edr</c>: mean eddy dissipation rate to the power 1/3 at 50 m, m^(2/3)/s.</summary>
    public double Edr { get; init; } = 0.1;

    /// <summary><c>--eddy-size</c>: of the largest eddies, m; the -5/3 range ends there.</summary>
    public double EddySizeM { get; init; } = 200;

    /// <summary><c>--lift</c>: mean vertical speed of the air in a thermal's core, m/s; 0 for none.</summary>
    public double LiftMps { get; init; } = 2;

    /// <summary><c>--thermal-radius</c>: where lift has fallen to 1/e, at 50 m, m.</summary>
    public double ThermalRadiusM { get; init; } = 15;

    /// <summary><c>--waves</c>: root mean square of long waves in the vertical air, m/s.</summary>
    public double WavesMps { get; init; } = 0.06;

    /// <summary><c>--warmer</c>: than the standard atmosphere, K.</summary>
    public double WarmerK { get; init; }

    /// <summary><c>--test-share</c>: share of flights in which the pilot holds speeds on opposite pairs of legs, 0 to 1.</summary>
    public double TestShare { get; init; } = 0.5;

    /// <summary><c>--flight-time</c>: after which the pilot comes home, s; NaN takes the preset's.</summary>
    public double FlightTimeS { get; init; } = double.NaN;

    /// <summary><c>--rate</c>: rows per second, 20 at most.</summary>
    public double RateHz { get; init; } = 5;

    /// <summary><c>--no-gps</c>.</summary>
    public bool Gps { get; init; } = true;

    /// <summary><c>--gps-delay</c>: s; NaN draws one between 0.2 and 1.2.</summary>
    public double GpsDelayS { get; init; } = double.NaN;

    /// <summary><c>--no-ground-speed</c>: position alone, no speed and track.</summary>
    public bool GroundSpeed { get; init; } = true;

    /// <summary><c>--no-vario</c>.</summary>
    public bool Vario { get; init; } = true;

    /// <summary><c>--vario-lag</c>: time constant, s; NaN draws one between 0.2 and 0.8.</summary>
    public double VarioLagS { get; init; } = double.NaN;

    /// <summary><c>--pitot</c>: airspeed is logged.</summary>
    public bool Pitot { get; init; }

    /// <summary><c>--pitot-gain</c>: error of its scale; NaN draws one with 3 % standard deviation.</summary>
    public double PitotGainError { get; init; } = double.NaN;

    /// <summary><c>--accelerometer</c>: the magnitude of specific force is logged.</summary>
    public bool Accelerometer { get; init; }

    /// <summary><c>--temperature</c>: air temperature is logged.</summary>
    public bool Temperature { get; init; }

    /// <summary><c>--motor</c>: the motor's setting is logged (electric launches).</summary>
    public bool Motor { get; init; }

    /// <summary><c>--sensor-noise</c>: multiplies every sensor's noise; 1 is a decent logger, 2 a poor one.</summary>
    public double SensorNoise { get; init; } = 1;

    /// <summary><c>--baro-drift</c>: by which the barometric altitude creeps up, m/h.</summary>
    public double BaroDriftMPerH { get; init; }

    /// <summary><c>--camber-from</c>: from this flight of the session on another camber setting is flown, and nobody logs it; 0 for never.</summary>
    public int CamberFrom { get; init; }

    /// <summary><c>--camber-to</c>: the last flight with that setting; 0 for the session's last.</summary>
    public int CamberTo { get; init; }

    /// <summary><c>--camber-shift</c>: by how much that setting moves the lift coefficient at which the wing drags least.</summary>
    public double CamberShift { get; init; } = 0.3;

    /// <summary><c>--faults</c>: doubled rows, rows out of order, spikes, stuck sensors, lost fixes.</summary>
    public bool Faults { get; init; }

    /// <summary><c>--paused</c>: the logger is paused between flights.</summary>
    public bool Paused { get; init; }

    /// <summary><c>--flavour</c>: how the logs are written.</summary>
    public LogFlavour Flavour { get; init; } = LogFlavour.Comma;
}

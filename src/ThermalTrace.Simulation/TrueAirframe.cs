namespace ThermalTrace.Simulation;

/// <summary>What an airframe is truly worth in any air: to judge advice by.</summary>
public sealed class TrueAirframe
{
    private readonly Model[] _models;

    private TrueAirframe(Model[] models) => _models = models;

    /// <summary>The airframe that a simulation with these options flies.</summary>
    /// <exception cref="ArgumentException">No preset has this name.</exception>
    public static TrueAirframe Of(SimulationOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        AirframePreset preset = AirframePresets.Find(options.Preset);
        return new TrueAirframe(Simulator.Build(options, preset, options.BallastsG.Count > 0 ? options.BallastsG : preset.BallastsG));
    }

    /// <summary>Ballasts, g, in the order given.</summary>
    public IReadOnlyList<double> BallastsG => [.. _models.Select(m => m.BallastG)];

    /// <summary>Speeds that can be flown level, slowest and three times that, m/s at sea level.</summary>
    public (double SlowestMps, double FastestMps) SpeedsMps(int ballast) => (_models[ballast].SlowestMps, 3 * _models[ballast].SlowestMps);

    /// <summary>Sink in level flight in still air at sea level, m/s.</summary>
    public double SinkMps(int ballast, double airspeedMps) => _models[ballast].SinkMps(airspeedMps);

    /// <summary>The pilot's best mean climb, m/s, centring loss in turbulence included.</summary>
    public double ClimbMps(int ballast, double liftMps, double radiusM, double edr) => Circling.Best(_models[ballast], liftMps, radiusM, edr).ClimbMps;

    /// <summary>Round-trip climb, m/s.</summary>
    public double RoundTripMps(int ballast, double climbMps, double windMps) => RoundTrip.Of(_models[ballast], climbMps, windMps).ClimbMps;
}

using ThermalTrace.Simulation;

namespace ThermalTrace.Calibration;

/// <summary>A kind of session; its seed varies airframe, air, pilot and sensors.</summary>
public sealed record Scenario(string Name, SimulationOptions Options)
{
    private const double AirframeSpread = 0.08; // the airframe is no more known than its geometry tells

    /// <summary>
    /// The grid: spans from 1 to 4 m, every kind of launch, no wind to 12 m/s, calm to rough, tests and ordinary flying, 1 to 10 Hz,
    /// with and without vario, ground speed and pitot. New kinds are put at the end, so that the others keep their seeds.
    /// </summary>
    public static IReadOnlyList<Scenario> All { get; } =
    [
        new("discus calm tests", new() { Preset = "discus-1500", WindMps = 1.5, Edr = 0.04, LiftMps = 1.2, TestShare = 1, Flights = 12, AirframeSpread = AirframeSpread }),
        new("discus wind mixed", new() { Preset = "discus-1500", WindMps = 5.5, Edr = 0.14, LiftMps = 2.2, TestShare = 0.5, Flights = 12, AirframeSpread = AirframeSpread, Paused = true }),
        new("discus rough ordinary", new() { Preset = "discus-1500", WindMps = 6, Edr = 0.22, LiftMps = 2.8, TestShare = 0, Flights = 12, AirframeSpread = AirframeSpread, Faults = true, SensorNoise = 1.5, Logs = LogSplit.One }),
        new("small discus", new() { Preset = "discus-1000", WindMps = 3, Edr = 0.10, LiftMps = 1.8, TestShare = 0.3, Flights = 12, AirframeSpread = AirframeSpread }),
        new("electric 2 Hz", new() { Preset = "electric-3600", WindMps = 6, Edr = 0.12, LiftMps = 2.2, TestShare = 0.2, Flights = 6, RateHz = 2, AirframeSpread = AirframeSpread }),
        new("winch 1 Hz", new() { Preset = "winch-3000", WindMps = 4, Edr = 0.10, LiftMps = 1.8, TestShare = 0.4, Flights = 8, RateHz = 1, AirframeSpread = AirframeSpread }),
        new("electric warm day", new() { Preset = "electric-2000", WindMps = 2.5, Edr = 0.08, LiftMps = 2, TestShare = 0.4, Flights = 8, Temperature = true, WarmerK = 14, GroundSpeed = false, AirframeSpread = AirframeSpread }),
        new("large tow", new() { Preset = "tow-4000", WindMps = 8, Edr = 0.15, LiftMps = 3, TestShare = 0.2, Flights = 6, Pitot = true, AirframeSpread = AirframeSpread }),
        new("hand no wind 10 Hz no vario", new() { Preset = "hand-1200", WindMps = 0, Edr = 0.07, LiftMps = 2, TestShare = 0.5, Flights = 16, RateHz = 10, Vario = false, AirframeSpread = AirframeSpread }),
        new("discus strong wind", new() { Preset = "discus-1500", BallastsG = [0, 75, 150], WindMps = 8, Edr = 0.2, LiftMps = 2.5, TestShare = 0.3, Flights = 12, GpsDelayS = 1.2, AirframeSpread = AirframeSpread }),
        new("bungee waves", new() { Preset = "bungee-2500", WindMps = 5, Edr = 0.1, LiftMps = 1.5, WavesMps = 0.3, WarmerK = 8, TestShare = 0.3, Flights = 8, GpsDelayS = 0.2, AirframeSpread = AirframeSpread }),
        new("winch gale pitot 8 % high", new() { Preset = "winch-3000", WindMps = 12, Edr = 0.22, LiftMps = 2.5, TestShare = 0.3, Flights = 8, RateHz = 10, Pitot = true, PitotGainError = 0.08, AirframeSpread = AirframeSpread }),
    ];

    /// <summary>Sessions of every kind whose name holds a text, with their seeds: session by session over the kinds, so that a run that is ended early has some of each.</summary>
    public static IEnumerable<(Scenario Kind, long Seed)> Sessions(int sessions, long firstSeed, string only) =>
        Enumerable.Range(0, sessions).SelectMany(n => All.Select((kind, k) => (kind, firstSeed + (long)k * sessions + n)))
            .Where(s => s.kind.Name.Contains(only, StringComparison.OrdinalIgnoreCase));
}

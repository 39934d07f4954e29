using ThermalTrace.Units;

namespace ThermalTrace.Simulation;

/// <summary>An airframe with one ballast: what is flown, and its true polar in still air.</summary>
internal sealed class Model
{
    private const double Gravity = PhysicalConstants.StandardGravityMps2;
    private const int PolarPoints = 61;

    private static readonly double SeaLevelViscosityPaS = Atmosphere.ViscosityPaS(PhysicalConstants.SeaLevelTemperatureK);

    public Model(AirframePreset airframe, DragCurve drag, double ballastG)
    {
        Airframe = airframe;
        Drag = drag;
        BallastG = ballastG;
        MassKg = airframe.MassKg + ballastG / 1000;
        SlowestMps = LevelStallMps() * 1.03;
        (double AirspeedMps, double SinkMps) best = default;
        for (int i = 0; i <= 400; i++)
        {
            double v = SlowestMps * (1 + i * 0.003);
            double s = SinkMps(v);
            best = i == 0 || s < best.SinkMps ? (v, s) : best;
        }
        MinSinkAirspeedMps = best.AirspeedMps;
    }

    public AirframePreset Airframe { get; }

    public DragCurve Drag { get; }

    public double BallastG { get; }

    public double MassKg { get; }

    /// <summary>Slowest speed that can be held level, with a little in hand, sea level.</summary>
    public double SlowestMps { get; }

    /// <summary>Airspeed of least sink, sea level.</summary>
    public double MinSinkAirspeedMps { get; }

    /// <summary>Wing area, m².</summary>
    public double AreaM2 => Airframe.AreaM2;

    /// <summary>True sink in still air of sea-level density at a load factor, m/s, down is positive.</summary>
    public double SinkMps(double airspeedMps, double loadFactor = 1)
    {
        double pressure = 0.5 * PhysicalConstants.SeaLevelDensityKgM3 * airspeedMps * airspeedMps;
        double lift = loadFactor * MassKg * Gravity / (pressure * AreaM2);
        double reynolds = PhysicalConstants.SeaLevelDensityKgM3 * airspeedMps * Airframe.MeanChordM / SeaLevelViscosityPaS;
        return airspeedMps * pressure * AreaM2 * Drag.Drag(lift, reynolds) / (MassKg * Gravity);
    }

    /// <summary>Pairs of airspeed and sink in level flight at sea-level density, from the slowest speed to three times as much.</summary>
    public IReadOnlyList<(double AirspeedMps, double SinkMps)> Polar() =>
        [.. Enumerable.Range(0, PolarPoints).Select(i => SlowestMps * (1 + 2.0 * i / (PolarPoints - 1))).Select(v => (v, SinkMps(v)))];

    private double LevelStallMps()
    {
        double v = 5;
        for (int i = 0; i < 20; i++)
        {
            double reynolds = PhysicalConstants.SeaLevelDensityKgM3 * v * Airframe.MeanChordM / SeaLevelViscosityPaS;
            v = Math.Sqrt(2 * MassKg * Gravity / (PhysicalConstants.SeaLevelDensityKgM3 * AreaM2 * Drag.MaxLiftAt(reynolds)));
        }
        return v;
    }
}

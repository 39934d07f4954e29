using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Support;

/// <summary>Tracks and flights of which every figure is given, without a log.</summary>
internal static class MadeUpAir
{
    /// <summary>A track at one density, at 1 Hz or faster.</summary>
    public static Track Track(double stepS, double[] altitudeM, GroundMotion? ground = null) => new()
    {
        Log = 0,
        StartS = 0,
        StepS = stepS,
        AltitudeM = altitudeM,
        AltitudeNoiseM = 0.1,
        SmoothAltitudeM = altitudeM,
        VerticalSpeedMps = new double[altitudeM.Length],
        Ground = ground,
        PitotMps = null,
        Motor = null,
        LoadFactorDeparture = null,
        Camber = null,
        CamberLabels = [],
        BallastG = null,
        Density = new AirDensity(0, 1.225, 288.15, false),
    };

    /// <summary>Motion over the ground with a receiver's small error.</summary>
    public static GroundMotion Ground(double[] eastMps, double[] northMps) =>
        new(new double[eastMps.Length], new double[eastMps.Length], eastMps, northMps, Filled(eastMps.Length, 0.01), 0, true, true);

    /// <summary>Flight to the north in still air that is known well, one speed for height and drag, the load factor 1.</summary>
    public static FlightAir Air(Flight flight, double[] airspeedMps)
    {
        int count = airspeedMps.Length;
        return new FlightAir
        {
            Flight = flight,
            WindEastMps = new double[count],
            WindNorthMps = new double[count],
            InertialSpeedMps = airspeedMps,
            AirspeedMps = airspeedMps,
            AirspeedVarianceM2ps2 = new double[count],
            HeadingRad = new double[count],
            LoadFactor = Filled(count, 1),
            Circling = new bool[count],
            Wind = new MeanWind(0, 0, 1e-4, 1e-4, 0),
            PitotFactor = null,
        };
    }

    public static double[] Filled(int count, double value)
    {
        double[] values = new double[count];
        Array.Fill(values, value);
        return values;
    }
}

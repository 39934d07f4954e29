namespace ThermalTrace.Tracks;

/// <summary>
/// One unbroken stretch of a log on an even time grid: what the sensors say of the model's motion, with the sensors'
/// noise and delays dealt with, and nothing yet of flights or air. Arrays have <see cref="Count"/> values; NaN is missing.
/// </summary>
internal sealed class Track
{
    /// <summary>Index of the log in the session.</summary>
    public required int Log { get; init; }

    /// <summary>Time of the first grid point, s from the log's earliest stamp.</summary>
    public required double StartS { get; init; }

    /// <summary>Grid step, s.</summary>
    public required double StepS { get; init; }

    /// <summary>Number of grid points.</summary>
    public int Count => AltitudeM.Length;

    /// <summary>Height in true metres (corrected for the day's temperature where it was logged); barometric where there is a barometer.</summary>
    public required double[] AltitudeM { get; init; }

    /// <summary>Standard deviation of the altitude's white noise, m.</summary>
    public required double AltitudeNoiseM { get; init; }

    /// <summary>Altitude smoothed over about a second, m; no NaN.</summary>
    public required double[] SmoothAltitudeM { get; init; }

    /// <summary>Its rate of change, m/s, up is positive; no NaN.</summary>
    public required double[] VerticalSpeedMps { get; init; }

    /// <summary>Horizontal velocity over the ground and position on the tangent plane; null without satellite navigation.</summary>
    public required GroundMotion? Ground { get; init; }

    /// <summary>Vertical speed as the variometer gave it, behind its own filter, m/s; null without.</summary>
    public double[]? VarioMps { get; init; }

    /// <summary>Pitot airspeed as logged, m/s; null without.</summary>
    public required double[]? PitotMps { get; init; }

    /// <summary>Motor setting; null without.</summary>
    public required double[]? Motor { get; init; }

    /// <summary>Departure of the load factor from 1, from an accelerometer; null without.</summary>
    public required double[]? LoadFactorDeparture { get; init; }

    /// <summary>Index of the camber setting; null where none is logged.</summary>
    public required double[]? Camber { get; init; }

    /// <summary>Names behind the camber indices (untrusted text).</summary>
    public required IReadOnlyList<string> CamberLabels { get; init; }

    /// <summary>Ballast as logged, g; null where none is logged.</summary>
    public required double[]? BallastG { get; init; }

    /// <summary>Air density, kg/m³, mean over the stretch at its middle height, and its fall with height, 1/m (of the density itself).</summary>
    public required AirDensity Density { get; init; }

    /// <summary>How the log's barometer crept away from its satellite altitude; null where the log cannot tell.</summary>
    public BarometerDrift? Drift { get; init; }

    /// <summary>s from the log's earliest stamp.</summary>
    public double TimeS(int i) => StartS + i * StepS;

    /// <summary>The grid point nearest to a time, held within the stretch.</summary>
    public int IndexAt(double timeS) => (int)Math.Clamp(Math.Round((timeS - StartS) / StepS), 0, Count - 1);
}

/// <summary>Smoothed motion over the ground; arrays as in <see cref="Track"/>, aligned in time with the altitude.</summary>
/// <param name="EastM">m from the session's first fix in this log.</param>
/// <param name="NorthM">m.</param>
/// <param name="EastMps">m/s.</param>
/// <param name="NorthMps">m/s.</param>
/// <param name="VarianceM2ps2">Error variance of either component, m²/s².</param>
/// <param name="DelayS">By how much the receiver ran behind the barometer; already taken out.</param>
/// <param name="DelayKnown">False where the log could not tell and the usual delay was taken.</param>
/// <param name="VelocityLogged">False where velocity is the slope of positions, whose error wanders for seconds.</param>
internal sealed record GroundMotion(double[] EastM, double[] NorthM, double[] EastMps, double[] NorthMps, double[] VarianceM2ps2,
    double DelayS, bool DelayKnown, bool VelocityLogged);

/// <summary>Density of the air near the flights: exponential with height about a reference.</summary>
/// <param name="ReferenceAltitudeM">Height on the track's own altitude scale, m.</param>
/// <param name="ReferenceKgM3">Density there, kg/m³.</param>
/// <param name="TemperatureK">Air temperature there.</param>
/// <param name="FromLog">True where temperature was logged; else the standard atmosphere.</param>
internal sealed record AirDensity(double ReferenceAltitudeM, double ReferenceKgM3, double TemperatureK, bool FromLog)
{
    private const double ScaleHeightM = 10_400; // of density in the lower standard atmosphere: -rho/(d rho/dh) at 0 m, ISO 2533

    /// <summary>kg/m³ at an altitude on the track's scale.</summary>
    public double AtKgM3(double altitudeM) => ReferenceKgM3 * Math.Exp(-(altitudeM - ReferenceAltitudeM) / ScaleHeightM);
}

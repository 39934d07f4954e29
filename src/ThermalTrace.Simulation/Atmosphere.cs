using ThermalTrace.Units;

namespace ThermalTrace.Simulation;

/// <summary>Air at rest over the field: pressure of the standard day, temperature warmer by a constant.</summary>
internal sealed class Atmosphere
{
    private const double Exponent = PhysicalConstants.StandardGravityMps2
        / (PhysicalConstants.DryAirGasConstantJPerKgK * PhysicalConstants.LapseRateKPerM);

    private readonly double _fieldTemperatureK;
    private readonly double _fieldPressurePa;

    /// <summary>The standard atmosphere at the field's elevation, m, warmer by <paramref name="warmerK"/>.</summary>
    public Atmosphere(double fieldElevationM, double warmerK)
    {
        double standardK = PhysicalConstants.SeaLevelTemperatureK - PhysicalConstants.LapseRateKPerM * fieldElevationM;
        _fieldTemperatureK = standardK + warmerK;
        _fieldPressurePa = PhysicalConstants.SeaLevelPressurePa
            * Math.Pow(standardK / PhysicalConstants.SeaLevelTemperatureK, Exponent);
    }

    /// <summary>K at a height above the field.</summary>
    public double TemperatureK(double heightM) => _fieldTemperatureK - PhysicalConstants.LapseRateKPerM * heightM;

    /// <summary>Pa at a height above the field.</summary>
    public double PressurePa(double heightM) =>
        _fieldPressurePa * Math.Pow(TemperatureK(heightM) / _fieldTemperatureK, Exponent);

    /// <summary>kg/m³ at a height above the field.</summary>
    public double DensityKgM3(double heightM) =>
        PressurePa(heightM) / (PhysicalConstants.DryAirGasConstantJPerKgK * TemperatureK(heightM));

    /// <summary>Altitude that an instrument set to the standard atmosphere shows, m.</summary>
    public static double PressureAltitudeM(double pressurePa) =>
        PhysicalConstants.SeaLevelTemperatureK / PhysicalConstants.LapseRateKPerM
        * (1 - Math.Pow(pressurePa / PhysicalConstants.SeaLevelPressurePa, 1 / Exponent));

    /// <summary>Dynamic viscosity, Pa s; Sutherland's formula with the constants of ISO 2533.</summary>
    public static double ViscosityPaS(double temperatureK) =>
        1.458e-6 * temperatureK * Math.Sqrt(temperatureK) / (temperatureK + 110.4);
}

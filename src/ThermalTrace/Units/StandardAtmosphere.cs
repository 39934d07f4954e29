namespace ThermalTrace.Units;

/// <summary>
/// The standard atmosphere's lowest layer (ISO 2533:1975), geopotential altitude −5000 to 11 000 m: temperature falls
/// by 6.5 K a kilometre and the air rests on itself. docs/models/atmosphere.md. NaN in, NaN out; a pressure or
/// temperature that is not above zero gives NaN.
/// </summary>
public static class StandardAtmosphere
{
    /// <summary>Exponent g0/(R L) of pressure over temperature, 5.25588.</summary>
    private const double PressureExponent = PhysicalConstants.StandardGravityMps2
        / (PhysicalConstants.DryAirGasConstantJPerKgK * PhysicalConstants.LapseRateKPerM);

    /// <summary>Sutherland's constants of air; ISO 2533:1975, 2.13.</summary>
    private const double SutherlandFactor = 1.458e-6;
    private const double SutherlandTemperatureK = 110.4;

    /// <summary>Pressure altitude, m geopotential, of a static pressure in Pa. docs/models/atmosphere.md eq. 3.</summary>
    public static double AltitudeM(double pressurePa) => pressurePa > 0
        ? PhysicalConstants.SeaLevelTemperatureK / PhysicalConstants.LapseRateKPerM
            * (1 - Math.Pow(pressurePa / PhysicalConstants.SeaLevelPressurePa, 1 / PressureExponent))
        : double.NaN;

    /// <summary>Static pressure, Pa, at a geopotential altitude in m. docs/models/atmosphere.md eq. 2.</summary>
    public static double PressurePa(double altitudeM) => PhysicalConstants.SeaLevelPressurePa
        * Math.Pow(TemperatureK(altitudeM) / PhysicalConstants.SeaLevelTemperatureK, PressureExponent);

    /// <summary>Temperature, K, at a geopotential altitude in m. docs/models/atmosphere.md eq. 1.</summary>
    public static double TemperatureK(double altitudeM) =>
        PhysicalConstants.SeaLevelTemperatureK - PhysicalConstants.LapseRateKPerM * altitudeM;

    /// <summary>Density of standard air, kg/m³, at a geopotential altitude in m.</summary>
    public static double DensityKgM3(double altitudeM) => DensityKgM3(PressurePa(altitudeM), TemperatureK(altitudeM));

    /// <summary>Density of dry air, kg/m³, from its own pressure and temperature. docs/models/atmosphere.md eq. 4.</summary>
    public static double DensityKgM3(double pressurePa, double temperatureK) => pressurePa > 0 && temperatureK > 0
        ? pressurePa / (PhysicalConstants.DryAirGasConstantJPerKgK * temperatureK)
        : double.NaN;

    /// <summary>Dynamic viscosity of air, Pa s (Sutherland). docs/models/atmosphere.md eq. 5.</summary>
    public static double DynamicViscosityPaS(double temperatureK) => temperatureK > 0
        ? SutherlandFactor * temperatureK * Math.Sqrt(temperatureK) / (temperatureK + SutherlandTemperatureK)
        : double.NaN;
}

namespace ThermalTrace.Units;

/// <summary>Physical constants shared by the estimator and the simulator, and nothing else shared between them.</summary>
internal static class PhysicalConstants
{
    /// <summary>Standard acceleration of free fall, m/s²; exact (CGPM 1901).</summary>
    public const double StandardGravityMps2 = 9.80665;

    /// <summary>Specific gas constant of dry air, J/(kg K); ISO 2533:1975.</summary>
    public const double DryAirGasConstantJPerKgK = 287.05287;

    /// <summary>Air density at sea level in the standard atmosphere, kg/m³; ISO 2533:1975.</summary>
    public const double SeaLevelDensityKgM3 = 1.225;

    /// <summary>Temperature at sea level in the standard atmosphere, K; ISO 2533:1975.</summary>
    public const double SeaLevelTemperatureK = 288.15;

    /// <summary>Pressure at sea level in the standard atmosphere, Pa; ISO 2533:1975.</summary>
    public const double SeaLevelPressurePa = 101_325;

    /// <summary>Fall of temperature with geopotential height in the troposphere, K/m; ISO 2533:1975.</summary>
    public const double LapseRateKPerM = 0.0065;
}

using System.Globalization;
using CsCheck;
using ThermalTrace.Tests.Support;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Units;

public class StandardAtmosphereTests
{
    // ISO 2533:1975, tables 5 and 6, as an open library (BSD-2) prints them; half the last printed digit is allowed.
    [Theory]
    [InlineData(0, 288.150, 1013.25, 1.22500, 1.7894)]
    [InlineData(500, 284.900, 954.608, 1.16727, 1.7737)]
    [InlineData(1000, 281.650, 898.746, 1.11164, 1.7578)]
    [InlineData(2000, 275.150, 794.952, 1.00649, 1.7260)]
    [InlineData(3000, 268.650, 701.085, 0.909122, 1.6937)]
    public void Atmosphere_AtTheStandardsAltitudes_HasTheStandardsFigures(
        double altitudeM, double temperatureK, double pressureHpa, double densityKgM3, double viscosity1e5PaS)
    {
        Assert.Equal(temperatureK, StandardAtmosphere.TemperatureK(altitudeM), 0.0005);
        Assert.Equal(pressureHpa, StandardAtmosphere.PressurePa(altitudeM) / 100, HalfLastDigit(pressureHpa));
        Assert.Equal(densityKgM3, StandardAtmosphere.DensityKgM3(altitudeM), HalfLastDigit(densityKgM3));
        Assert.Equal(viscosity1e5PaS, StandardAtmosphere.DynamicViscosityPaS(temperatureK) * 1e5, 0.00005);
        Assert.Equal(altitudeM, StandardAtmosphere.AltitudeM(pressureHpa * 100), 0.06);
    }

    [SharedFact]
    public void Atmosphere_AtEveryRowOfTheStandardsTable_HasTheStandardsFigures()
    {
        string[] lines = File.ReadAllLines(Path.Combine(SharedFolder.Path!, "reference", "iso2533-geopotential.csv"));
        foreach (double[] row in lines.Skip(1).Select(line => line.Split(',')
            .Select(field => double.Parse(field, CultureInfo.InvariantCulture)).ToArray()))
        {
            Assert.Equal(row[1], StandardAtmosphere.TemperatureK(row[0]), 0.0005);
            Assert.Equal(row[2], StandardAtmosphere.PressurePa(row[0]) / 100, HalfLastDigit(row[2]));
            Assert.Equal(row[3], StandardAtmosphere.DensityKgM3(row[0]), HalfLastDigit(row[3]));
            Assert.Equal(row[4], StandardAtmosphere.DynamicViscosityPaS(row[1]), 0.5e-9);
        }
        Assert.True(lines.Length > 10, "the table should have more than ten lines");
    }

    // Closed form H(p) = 44330.77 (1 − (p/1013.25)^0.1902631), computed with the standard's constants.
    [Theory]
    [InlineData(950, 540.337)]
    [InlineData(900, 988.500)]
    [InlineData(850, 1457.299)]
    public void PressureAltitude_OfRoundPressures_FollowsTheClosedForm(double pressureHpa, double altitudeM) =>
        Assert.Equal(altitudeM, StandardAtmosphere.AltitudeM(pressureHpa * 100), 0.001);

    // Hydrostatic equation, computed: one hPa is 8.3242 m at sea level and 9.1731 m at 1000 m.
    [Theory]
    [InlineData(0, 8.3242)]
    [InlineData(1000, 9.1731)]
    public void OneHectopascal_InMetresOfAir_FollowsTheHydrostaticEquation(double altitudeM, double metresPerHpa)
    {
        double pressurePa = StandardAtmosphere.PressurePa(altitudeM);
        Assert.Equal(metresPerHpa, StandardAtmosphere.AltitudeM(pressurePa - 50) - StandardAtmosphere.AltitudeM(pressurePa + 50), 0.00006);
    }

    [Fact]
    public void Altitude_ThroughPressureAndBack_IsUnchanged() =>
        Gen.Double[-5000, 11_000].Sample(altitudeM =>
            Math.Abs(StandardAtmosphere.AltitudeM(StandardAtmosphere.PressurePa(altitudeM)) - altitudeM) < 1e-8);

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(0)]
    [InlineData(-5)]
    public void PressureOrTemperature_NotAboveZero_IsMissing(double value)
    {
        Assert.Equal(double.NaN, StandardAtmosphere.AltitudeM(value));
        Assert.Equal(double.NaN, StandardAtmosphere.DensityKgM3(value, 288.15));
        Assert.Equal(double.NaN, StandardAtmosphere.DensityKgM3(101_325, value));
        Assert.Equal(double.NaN, StandardAtmosphere.DynamicViscosityPaS(value));
    }

    /// <summary>The tables print six significant digits.</summary>
    private static double HalfLastDigit(double printed) => 0.501 * Math.Pow(10, Math.Floor(Math.Log10(printed)) - 5);
}

using System.Globalization;
using CsCheck;
using ThermalTrace.Logs;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Units;

public sealed class QuantityTextTests
{
    // The inch, the pound and the knot are exact by definition (international yard and pound agreement 1959; 1852 m an hour).
    [Theory]
    [InlineData("152.3g", 0.1)]
    [InlineData("152.30 g", 0.01)]
    [InlineData("152", 1)]
    [InlineData("2kg", 1000)]
    [InlineData("1.5oz", 2.8349523125)]
    [InlineData("−0.5g", 0.1)]
    [InlineData("1.2e2g", 10)]
    [InlineData("heavy", double.NaN)]
    public void LastDigit_IsWorthOneStepOfIt(string text, double expected) => Assert.Equal(expected, QuantityText.LastDigit(text, UnitFamily.Mass), 1e-12);

    [Theory]
    [InlineData("5 kn", 5 * 1852 / 3600.0)]
    [InlineData("18km/h", 5)]
    [InlineData(" 18 km/h ", 5)]
    [InlineData("5", 5)]
    [InlineData("10mph", 4.4704)]
    [InlineData("100 fpm", 0.508)]
    [InlineData("+3.5M/S", 3.5)]
    [InlineData("−2m/s", -2)]
    [InlineData("1e1m/s", 10)]
    public void Speed_InAnyUnit_IsMetresPerSecond(string text, double mps) => Reads(text, UnitFamily.Speed, mps);

    [Theory]
    [InlineData("1.2oz", 1.2 * 28.349523125)]
    [InlineData("30", 30)]
    [InlineData("0.3kg", 300)]
    [InlineData("1 lb", 453.59237)]
    public void Mass_InAnyUnit_IsGrams(string text, double g) => Reads(text, UnitFamily.Mass, g);

    [Theory]
    [InlineData("0.7mm", 0.0007)]
    [InlineData("2m", 2)]
    [InlineData("10 ft", 3.048)]
    public void Length_InAnyUnit_IsMetres(string text, double m) => Reads(text, UnitFamily.Length, m);

    [Fact]
    public void PressureTemperatureTimeAndTurbulence_AreSi()
    {
        Reads("1013hPa", UnitFamily.Pressure, 101_300);
        Reads("20°C", UnitFamily.Temperature, 293.15);
        Reads("68 F", UnitFamily.Temperature, 293.15);
        Reads("2min", UnitFamily.Time, 120);
        Reads("0.15", UnitFamily.Turbulence, 0.15);
    }

    [Theory]
    [InlineData("3..6m/s", 3, 6)]
    [InlineData("10.8 .. 21.6 km/h", 3, 6)]
    [InlineData("3m/s..21.6km/h", 3, 6)]
    [InlineData("4", 4, 4)]
    public void Range_TakesItsUnitForBothEnds(string text, double low, double high)
    {
        // A bare first end has the second end's unit.
        Assert.True(QuantityText.TryParseRange(text, UnitFamily.Speed, out double foundLow, out double foundHigh, out string complaint), complaint);
        Assert.Equal(low, foundLow, 1e-12);
        Assert.Equal(high, foundHigh, 1e-12);
    }

    [Theory]
    [InlineData("5furlong", "\"5furlong\" has the unit \"furlong\", which is no unit of speed; known are m/s, km/h, kn, mph, ft/s, ft/min")]
    [InlineData("fast", "\"fast\" has the unit \"fast\"")]
    [InlineData("", "\"\" is not a speed; expected a number and a unit such as 5km/h; known units are m/s, km/h, kn, mph, ft/s, ft/min")]
    [InlineData("km/h", "\"km/h\" is not a speed")]
    [InlineData("1,5m/s", "\"1,5m/s\" has a comma; write decimals with a point")]
    [InlineData("1.2.3m/s", "\"1.2.3m/s\" is not a speed")]
    [InlineData("1e999", "\"1e999\" is not a speed")]
    [InlineData("6..3m/s", "\"6..3m/s\" runs backwards; expected the smaller speed first")]
    [InlineData("3..", "\"3..\" is not a speed")]
    [InlineData("3..6..9", "\"3..6..9\"")]
    public void Quantity_ThatIsNone_SaysWhatWasFoundAndWhatIsKnown(string text, string message)
    {
        Assert.False(QuantityText.TryParseRange(text, UnitFamily.Speed, out double low, out _, out string complaint));
        Assert.StartsWith(message, complaint, StringComparison.Ordinal);
        Assert.True(double.IsNaN(low) || complaint.Contains("backwards", StringComparison.Ordinal));
    }

    [Fact]
    public void EveryUnitOfEveryFamily_IsReadBackFromWhatIsWritten() =>
        Gen.Select(Gen.OneOf(UnitFamily.Speed, UnitFamily.Mass, UnitFamily.Length, UnitFamily.Pressure, UnitFamily.Temperature, UnitFamily.Time,
            UnitFamily.Turbulence), Gen.Int[0, 5], Gen.Double[-1e4, 1e4]).Sample((family, which, raw) =>
        {
            TypedUnit unit = family.Units[which % family.Units.Length];
            double value = raw * unit.Factor + unit.Offset;
            string text = QuantityText.Format(value, family, unit.Symbol, 9);
            return QuantityText.TryParse(text, family, out double back, out _)
                // Nine decimals of the unit, and one rounding of the sum with the offset.
                && Math.Abs(back - value) <= 1e-9 * unit.Factor + 1e-12 * Math.Abs(unit.Offset) + 1e-12 * Math.Abs(value);
        });

    [Fact]
    public void AUnitThatLogsAlsoHave_MeansTheSameInBoth()
    {
        (UnitFamily Family, Dimension Dimension)[] both =
        [
            (UnitFamily.Speed, Dimension.Speed), (UnitFamily.Mass, Dimension.Mass), (UnitFamily.Length, Dimension.Length),
            (UnitFamily.Pressure, Dimension.Pressure), (UnitFamily.Temperature, Dimension.Temperature), (UnitFamily.Time, Dimension.Time),
        ];
        int compared = 0;
        foreach ((UnitFamily family, Dimension dimension) in both)
        {
            foreach (TypedUnit unit in family.Units)
            {
                if (UnitWords.Find(unit.Symbol, dimension) is { } logged)
                {
                    compared++;
                    Reads("7" + unit.Symbol, family, logged.ToSi(7));
                }
            }
        }
        Assert.InRange(compared, 20, 40);
    }

    [Fact]
    public void Format_WritesInvariantly_AndADashForWhatIsNotKnown()
    {
        Assert.Equal("18.0 km/h", QuantityText.Format(5, UnitFamily.Speed, "km/h", 1));
        Assert.Equal("1.20 oz", QuantityText.Format(34.01942775, UnitFamily.Mass, "oz", 2));
        Assert.Equal("–", QuantityText.Format(double.NaN, UnitFamily.Mass, "g", 0));
        Assert.Throws<ArgumentException>(() => QuantityText.Format(1, UnitFamily.Mass, "km", 0));
    }

    private static void Reads(string text, UnitFamily family, double expected)
    {
        Assert.True(QuantityText.TryParse(text, family, out double value, out string complaint), complaint);
        Assert.True(Math.Abs(value - expected) <= 1e-12 * Math.Abs(expected), value.ToString("R", CultureInfo.InvariantCulture));
    }
}

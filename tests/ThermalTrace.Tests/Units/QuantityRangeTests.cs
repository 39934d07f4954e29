using ThermalTrace.Units;

namespace ThermalTrace.Tests.Units;

public sealed class QuantityRangeTests
{
    [Theory]
    [InlineData("3..6m/s", 3, 6)]
    [InlineData("3m/s..6m/s", 3, 6)]
    [InlineData("3 .. 6 m/s", 3, 6)]
    [InlineData("18..36km/h", 5, 10)]
    [InlineData("3.6km/h..2m/s", 1, 2)]
    [InlineData("3...6", 3, 0.6)]
    [InlineData("4", 4, 4)]
    [InlineData("-1..2", -1, 2)]
    public void Range_WithOneUnitOrTwo_IsRead(string text, double low, double high)
    {
        bool read = QuantityText.TryParseRange(text, UnitFamily.Speed, out double first, out double last, out string complaint);
        if (low > high)
        {
            Assert.Contains("runs backwards", complaint, StringComparison.Ordinal);
            return;
        }
        Assert.True(read, complaint);
        Assert.Equal((low, high), (Math.Round(first, 9), Math.Round(last, 9)));
    }

    [Theory]
    [InlineData("..6m/s")]
    [InlineData("3..m/s")]
    [InlineData("3..")]
    [InlineData("a..b")]
    [InlineData("3..6kg")]
    [InlineData("3g..6m/s")]
    [InlineData("3,5..6m/s")]
    [InlineData("NaN..6m/s")]
    [InlineData("1..2..3m/s")]
    public void Range_ThatIsNone_IsRefusedWithWords(string text)
    {
        Assert.False(QuantityText.TryParseRange(text, UnitFamily.Speed, out double low, out double high, out string complaint));
        Assert.True(double.IsNaN(low) && double.IsNaN(high));
        Assert.NotEqual("", complaint);
    }
}

using ThermalTrace.Units;

namespace ThermalTrace.Tests.Jobs;

public sealed class AskedTextTests
{
    [Theory]
    [InlineData("0.5mm", 0.0005)]
    [InlineData("0.02in", 0.000508)]
    [InlineData("0.005", 0.005)]
    public void ALength_WithinBounds_IsInMetres(string text, double expected)
    {
        Assert.True(AskedText.TryRead("--place-error", text, UnitFamily.Length, 0, 0.02, out double value, out string complaint), complaint);
        Assert.Equal(expected, value, 1e-15);
    }

    [Theory]
    // A bare number is metres: half a metre was hardly meant.
    [InlineData("0.5", "--place-error 0.5 is outside 0 to 20 mm; 0.5 without a unit is 0.5 m, did you mean 0.5mm?")]
    [InlineData("−3", "--place-error −3 is outside 0 to 20 mm")]
    [InlineData("5cm", "--place-error 5cm is outside 0 to 20 mm")]
    [InlineData("500", "--place-error 500 is outside 0 to 20 mm")]
    [InlineData("2g", "--place-error \"2g\" has the unit \"g\", which is no unit of length; known are m, mm, cm, dm, km, ft, in")]
    [InlineData("", "--place-error \"\" is not a length; expected a number and a unit such as 5mm; known units are m, mm, cm, dm, km, ft, in")]
    public void ALength_OutsideItsBounds_IsToldWhatMayHaveBeenMeant(string text, string expected)
    {
        Assert.False(AskedText.TryRead("--place-error", text, UnitFamily.Length, 0, 0.02, out double value, out string complaint));
        Assert.Equal((expected, double.NaN), (complaint, value));
    }

    [Theory]
    [InlineData("1000", 20, "--string 1000 is outside 0.05 to 20 m; 1000 without a unit is 1000 m, did you mean 1000mm?")]
    [InlineData("7000", 6000, "--string 7000 is outside 0.05 to 6000 m")]
    public void ALongLength_IsBoundedInMetres(string text, double most, string expected)
    {
        Assert.False(AskedText.TryRead("--string", text, UnitFamily.Length, 0.05, most, out _, out string complaint));
        Assert.Equal(expected, complaint);
    }
}

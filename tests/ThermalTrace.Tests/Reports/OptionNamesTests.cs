using ThermalTrace.Reports;

namespace ThermalTrace.Tests.Reports;

public sealed class OptionNamesTests
{
    [Theory]
    [InlineData("--wind-height 0.5m is outside 1.5 to 200 m", "Wind height 0.5m is outside 1.5 to 200 m")]
    [InlineData("thermals add to it. --turbulence sets it.", "thermals add to it. Turbulence sets it.")]
    [InlineData("--field goes with --wind-height: it tells", "Field goes with wind height: it tells")]
    [InlineData("\"thermaltrace logbook add DIR --logbook NEWFILE\" saves it", "\"thermaltrace logbook add DIR --logbook NEWFILE\" saves it")]
    [InlineData("cannot be written to; give another with --logbook FILE", "cannot be written to; give another with --logbook FILE")]
    [InlineData("a dash -- as such, and an em-dash stay", "a dash -- as such, and an em-dash stay")]
    public void Option_BecomesTheFieldOfThatName(string sentence, string shown) => Assert.Equal(shown, OptionNames.AsFields(sentence));
}

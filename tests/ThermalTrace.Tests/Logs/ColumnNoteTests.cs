using ThermalTrace.Logs;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Logs;

/// <summary><c>columns.csv</c> says what the importer cannot tell, and wins where it thinks it can.</summary>
public class ColumnNoteTests
{
    private static readonly string Foreign = SampleFlight.Text("Zeit;Hoehe;Steigen;foo", 300, i => $"{SampleFlight.F(i * 0.2, 1)};{SampleFlight.F(SampleFlight.AltitudeM(i * 0.2) / 0.3048, 3)};{i % 7};9");

    private static ColumnNote Note(string column, Quantity quantity, string? unit = null, string? log = null, int line = 2) => new(log, column, quantity, unit, line);

    [Fact]
    public void Notes_MakeAForeignLogReadable()
    {
        FlightLog log = SampleFlight.Import(Foreign, Note("Zeit", Quantity.Time, "s"), Note("Hoehe", Quantity.Altitude, "ft"), Note("Steigen", Quantity.ClimbRate, "kn"), Note("foo", Quantity.Ignore));
        Assert.Equal(SampleFlight.AltitudeM(20), log[Quantity.Altitude][100], 1e-3);
        Assert.Equal(100 % 7 * 1852.0 / 3600, log[Quantity.ClimbRate][100], 1e-12);
        Assert.Empty(log.Problems);
        Assert.Contains(new LogChannel(Quantity.Altitude, "Hoehe", "ft"), log.Channels);
    }

    [Fact]
    public void ANote_WinsOverTheHeader()
    {
        string text = SampleFlight.Text("time_s,altitude_m,tube_m", 100, i => $"{i},5,{SampleFlight.F(SampleFlight.AltitudeM(i), 2)}");
        FlightLog log = SampleFlight.Import(text, Note("tube_m", Quantity.Altitude), Note("altitude_m", Quantity.Ignore));
        Assert.Equal(SampleFlight.AltitudeM(10), log[Quantity.Altitude][10], 0.006);
    }

    [Fact]
    public void ANotesUnit_WinsOverTheHeaders()
    {
        string text = SampleFlight.Text("time_s,altitude_m", 100, i => $"{i},{1000 + i}");
        Assert.Equal(304.8, SampleFlight.Import(text, Note("altitude_m", Quantity.Altitude, "ft"))[Quantity.Altitude][0], 1e-9);
    }

    [Fact]
    public void ANoteForThisLog_WinsOverOneForAll()
    {
        string text = SampleFlight.Text("time_s,foo", 100, i => $"{i},{SampleFlight.F(0.1 + 0.001 * i, 3)}");
        FlightLog log = SampleFlight.Import(text, Note("foo", Quantity.Altitude, "ft"), Note("foo", Quantity.Altitude, "km", "kestrel.csv"), Note("foo", Quantity.Pressure, "hPa", "other.csv"));
        Assert.Equal("km", log.Channels.Single(c => c.Quantity == Quantity.Altitude).Unit);
    }

    [Fact]
    public void Case_DoesNotCount_WhereNoColumnIsExactlySo()
    {
        string text = SampleFlight.Text("time_s,FOO", 100, i => $"{i},{100 + i}");
        Assert.True(SampleFlight.Import(text, Note("foo", Quantity.Altitude)).Has(Quantity.Altitude));
    }

    [Fact]
    public void AUnitThatIsNone_IsAnErrorInColumnsCsv()
    {
        UnusableInputException e = Assert.Throws<UnusableInputException>(() => SampleFlight.Import(Foreign, Note("Zeit", Quantity.Time), Note("Hoehe", Quantity.Altitude, "furlong", null, 3)));
        Assert.Equal("columns.csv:3: unit \"furlong\" is not understood for altitude; expected one of m, ft, km, cm, dm, mm, mi, yd", e.Message);
    }

    [Fact]
    public void ANoteForAColumnThatIsNotThere_IsSaid()
    {
        string text = SampleFlight.Text("time_s,alt_m", 100, i => $"{i},{100 + i}");
        FlightLog log = SampleFlight.Import(text, Note("bar", Quantity.Pressure, null, "kestrel.csv", 4), Note("bar", Quantity.Pressure, null, null, 5));
        Assert.Equal(["columns.csv:4: this log has no column \"bar\""], log.Problems.Select(p => p.Text));
    }

    [Fact]
    public void ALogWithoutAHeader_IsReadByColumnNumbers()
    {
        string text = string.Concat(Enumerable.Range(0, 100).Select(i => $"{i},{SampleFlight.F(SampleFlight.AltitudeM(i), 2)},7\n"));
        FlightLog log = SampleFlight.Import(text, Note("column 1", Quantity.Time, "s"), Note("column 2", Quantity.Altitude, "m"), Note("column 3", Quantity.Ignore));
        Assert.Equal(100, log.Rows);
        Assert.Contains(log.Problems, p => p.Text.StartsWith("no header was found", StringComparison.Ordinal));
    }

    [Fact]
    public void ATimeColumn_MayBeSaidToBeAClock()
    {
        string text = SampleFlight.Text("foo;bar;alt_m", 100, i => $"09.05.2026;10{i / 60:00}{i % 60:00};{100 + i}");
        FlightLog log = SampleFlight.Import(text, Note("foo", Quantity.Date), Note("bar", Quantity.Clock));
        Assert.Equal(new DateTimeOffset(2026, 5, 9, 10, 0, 0, TimeSpan.Zero), log.StartedAt);
        Assert.Equal(99, log.TimeS[^1]);
    }

    [Fact]
    public void APositionColumn_MayBeNamed()
    {
        string text = SampleFlight.Text("time_s;alt_m;wo", 100, i => $"{i};{100 + i};47 {SampleFlight.F(8.22 + i * 0.001, 4)} N, 9 52.980 E");
        FlightLog log = SampleFlight.Import(text, Note("wo", Quantity.Position));
        Assert.Equal(47.137, log[Quantity.Latitude][0], 1e-9);
        Assert.Equal(9.883, log[Quantity.Longitude][0], 1e-9);
    }

    [Theory]
    [InlineData(Quantity.Camber, "thermal", "speed")]
    [InlineData(Quantity.Camber, "1", "2")]
    public void Camber_BecomesIndicesOfItsLabels(Quantity quantity, string first, string second)
    {
        string text = SampleFlight.Text("time_s,alt_m,foo", 100, i => $"{i},{100 + i},{(i < 50 ? first : second)}");
        FlightLog log = SampleFlight.Import(text, Note("foo", quantity));
        Assert.Equal([first, second], log.CamberLabels);
        Assert.Equal(0, log[Quantity.Camber][49]);
        Assert.Equal(1, log[Quantity.Camber][50]);
    }

    [Fact]
    public void AFlapServo_IsNoSetting()
    {
        string text = SampleFlight.Text("time_s,alt_m,flap", 100, i => $"{i},{100 + i},{i * 3}");
        FlightLog log = SampleFlight.Import(text);
        Assert.False(log.Has(Quantity.Camber));
        Assert.Empty(log.CamberLabels);
        Assert.Contains(log.Problems, p => p.Text.Contains("it is no wing setting", StringComparison.Ordinal));
    }
}

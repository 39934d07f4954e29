using CsCheck;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Sessions;

public sealed class FlightsFileTests
{
    [Fact]
    public void EveryColumn_IsRead()
    {
        IReadOnlyList<FlightNote> notes = Read("""
            # our day
            log,flight,ballast_g,flying_mass_g,cg_mm,camber,spoiled,notes
            a.csv,,0,,,,,
            b.csv,3,30,291.5,71.5,thermal,yes,"windy, rough"
            c.csv,2-4,,,,,no,
            d.csv,10:05-10:20:30,60,,,,x,
            """);
        Assert.Equal(
        [
            new FlightNote { Log = "a.csv", BallastG = 0, Line = 3 },
            new FlightNote { Log = "b.csv", Numbers = (3, 3), BallastG = 30, FlyingMassG = 291.5, CgMm = 71.5, Camber = "thermal", Spoiled = true, Notes = "windy, rough", Line = 4 },
            new FlightNote { Log = "c.csv", Numbers = (2, 4), Line = 5 },
            new FlightNote { Log = "d.csv", ClockRangeS = (36_300, 37_230), BallastG = 60, Spoiled = true, Line = 6 },
        ], notes);
    }

    [Theory]
    [InlineData("log;ballast_g;flying_mass_g\r\na.csv;12,5;274,5\r\n")]
    [InlineData("\uFEFFLog;Ballast_G;Flying_Mass_G\ra.csv;12.5;274.5\r")]
    [InlineData("log\tballast_g\tflying_mass_g\na.csv\t12,5\t274,5\n")]
    [InlineData(" log , ballast_g , flying_mass_g \n a.csv , 12.5 , 274.5 \n")]
    [InlineData("log,ballast_g,flying_mass_g,,\na.csv,\"12,5\",\"274,5\",,\n,,,,\n,,,,\n")]
    [InlineData("\"ballast_g\",\"log\",\"flying_mass_g\"\n\"12.5\",\"a.csv\",\"274.5\"")]
    public void ATable_AsAnySpreadsheetSavesIt_ReadsTheSame(string text) =>
        Assert.Equal([new FlightNote { Log = "a.csv", BallastG = 12.5, FlyingMassG = 274.5, Line = 2 }], Read(text));

    [Fact]
    public void ARangeOfTheDay_MayPassMidnight() =>
        Assert.Equal((85_800, 87_000), Read("log,flight,ballast_g\na.csv,23:50-00:10,0\n")[0].ClockRangeS);

    [Fact]
    public void HalfOverlappingTimesOfTheDay_AreRefused_AndTouchingOnesAreNot()
    {
        Assert.Equal(2, Read("log,flight,ballast_g\na.csv,10:00-10:10,0\na.csv,10:10-10:20,30\n").Count);
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() => Read("log,flight,ballast_g\na.csv,10:00-10:10,0\na.csv,10:09-10:20,30\n"));
        Assert.Contains("flights.csv:3: speaks of flight 10:09:00-10:20:00 of a.csv", wrong.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void WhatIsWritten_IsReadBack() =>
        GenNotes.Sample(notes =>
        {
            using StringWriter writer = new();
            FlightsFile.Write(writer, notes);
            IReadOnlyList<FlightNote> back = Read(writer.ToString());
            Assert.Equal(notes, back.Select(n => n with { Line = 0 }));
        }, iter: 500);

    [Fact]
    public void NothingWritten_RunsInASpreadsheet() =>
        GenNotes.Sample(notes =>
        {
            using StringWriter writer = new();
            FlightsFile.Write(writer, notes);
            using CsvHelper.CsvReader cells = CsvHelper.CsvReader.FromText(writer.ToString(), new CsvHelper.CsvReaderOptions { Separator = ',', HasHeader = false });
            while (cells.Read())
            {
                for (int i = 0; i < cells.FieldCount; i++)
                {
                    Assert.False(cells.GetString(i) is { Length: > 0 } cell && "=+-@\t\r".Contains(cell[0], StringComparison.Ordinal));
                }
            }
        }, iter: 200);

    // Names that a hostile folder might hold; each log once, so that no two rows speak of one flight.
    private static readonly Gen<string> GenText = Gen.OneOf("a.csv", "=1+1.csv", "'=x.csv", "-day 2.csv", "\"quoted\".csv", "semi;colon.igc", "comma,.csv", "Höhe.gpx", "#1.csv", "@x", "''+y");

    private static readonly Gen<FlightNote[]> GenNotes =
        Gen.Select(GenText, Gen.Int[0, 3], Gen.Int[1, 9], Gen.Double[0, 5000], Gen.Bool, GenText, Gen.Bool).Select(t => new FlightNote
        {
            Log = t.Item1,
            Numbers = t.Item2 == 1 ? (t.Item3, t.Item3) : t.Item2 == 2 ? (t.Item3, t.Item3 + 2) : null,
            ClockRangeS = t.Item2 == 3 ? (3600 * t.Item3, 3600 * t.Item3 + 601) : null,
            BallastG = t.Item5 ? t.Item4 : null,
            FlyingMassG = t.Item7 ? t.Item4 + 1 : null,
            Camber = t.Item7 ? t.Item6 : null,
            Spoiled = t.Item5 && t.Item7,
            Notes = t.Item6,
        }).Array[0, 6].Select(notes => notes.DistinctBy(n => n.Log).ToArray());

    private static IReadOnlyList<FlightNote> Read(string text)
    {
        using StringReader reader = new(text);
        return FlightsFile.Read(reader, "flights.csv");
    }
}

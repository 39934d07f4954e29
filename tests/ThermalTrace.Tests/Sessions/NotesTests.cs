using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Sessions;

public sealed class NotesTests
{
    private static readonly Airframe Model = new() { Name = "Tansy", WingSpanMm = 1500, WingAreaDm2 = 22.5, UnballastedMassG = 262 };

    [Fact]
    public void ColumnNotes_TakeEveryQuantityOfTheContract()
    {
        // The contract's list, typed from it.
        string[] quantities = ["time", "date", "clock", "altitude", "pressure", "gps_altitude", "climb_rate", "latitude", "longitude", "position",
            "ground_speed", "track", "airspeed", "vertical_acceleration", "acceleration", "temperature", "voltage", "motor", "camber", "ballast", "ignore"];
        string text = "log;column;quantity;unit\n" + string.Concat(quantities.Select((q, i) => $";c{i};{q};\n")) + "a.csv;Höhe;altitude;ft\n";
        using StringReader reader = new(text);
        IReadOnlyList<ColumnNote> notes = ColumnsFile.Read(reader, "columns.csv");
        Assert.Equal(quantities, notes.Take(quantities.Length).Select(n => ColumnsFile.NameOf(n.Quantity)));
        Assert.All(notes.Take(quantities.Length), n => Assert.Null(n.Log));
        Assert.Equal(new ColumnNote("a.csv", "Höhe", Quantity.Altitude, "ft", quantities.Length + 2), notes[^1]);
    }

    [Fact]
    public void PhaseNotes_AreRead()
    {
        using StringReader reader = new("log;flight;start_s;end_s;kind\na.csv;1;12,345;20;Climb\na.csv;;20;31,5;glide\n");
        Assert.Equal([new PhaseNote("a.csv", 1, 12.345, 20, "climb", 2), new PhaseNote("a.csv", null, 20, 31.5, "glide", 3)],
            PhasesFile.Read(reader, "phases.csv"));
    }

    [Theory]
    [InlineData(1, 0.0, null)]
    [InlineData(2, 100.0, 30.0)]
    [InlineData(4, 100.0, 30.0)]
    [InlineData(5, 600.0, 60.0)] // 23:58:20 and ten minutes is past midnight
    [InlineData(5, 1300.0, null)]
    public void ANote_IsFoundByNumberOrByTheClockOfTheLaunch(int number, double launchS, double? ballastG)
    {
        FlightNote[] notes =
        [
            new() { Log = "a.csv", Numbers = (2, 4), BallastG = 30 },
            new() { Log = "a.csv", ClockRangeS = (300, 900), BallastG = 60 },
            new() { Log = "b.csv", BallastG = 90 },
        ];
        Assert.Equal(ballastG, FlightNotes.For(notes, Log(clockAtStartS: 86_300), number, launchS)?.BallastG);
    }

    [Fact]
    public void TwoNotesThatMeetInOneFlight_AreRefusedWithTheirLines()
    {
        FlightNote[] notes = [new() { Log = "a.csv", Numbers = (1, 1), Line = 2 }, new() { Log = "a.csv", ClockRangeS = (0, 900), Line = 3 }];
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() => FlightNotes.For(notes, Log(clockAtStartS: 0), 1, 60));
        Assert.Equal("flights.csv:3: speaks of flight 1 of a.csv, as line 2 does; expected one row for each flight", wrong.Message);
    }

    [Fact]
    public void NotesOfFlightsThatAreNotThere_AreRefusedAndSayWhatIs()
    {
        Session session = new(Model, [Log(clockAtStartS: 36_000)],
            [
                new FlightNote { Log = "a.csv", Numbers = (2, 3), Line = 2 },
                new FlightNote { Log = "a.csv", ClockRangeS = (39_600, 40_000), Line = 3 },
                new FlightNote { Log = "a.csv", ClockRangeS = (36_000, 36_100), Line = 4 },
            ], [], []);
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() =>
            FlightNotes.RequireFlights(session, new Dictionary<string, IReadOnlyList<double>> { ["a.csv"] = [10, 400] }));
        Assert.Equal("flights.csv:2: flight 2-3 of a.csv is not there; a.csv has 2 flights, 1 to 2\n"
            + "flights.csv:3: no flight of a.csv was launched within 11:00:00-11:06:40; launches were at 10:00:10, 10:06:40", wrong.Message);
    }

    [Fact]
    public void PhasesOfAFlightThatIsNotThere_AreRefused()
    {
        Session session = new(Model, [Log(clockAtStartS: null)], [], [new PhaseNote("a.csv", 2, 0, 10, "glide", 2)], []);
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() =>
            FlightNotes.RequireFlights(session, new Dictionary<string, IReadOnlyList<double>> { ["a.csv"] = [10] }));
        Assert.Equal("phases.csv:2: flight 2 of a.csv is not there; a.csv has 1 flight", wrong.Message);
    }

    private static FlightLog Log(double? clockAtStartS) =>
        new("a.csv", "", [0, 1], new Dictionary<Quantity, double[]>(), [], []) { ClockAtStartS = clockAtStartS };
}

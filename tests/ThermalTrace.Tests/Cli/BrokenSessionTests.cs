using System.Text;

namespace ThermalTrace.Tests.Cli;

/// <summary>Broken folders: each gets its message and exit code, and nothing is written.</summary>
public sealed class BrokenSessionTests
{
    private const string Start = "{ \"name\": \"a\", \"wing_span_mm\": 1500, \"wing_area_dm2\": 22.4, \"unballasted_mass_g\": 262";

    public static TheoryData<string, string> BrokenAirframes => new()
    {
        { "", "airframe.json: is empty; expected a JSON object" },
        { "   \n\n", "airframe.json: is empty; expected a JSON object" },
        { "[1, 2]", "airframe.json:1: is a list [ … ]; expected an object { … }" },
        { "\"Tansy\"", "airframe.json:1: is the text \"Tansy\"; expected an object { … }" },
        { "{ \"name\": \"a\",\n  \"wing_span_mm\": 15OO }", "airframe.json:2: is not JSON at column " },
        { "{ \"name\": \"a\"", "airframe.json:1: is not JSON at column " },
        { Start + " } }", "airframe.json:1: is not JSON at column " },
        { "{ \"wing_span_mm\": 1500, \"wing_area_dm2\": 22.4, \"unballasted_mass_g\": 262 }", "airframe.json:1: there is no \"name\"; expected the model's name" },
        { "{ \"name\": \"a\", \"wing_area_dm2\": 22.4, \"unballasted_mass_g\": 262 }", "airframe.json:1: there is no \"wing_span_mm\"; expected a number from 100 to 20000 mm" },
        { "{ \"name\": \"  \", \"wing_span_mm\": 1500, \"wing_area_dm2\": 22.4, \"unballasted_mass_g\": 262 }", "name is the text \"  \"; expected the model's name" },
        { Start + ",\n  \"wing_spam_mm\": 3 }", "airframe.json:2: unknown key \"wing_spam_mm\"; did you mean \"wing_span_mm\"?" },
        { Start + ",\n\"name\": \"b\" }", "airframe.json:2: the key \"name\" stands there twice" },
        { Start.Replace("1500", "\"1500\"", StringComparison.Ordinal) + " }", "wing_span_mm is the text \"1500\"; expected a number from 100 to 20000 mm" },
        { Start.Replace("1500", "0", StringComparison.Ordinal) + " }", "wing_span_mm is the number 0; expected a number from 100 to 20000 mm" },
        { Start.Replace("1500", "-1500", StringComparison.Ordinal) + " }", "wing_span_mm is the number -1500; expected" },
        { Start.Replace("1500", "1e999", StringComparison.Ordinal) + " }", "wing_span_mm is the number 1e999; expected" },
        { Start.Replace("1500", "null", StringComparison.Ordinal) + " }", "wing_span_mm is not filled in yet; expected a number" },
        { Start.Replace("262", "true", StringComparison.Ordinal) + " }", "unballasted_mass_g is true; expected a number from 1 to 150000 g" },
        { Start.Replace("22.4", "2240", StringComparison.Ordinal) + " }", "wing_area_dm2 is the number 2240; expected" },
        { Start.Replace("22.4", "1.2", StringComparison.Ordinal) + " }", "make an aspect ratio of 187.5; expected 1.5 to 80, is the span in mm and the area in dm²?" },
        { Start + ",\n\"max_flying_mass_g\": 200 }", "airframe.json:2: max_flying_mass_g 200 is below unballasted_mass_g 262" },
        { Start + ", \"max_flying_mass_g\": null }", "max_flying_mass_g is null; expected a number from 1 to 150000 g, or take the line out" },
        { Start + ", \"launch\": \"discuss\" }", "launch is the text \"discuss\"; expected one of discus, hand, electric, winch, bungee, tow; did you mean \"discus\"?" },
        { Start + ", \"launch\": 3 }", "launch is the number 3; expected one of" },
        { Start + ", \"ballast_options_g\": 30 }", "ballast_options_g is the number 30; expected a list such as [0, 30, 60]" },
        { Start + ", \"ballast_options_g\": [0, -5] }", "ballast_options_g is the number -5; expected a list" },
        { Start + ", \"ballast_options_g\": [0, 30, 30] }", "ballast_options_g has 30 twice" },
        { Start + ", \"cg_limits_mm\": [76, 66] }", "cg_limits_mm is [76, 66]; expected [forward, aft]" },
        { Start + ", \"cg_limits_mm\": [76] }", "cg_limits_mm is [76]; expected [forward, aft]" },
        { Start + ", \"ballast_tube\": [12, 120] }", "ballast_tube is a list [ … ]; expected an object with bore_mm, length_mm and centre_mm" },
        { Start + ", \"ballast_tube\": { \"bore_mm\": 12, \"length_mm\": 120 } }", "ballast_tube has no \"centre_mm\"; expected" },
        { Start + ", \"ballast_tube\": { \"bore_mm\": 12, \"length_mm\": 120, \"center_mm\": 70 } }", "unknown key \"center_mm\" in ballast_tube; did you mean \"centre_mm\"?" },
        { Start + ", \"ballast_stock\": { } }", "ballast_stock is an object { … }; expected a list of objects" },
        { Start + ", \"ballast_stock\": [ 3 ] }", "ballast_stock has the number 3; expected a list of objects" },
        { Start + ", \"ballast_stock\": [ { \"name\": \"a\", \"material\": \"brass\", \"mass_g\": 5, \"diameter_mm\": 5, \"length_mm\": 5, \"count\": 1.5 } ] }", "ballast_stock.count is 1.5; expected a whole number" },
        { Start + ", \"airfoil_polar\": \"section.csv\" }", "airfoil_polar \"section.csv\" is not there; expected the name of a CSV file beside this one" },
        { Start + ", \"airfoil_polar\": \"../section.csv\" }", "airfoil_polar \"../section.csv\" leads out of this folder" },
        { Start + ", \"airfoil_polar\": \"one.csv\" }", "one.csv:1: unknown column \"time_s\"" },
        { new string('[', 100), "airframe.json:1: is not JSON at column " },
    };

    public static TheoryData<string, string> BrokenFlights => new()
    {
        { "", "flights.csv: is empty; expected a header line with \"log\", \"ballast_g\"" },
        { "log,flight\none.csv,1\n", "flights.csv:1: the header has no column \"ballast_g\"; found \"log\", \"flight\", expected log,ballast_g" },
        { "one.csv,1,30\n", "flights.csv:1: unknown column \"one.csv\"" },
        { "log,flight,balast_g\none.csv,,30\n", "flights.csv:1: unknown column \"balast_g\"; did you mean \"ballast_g\"?" },
        { "log,ballast_g,ballast_g\none.csv,30,30\n", "flights.csv:1: column \"ballast_g\" stands there twice" },
        { "log,ballast_g\n,30\n", "flights.csv:2: log is empty; expected the name of a log in this folder" },
        { "log,ballast_g\n# one row\n\ntwo.csv,30\n", "flights.csv:4: there is no log \"two.csv\" in this folder; did you mean \"one.csv\"?" },
        { "log,ballast_g\n../one.csv,30\n", "flights.csv:2: log \"../one.csv\" leads out of this folder" },
        { "log,ballast_g\n/etc/passwd,30\n", "flights.csv:2: log \"/etc/passwd\" leads out of this folder" },
        { "log,ballast_g\nC:\\logs\\one.csv,30\n", "leads out of this folder; expected the name of a log in this folder, without a path" },
        { "log,ballast_g\nairframe.json,30\n", "flights.csv:2: there is no log \"airframe.json\" in this folder" },
        { "log,ballast_g\none.csv,heavy\n", "flights.csv:2: ballast_g \"heavy\" is not a number; expected a number without a unit" },
        { "log,ballast_g\none.csv,30 g\n", "flights.csv:2: ballast_g \"30 g\" is not a number" },
        { "log,ballast_g\none.csv,-5\n", "flights.csv:2: ballast_g -5 is outside 0 to 150000" },
        { "log,ballast_g\none.csv,NaN\n", "flights.csv:2: ballast_g \"NaN\" is not a number" },
        { "log,ballast_g\none.csv,\"1,234\"\n", "flights.csv:2: ballast_g \"1,234\" may mean 1234 or 1.234" },
        { "log,flight,ballast_g\none.csv,0,30\n", "flights.csv:2: flight \"0\" starts below 1; flights are counted from 1" },
        { "log,flight,ballast_g\none.csv,4-2,30\n", "flights.csv:2: flight \"4-2\" runs backwards" },
        { "log,flight,ballast_g\none.csv,first,30\n", "flights.csv:2: flight \"first\" is not understood; expected nothing for all flights" },
        { "log,flight,ballast_g\none.csv,02-Apr,30\n", "a spreadsheet makes a date of 2-4: format the column as text" },
        { "log,flight,ballast_g\none.csv,10:05-25:20,30\n", "flights.csv:2: flight \"10:05-25:20\" has a time that no clock shows" },
        { "log,flight,ballast_g\none.csv,10:20-10:05,30\n", "flights.csv:2: flight \"10:20-10:05\" ends before it begins" },
        { "log,flight,ballast_g\none.csv,10:05-10:20,30\n", "flights.csv:2: flight \"10:05:00-10:20:00\" is a time of day, and one.csv has no clock; expected a flight's number" },
        { "log,flight,ballast_g\none.csv,1-3,30\none.csv,3,0\n", "flights.csv:3: speaks of flight 3 of one.csv, and line 2 of flight 1-3" },
        { "log,ballast_g\none.csv,30\none.csv,0\n", "flights.csv:3: speaks of all flights of one.csv, and line 2 of all flights" },
        { "log,ballast_g,spoiled\none.csv,30,maybe\n", "flights.csv:2: spoiled \"maybe\" is neither yes nor no" },
        { "log,ballast_g\none.csv,30,windy, rough\n", "flights.csv:2: column 3 \"windy\" has no name in the header; put text that contains \",\" in double quotes" },
        { "log,ballast_g,notes\none.csv,30,\"never closed\n", "flights.csv:2: a double quote is not closed" },
        { "log,ballast_g,flying_mass_g\none.csv,30,0.29\n", "flights.csv:2: flying_mass_g 0.29 is outside 1 to 150000" },
        { "log,ballast_g,flying_mass_g\none.csv,30,29.2\n", "flights.csv:2: flying_mass_g 29.2 is less than half of unballasted_mass_g 262" },
        { "log,ballast_g\0\none.csv,30\n", "flights.csv: is not text" },
    };

    public static TheoryData<string, string> BrokenColumns => new()
    {
        { "log,column,quantity,unit\n,Höhe,altitud,m\n", "columns.csv:2: unknown quantity \"altitud\"; did you mean \"altitude\"?" },
        { "log,column,quantity,unit\n,Höhe,,m\n", "columns.csv:2: quantity is empty; expected one of time, date, clock, altitude" },
        { "log,column,quantity,unit\n,,altitude,m\n", "columns.csv:2: column is empty" },
        { "log,column,quantity,unit\n,altitude_m,altitude,parsec\n", "columns.csv:2: unit \"parsec\" is not understood for altitude; expected one of m, ft" },
        { "log,column,quantity,unit\n,altitude_m,altitude,m\n,altitude_m,gps_altitude,m\n", "columns.csv:3: column \"altitude_m\" has a row already, line 2" },
        { "log,column,quantity,unit\nonce.csv,altitude_m,altitude,m\n", "columns.csv:2: there is no log \"once.csv\" in this folder; did you mean \"one.csv\"?" },
        { "column,meaning\naltitude_m,altitude\n", "columns.csv:1: unknown column \"meaning\"" },
    };

    public static TheoryData<string, string> BrokenPhases => new()
    {
        { "log,flight,start_s,end_s,kind\none.csv,1,10,20,soaring\n", "phases.csv:2: kind \"soaring\" is not known" },
        { "log,flight,start_s,end_s,kind\none.csv,1,20,10,glide\n", "phases.csv:2: end_s 10 is not after start_s 20" },
        { "log,flight,start_s,end_s,kind\none.csv,1,,10,glide\n", "phases.csv:2: start_s is empty; expected a number" },
        { "log,flight,start_s,end_s,kind\none.csv,1,0,10,glide\none.csv,1,5,15,climb\n", "phases.csv:3: 5 to 15 s overlaps line 2 (0 to 10 s)" },
        { "log,flight,start_s,end_s,kind\none.csv,1.5,0,10,glide\n", "phases.csv:2: flight 1.5 is not a whole number" },
        { "log,flight,start_s,end_s,kind\nzero.csv,1,0,10,glide\n", "phases.csv:2: there is no log \"zero.csv\" in this folder" },
        { "log,flight,start_s,kind\none.csv,1,0,glide\n", "phases.csv:1: the header has no column \"end_s\"" },
    };

    [Theory]
    [MemberData(nameof(BrokenAirframes))]
    public Task Airframe_ThatIsBroken_IsNamedWithItsLine(string text, string message) => Refused("airframe.json", text, message);

    [Theory]
    [MemberData(nameof(BrokenFlights))]
    public Task Flights_ThatAreBroken_AreNamedWithTheirLine(string text, string message) => Refused("flights.csv", text, message);

    [Theory]
    [MemberData(nameof(BrokenColumns))]
    public Task ColumnNotes_ThatAreBroken_AreNamedWithTheirLine(string text, string message) => Refused("columns.csv", text, message);

    [Theory]
    [MemberData(nameof(BrokenPhases))]
    public Task PhaseNotes_ThatAreBroken_AreNamedWithTheirLine(string text, string message) => Refused("phases.csv", text, message);

    [Theory]
    [InlineData("reynolds,cl,cd\n100000,0.5\n100000,0.6,0.02\n100000,0.7,0.03\n", "section.csv:2: cd is empty; expected a number")]
    [InlineData("reynolds,cl,cd\n100000,0.5,0.02\n", "section.csv: has 1 point; expected at least 3")]
    [InlineData("reynolds,cl,cd\n100,0.5,0.02\n", "section.csv:2: reynolds 100 is outside 1000 to 100000000")]
    public async Task AirfoilPolar_ThatIsBroken_IsNamedWithItsLine(string text, string message)
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        folder.Write("section.csv", text);
        await Refused(folder, "airframe.json", Start + ", \"airfoil_polar\": \"section.csv\" }", message);
    }

    [Fact]
    public async Task Folder_WithoutAirframe_SaysHowToMakeOne()
    {
        using TempFolder folder = new();
        folder.Write("one.csv", TempFolder.QuietLog);
        await Refused(folder, "there is no airframe.json; expected the model's description beside the logs (\"thermaltrace prepare\" makes one to fill in)");
    }

    [Fact]
    public async Task Folder_WithoutLogs_SaysWhatALogIsCalled()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", TempFolder.Airframe);
        folder.Write("notes.txt", "no log");
        await Refused(folder, "there is no log; expected files that end in .csv, .igc, .gpx");
    }

    [Fact]
    public async Task Folder_WithLogsThatCannotBeUsed_ListsEach()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", TempFolder.Airframe);
        folder.Write("a.csv", "");
        folder.Write("b.csv", [0, 1, 2, 3, 255, 0, 0, 0]);
        CliRun run = await Refused(folder, "no log can be used");
        Assert.Contains("a.csv", run.Messages, StringComparison.Ordinal);
        Assert.Contains("b.csv", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Folder_ThatIsNotThere_IsSaid()
    {
        using TempFolder folder = new();
        await Refused(folder, "there is no such folder");
    }

    [Fact]
    public async Task Folder_ThatIsAFile_IsSaid()
    {
        using TempFolder folder = new();
        File.WriteAllText(folder.Session, "not a folder");
        CliRun run = await CliRun.Of("debrief", folder.Session, "--out", Path.Combine(folder.Root, "out"));
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("is a file; expected a session folder", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AirframeJson_ThatIsAFolder_IsAsIfNotThere()
    {
        using TempFolder folder = new();
        folder.Write("one.csv", TempFolder.QuietLog);
        Directory.CreateDirectory(Path.Combine(folder.Session, "airframe.json"));
        await Refused(folder, "there is no airframe.json");
    }

    [Fact]
    public async Task FlightsFile_OfManyMistakes_ShowsTheFirstTwentyAndCountsTheRest()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        string rows = string.Concat(Enumerable.Repeat("one.csv,x,y\n", 500));
        CliRun run = await Refused(folder, "flights.csv", "log,flight,ballast_g\n" + rows, "flights.csv: and ");
        Assert.Equal(21, run.Messages.TrimEnd().Split('\n').Length);
    }

    [Fact]
    public async Task UntrustedNames_DoNotReachTheTerminalAsControls()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        CliRun run = await Refused(folder, "flights.csv", "log,ballast_g\n\u001b[31mred.csv,30\n", "[31mred.csv");
        Assert.DoesNotContain('\u001b', run.Messages);
    }

    private static async Task Refused(string file, string text, string message)
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        await Refused(folder, file, text, message);
    }

    private static Task<CliRun> Refused(TempFolder folder, string file, string text, string message)
    {
        folder.Write(file, text, new UTF8Encoding(false));
        return Refused(folder, message);
    }

    private static async Task<CliRun> Refused(TempFolder folder, string message)
    {
        IReadOnlyList<string> before = folder.Everything();
        CliRun run = await CliRun.Of("debrief", folder.Session);
        Assert.Contains(message, run.Messages, StringComparison.Ordinal);
        Assert.Equal(3, run.ExitCode);
        Assert.Equal("", run.Output);
        Assert.Equal(before, folder.Everything());
        return run;
    }
}

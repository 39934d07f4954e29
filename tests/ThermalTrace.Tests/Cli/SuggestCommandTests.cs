using System.Text.Json;
using ThermalTrace.Reports;
using ThermalTrace.Tests.EndToEnd;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Cli;

public sealed class SuggestCommandTests
{
    private static readonly string Sample = Path.Combine(SharedFolder.Repository, "sample-logs", "stonefield-wind");

    private static Task<CliRun> Suggest(params string[] args) => CliRun.Of(["suggest", "--airframe", Sample, .. args]);

    [Theory]
    [InlineData("--wind is missing; expected the wind at flying height", "--lift", "1")]
    [InlineData("--lift is missing; expected the rise of the air in a thermal", "--wind", "3")]
    [InlineData("say the same thing twice", "--wind", "3", "--lift", "1", "--climb", "1", "--with", "0")]
    [InlineData("--climb is missing its ballast; add --with", "--wind", "3", "--climb", "1")]
    [InlineData("--with goes with --climb", "--wind", "3", "--lift", "1", "--with", "30")]
    [InlineData("--field goes with --wind-height", "--wind", "3", "--lift", "1", "--field", "Moor")]
    [InlineData("--wind \"breezy\" is not known; expected a speed such as 4m/s, a range 3..6m/s, or calm, light, gentle, moderate, fresh", "--wind", "breezy", "--lift", "1")]
    [InlineData("--wind \"3,5m/s\" has a comma; write decimals with a point", "--wind", "3,5m/s", "--lift", "1")]
    [InlineData("--wind \"6..3m/s\" runs backwards", "--wind", "6..3m/s", "--lift", "1")]
    [InlineData("--wind 3..60m/s is outside 0 to 40 m/s", "--wind", "3..60m/s", "--lift", "1")]
    [InlineData("--lift \"2kg\" has the unit \"kg\", which is no unit of speed", "--wind", "3", "--lift", "2kg")]
    [InlineData("--turbulence \"bumpy\" is not known; expected a turbulence such as 0.15, 0.1..0.2, or calm, light, moderate, rough, wooded", "--wind", "3", "--lift", "1", "--turbulence", "bumpy")]
    [InlineData("--ground \"sea\" is not known; expected grass, hedges or trees", "--wind", "3", "--lift", "1", "--ground", "sea")]
    [InlineData("--ground \"1\" is not known", "--wind", "3", "--lift", "1", "--ground", "1")]
    [InlineData("--temperature 90C is outside -60 to 60 °C", "--wind", "3", "--lift", "1", "--temperature", "90C")]
    [InlineData("--wind-height 0.5m is outside 1.5 to 200 m", "--wind", "3", "--lift", "1", "--wind-height", "0.5m")]
    [InlineData("--time \"5furlong\"", "--wind", "3", "--lift", "1", "--time", "5furlong")]
    public async Task WrongUsage_IsSaidAndExitsWith2(string message, params string[] args)
    {
        CliRun run = await Suggest(args);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains(message, run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WithoutAnAirframe_ItIsAskedFor()
    {
        CliRun run = await CliRun.Of("suggest", "--wind", "3", "--lift", "1");
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("'--airframe'", run.Messages, StringComparison.Ordinal);
    }

    // The contract's keys, by name; keys may be added and never renamed.
    [Fact]
    public async Task Json_HasTheContractsKeys()
    {
        CliRun run = await Suggest("--wind", "3..6m/s", "--lift", "1.5m/s", "--turbulence", "moderate", "--time", "5min", "--json");
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        using JsonDocument json = JsonDocument.Parse(run.Output);
        JsonElement root = json.RootElement;
        Assert.Equal("thermaltrace.suggestion/1", root.GetProperty("schema").GetString());
        string[] option = ["ballast_g", "round_trip_climb_mps", "climb_mps", "return_airspeed_mps", "return_glide_ratio", "launch_height_m", "still_air_time_s", "flown", "support", "probability_best",
            "return_height_m_per_100_m", "load_factor_rms", "chance", "reach", "allowed", "listed"];
        JsonElement first = root.GetProperty("options")[0];
        Assert.All(option, key => Assert.True(first.TryGetProperty(key, out _), key));
        Assert.All((string[])["value", "low", "high"], key => Assert.Equal(JsonValueKind.Number, first.GetProperty("round_trip_climb_mps").GetProperty(key).ValueKind));
        Assert.All((string[])["flights", "climb_mps"], key => Assert.True(first.GetProperty("flown").TryGetProperty(key, out _), key));
        Assert.All((string[])["kind", "flights", "cross_validated_error_mps", "physics_only_error_mps"], key => Assert.True(root.GetProperty("model").TryGetProperty(key, out _), key));
        Assert.All((string[])["wind_mps", "lift_mps", "thermal_radius_m", "edr", "air_sink_mps"], key => Assert.Equal(JsonValueKind.Number, root.GetProperty("conditions").GetProperty(key).ValueKind));
        double suggested = root.GetProperty("suggested_ballast_g").GetDouble();
        double[] range = [.. root.GetProperty("suggested_range_g").EnumerateArray().Select(e => e.GetDouble())];
        Assert.InRange(suggested, range[0], range[1]);
        Assert.Contains(root.GetProperty("verdict").GetString(), (string[])["clear", "leaning", "no_difference", "unknown"]);
        Assert.Equal("predicted", root.GetProperty("support").GetString());
        Assert.Equal((3.0, 6.0, 0.16), (root.GetProperty("conditions").GetProperty("wind_mps_low").GetDouble(), root.GetProperty("conditions").GetProperty("wind_mps_high").GetDouble(), root.GetProperty("conditions").GetProperty("edr").GetDouble()));
        Assert.True(root.GetProperty("cautions").GetArrayLength() >= 3);
    }

    [Theory]
    [InlineData("calm", 0.03)]
    [InlineData("light", 0.08)]
    [InlineData("moderate", 0.16)]
    [InlineData("rough", 0.30)]
    [InlineData("Wooded", 0.40)]
    public async Task TurbulenceWords_MeanTheirEdr(string word, double edr)
    {
        CliRun run = await Suggest("--wind", "light", "--lift", "weak", "--turbulence", word, "--json");
        using JsonDocument json = JsonDocument.Parse(run.Output);
        JsonElement conditions = json.RootElement.GetProperty("conditions");
        Assert.Equal(edr, conditions.GetProperty("edr").GetDouble());
        Assert.Equal((1.6, 3.3), (conditions.GetProperty("wind_mps_low").GetDouble(), conditions.GetProperty("wind_mps_high").GetDouble()));
        Assert.Equal((0.5, 1.0), (conditions.GetProperty("lift_mps_low").GetDouble(), conditions.GetProperty("lift_mps_high").GetDouble()));
    }

    [Fact]
    public async Task Text_SaysBallastWhyWhenToChangeAndWhatToMind()
    {
        CliRun run = await Suggest("--wind", "16km/h", "--lift", "2m/s", "--time", "5min", "--arrive", "20m");
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Matches("^Yarrow 200: (fit [0-9.]+ g|fly without ballast)", run.Output);
        Assert.Contains("It rests on the model's geometry alone.", run.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.All((string[])["Chance of making 5 min:", "Reach for lift:", "Mind:", "lands faster and hits harder", "land out. No low turns downwind."],
            words => Assert.Contains(words, run.Output.ReplaceLineEndings(" "), StringComparison.Ordinal));
        Assert.All(run.Output.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public async Task Results_OfADebrief_AreRestedOn()
    {
        using TempFolder folder = new();
        using MemoryStream utf8 = new();
        ResultsJson.Write(utf8, ShortSession.Document);
        string file = folder.Write("results.json", utf8.ToArray());
        string airframe = folder.Write("airframe.json", ShortSession.Simulated.AirframeJson);
        CliRun run = await CliRun.Of("suggest", "--airframe", airframe, "--wind", "3", "--lift", "1.5", "--turbulence", "light", "--results", file, file, "--json");
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        using JsonDocument json = JsonDocument.Parse(run.Output);
        // The same file twice is one session.
        Assert.Equal(1, json.RootElement.GetProperty("model").GetProperty("sessions").GetInt32());
        Assert.Equal(4, json.RootElement.GetProperty("model").GetProperty("flights").GetInt32());

        run = await Suggest("--wind", "3", "--lift", "1.5", "--results", file);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("is of the airframe", run.Messages, StringComparison.Ordinal);
        Assert.Contains("expected \"Yarrow 200\"", run.Messages, StringComparison.Ordinal);
        run = await Suggest("--wind", "3", "--lift", "1.5", "--results", Path.Combine(folder.Root, "none.json"));
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("none.json: cannot be read; expected the results.json of a debrief", run.Messages, StringComparison.Ordinal);
        run = await Suggest("--wind", "3", "--lift", "1.5", "--results", airframe);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("not a result document", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AReadingAtHeadHeight_IsBroughtToFlyingHeight_AndSwitchesAreToldAsRead()
    {
        CliRun run = await Suggest("--wind", "3m/s", "--wind-height", "2m", "--field", "Moor", "--lift", "2", "--height", "500m", "--temperature", "25C");
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        string words = run.Output.ReplaceLineEndings(" ").Replace("   ", " ", StringComparison.Ordinal);
        Assert.Matches(@"wind \S+ to \S+ m/s at 30 m \(from 3 m/s read at 2 m\)", words);
        Assert.Contains("no earlier reading at this field is known", words, StringComparison.Ordinal);
        Assert.Matches(@"that is about \S+ m/s\s+read at 2 m", words);
        Assert.Contains("air density 1.12 kg/m3", words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AModelThatMayCarryNothing_IsToldSo()
    {
        using TempFolder folder = new();
        string airframe = folder.Write("airframe.json", """{ "name": "Heavy", "wing_span_mm": 1500, "wing_area_dm2": 22, "unballasted_mass_g": 300, "cg_mm": 70, "cg_limits_mm": [80, 90], "ballast_tube": { "bore_mm": 10, "length_mm": 40, "centre_mm": 75 } }""");
        CliRun run = await CliRun.Of("suggest", "--airframe", airframe, "--wind", "3", "--lift", "1");
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("Heavy: no suggestion.", run.Output, StringComparison.Ordinal);
        Assert.Contains("No ballast may be fitted", run.Output, StringComparison.Ordinal);
        Assert.Contains("Without ballast the centre of gravity is outside its limits", run.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
        // Nothing is said of a choice where there is none.
        Assert.All((string[])["It rests on", "change of ballast", "When to change"], words => Assert.DoesNotContain(words, run.Output.ReplaceLineEndings(" "), StringComparison.Ordinal));
    }

    [Fact]
    public async Task WithoutLift_TheTimeGainedIsToldWithItsInterval()
    {
        CliRun run = await Suggest("--wind", "3", "--lift", "none");
        Assert.Matches(@"No ballast: \d+ s \(-?\d+ to \d+\) longer aloft than 240 g in\s+still air", run.Output);
    }

    [Fact]
    public async Task HeightLostForAllThat_IsToldWithItsInterval()
    {
        CliRun run = await Suggest("--wind", "10", "--lift", "weak");
        Assert.Matches(@"Even so height is\s+lost, \d\.\d+ m/s \(-?\d\.\d+\s+to\s+\d\.\d+\)", run.Output.ReplaceLineEndings(" "));
    }

    // What docs/suggest.md shows is what the program says.
    [Fact]
    public async Task TheExampleInTheDocumentation_IsWhatIsPrinted()
    {
        string[] page = File.ReadAllText(Path.Combine(SharedFolder.Repository, "docs", "suggest.md")).Split("```");
        string block = page.Select((text, i) => (text, i)).First(b => b.i % 2 == 1 && b.text.Contains("$ thermaltrace suggest", StringComparison.Ordinal)).text;
        string[] lines = [.. block.Trim('\n').Split('\n').SkipWhile(l => !l.StartsWith("$ ", StringComparison.Ordinal))];
        string[] args = lines[0]["$ thermaltrace ".Length..].Split(' ');
        args[Array.IndexOf(args, "--airframe") + 1] = Path.Combine(SharedFolder.Repository, args[Array.IndexOf(args, "--airframe") + 1]);
        CliRun run = await CliRun.Of(args);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(string.Join('\n', lines[1..]).Trim(), run.Output.Trim());
    }
}

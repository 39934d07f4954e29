using System.Text.Json;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Cli;

public sealed class BalanceCommandTests
{
    private const string Airframe = """
        {
          "name": "Tansy 150", "wing_span_mm": 1500, "wing_area_dm2": 22.5, "unballasted_mass_g": 262,
          "cg_mm": 72, "cg_limits_mm": [66, 76], "mean_chord_mm": 150, "neutral_point_mm": 84.5,
          "ballast_tube": { "bore_mm": 12, "length_mm": 120, "centre_mm": 70 },
        }
        """;

    private static readonly string[] Weighed = ["--reading", "172.4g@42mm", "--reading", "89.7g@130mm"];

    // What docs/balance.md shows is what the program says.
    [Fact]
    public async Task TheExampleInTheDocumentation_IsWhatTheProgramSays()
    {
        string[] page = File.ReadAllText(Path.Combine(SharedFolder.Repository, "docs", "balance.md")).Split("```");
        using TempFolder folder = new();
        folder.Write("airframe.json", page[1]["jsonc\n".Length..]);
        string[] lines = page[3].Trim('\n').Split('\n');
        int command = Array.FindIndex(lines, l => !l.EndsWith('\\')) + 1;
        string[] args = string.Join(' ', lines[..command].Select(l => l.TrimEnd('\\'))).Split(' ', StringSplitOptions.RemoveEmptyEntries)[2..];
        args[Array.IndexOf(args, "--airframe") + 1] = folder.Session;
        CliRun run = await CliRun.Of(args);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Equal(string.Join('\n', lines[command..]) + "\n", run.Output);
    }

    [Fact]
    public async Task Balance_OfTwoReadings_EndsWithTheLineForTheFile()
    {
        CliRun run = await Run(Weighed);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.StartsWith("Tansy 150: weighed on 2 supports\n", run.Output, StringComparison.Ordinal);
        Assert.Contains("Centre of gravity: 72.1 (71.7 to 72.5) mm", run.Output, StringComparison.Ordinal); // (172.4 · 42 + 89.7 · 130)/262.1
        Assert.Contains("Limits 66 to 76 mm: inside for sure", run.Output, StringComparison.Ordinal);
        Assert.EndsWith("For airframe.json:\n  \"cg_mm\": 72.1,\n", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Balance_AsJson_IsTheDocumentAlone_AndTheSameAgain()
    {
        string[] args = [.. Weighed, "--swing", "12.1s", "--swing", "12.0", "--swing", "12.2", "--string", "1m", "--spacing", "40cm", "--json"];
        CliRun run = await Run(args), again = await Run(args);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Equal(run.Output, again.Output);
        using JsonDocument document = JsonDocument.Parse(run.Output);
        JsonElement root = document.RootElement;
        Assert.Equal("thermaltrace.balance/1", root.GetProperty("schema").GetString());
        Assert.Equal("inside", root.GetProperty("bare").GetProperty("cg_limits").GetString());
        Assert.Equal(0.1, root.GetProperty("readings")[0].GetProperty("error_g").GetDouble());
        Assert.Equal([12.1, 12.0, 12.2], root.GetProperty("swing").GetProperty("timings_s").EnumerateArray().Select(t => t.GetDouble()));
        // 0.2621 kg · 9.80665 · 0.16 · 1.21²/(16 π²)
        Assert.Equal(0.00381293, root.GetProperty("swing").GetProperty("pitch_inertia_kg_m2").GetProperty("value").GetDouble(), 1e-8);
        Assert.Equal(JsonValueKind.Null, root.GetProperty("airframe_values").GetProperty("unballasted_mass_g").ValueKind);
        foreach (string interval in (string[])["mass_g", "cg_mm", "cg_chord_percent", "forward_room_mm", "aft_room_mm", "static_margin_percent"])
        {
            JsonElement found = root.GetProperty("bare").GetProperty(interval);
            Assert.True(found.GetProperty("low").GetDouble() < found.GetProperty("value").GetDouble() && found.GetProperty("value").GetDouble() < found.GetProperty("high").GetDouble(), interval);
        }
    }

    // FAA, Weight and Balance Handbook, FAA-H-8083-1, worked example: 3320 lb, 84.8 in.
    [Fact]
    public async Task Balance_OfTheHandbooksExample_InPoundsAndInches()
    {
        using JsonDocument document = await Json("--reading", "2100lb@78.3in", "--reading", "340lb@85in", "--reading", "350lb@121in", "--reading", "450lb@75in", "--reading", "80lb@150in");
        JsonElement weighed = document.RootElement.GetProperty("weighed");
        Assert.Equal(3320, weighed.GetProperty("mass_g").GetProperty("value").GetDouble() / 453.59237, 0.01);
        Assert.Equal(84.8, weighed.GetProperty("cg_mm").GetProperty("value").GetDouble() / 25.4, 0.05);
    }

    // A published training page's example: 1646 lb, 13.24 in; with 35 lb more in the tail 1681 lb, 13.84 in.
    [Theory]
    [InlineData(1646, 13.24)]
    [InlineData(1681, 13.84, "35lb@42.1in")]
    public async Task Balance_OfTheTrainingPagesExample_InPoundsAndInches(double lb, double inch, params string[] more)
    {
        using JsonDocument document = await Json(["--reading", "1150lb@13.0in", "190lb@12.6in", "135lb@12.6in", "15lb@42.1in", "156lb@13.6in", .. more]);
        JsonElement weighed = document.RootElement.GetProperty("weighed");
        Assert.Equal(lb, weighed.GetProperty("mass_g").GetProperty("value").GetDouble() / 453.59237, 0.01);
        Assert.Equal(inch, weighed.GetProperty("cg_mm").GetProperty("value").GetDouble() / 25.4, 0.005);
    }

    [Fact]
    public async Task Balance_OfAReadingAheadOfTheDatum_IsCountedAhead()
    {
        // (120 · −30 + 142 · 160)/262
        using JsonDocument document = await Json("--reading", "120g@-30mm", "--reading", "142g@16cm");
        Assert.Equal(72.9771, document.RootElement.GetProperty("bare").GetProperty("cg_mm").GetProperty("value").GetDouble(), 1e-4);
    }

    [Fact]
    public async Task Balance_WithBallastIn_GivesTheBareModelToo()
    {
        // 60 g at 66 mm in 262 g at 72 mm: 322 g at 70.882 mm, on supports at 42 and 130 mm.
        string[] args = ["--reading", "216.3g@42mm", "--reading", "105.7g@130mm", "--ballast", "60", "--ballast-at", "66mm"];
        CliRun run = await Run(args);
        Assert.Contains("With 60 g of ballast in, as measured:\nMass: 322.00 (321.86 to 322.14) g; airframe.json and the ballast make 322 g.", run.Output, StringComparison.Ordinal);
        Assert.EndsWith("For airframe.json:\n  \"cg_mm\": 72,\n", run.Output, StringComparison.Ordinal);
        using JsonDocument document = await Json(args);
        Assert.Equal(70.8870, document.RootElement.GetProperty("weighed").GetProperty("cg_mm").GetProperty("value").GetDouble(), 1e-4);
        Assert.Equal(72.0061, document.RootElement.GetProperty("bare").GetProperty("cg_mm").GetProperty("value").GetDouble(), 1e-4);
        Assert.True(document.RootElement.GetProperty("mass_check").GetProperty("explained").GetBoolean());
    }

    [Fact]
    public async Task Balance_WithBallastWhosePlaceIsNotGiven_DoesNotGuessTheBareModel()
    {
        string[] args = ["--balance-at", "71mm", "--ballast", "60", "--swing", "12.1", "--string", "1", "--spacing", "0.4"];
        using JsonDocument document = await Json(args);
        JsonElement root = document.RootElement;
        Assert.Equal(JsonValueKind.Null, root.GetProperty("bare").ValueKind);
        Assert.All(root.GetProperty("airframe_values").EnumerateObject(), v => Assert.Equal(JsonValueKind.Null, v.Value.ValueKind));
        Assert.Contains(root.GetProperty("limits").EnumerateArray(), l => l.GetString()!.Contains("--ballast-at", StringComparison.Ordinal) && l.GetString()!.Contains("the tube's middle lies at 70 mm", StringComparison.Ordinal));
        Assert.DoesNotContain("For airframe.json", (await Run(args)).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Balance_ThatTheScalesDoNotExplain_SaysBothMasses()
    {
        CliRun run = await Run("--reading", "192.4g@42mm", "--reading", "109.7g@130mm");
        string text = run.Output.ReplaceLineEndings(" ").Replace("   ", " ", StringComparison.Ordinal);
        Assert.Contains("The scales show 302.10 (301.96 to 302.24) g and airframe.json makes it 262 g without ballast: 40.1 g more than it should be", text, StringComparison.Ordinal);
        Assert.EndsWith("For airframe.json, once the mass is sure:\n  \"unballasted_mass_g\": 302.1,\n  \"cg_mm\": 74,\n", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("71mm", "inside for sure, 5.0 (4.5 to 5.5) mm", false)]
    [InlineData("75.8mm", "whether inside cannot be told at this accuracy, 0.2 (-0.3 to 0.7) mm", true)]
    [InlineData("78mm", "outside, 2.0 (1.5 to 2.5) mm too far aft", true)]
    [InlineData("64mm", "outside, 2.0 (1.5 to 2.5) mm too far forward", true)]
    [InlineData("-5mm", "-5.0 (-5.5 to -4.5) mm, that is ahead of the leading edge", true)]
    public async Task Balance_AgainstItsLimits_CountsTheInterval(string place, string expected, bool warned)
    {
        CliRun run = await Run("--balance-at", place);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Contains(expected, run.Output.Replace("\n  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Equal(warned, run.Output.Contains("cg_limits_mm", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Balance_BehindTheNeutralPoint_IsCalledUnstable() =>
        Assert.Contains("unstable in pitch", (await Run("--balance-at", "86mm")).Output, StringComparison.Ordinal);

    [Fact]
    public async Task Balance_OfAnAirframeWithLittleInIt_SaysWhatItCanAndWhatNot()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", TempFolder.Airframe);
        CliRun run = await CliRun.Of(["balance", "--airframe", folder.Session, .. Weighed]);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Contains("Centre of gravity: 72.1 (71.7 to 72.5) mm.", run.Output, StringComparison.Ordinal);
        Assert.Contains("not checked against limits", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("chord", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("neutral", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Swing_Alone_TakesTheMassOfTheFile_AndSaysSo()
    {
        CliRun run = await Run("--swing", "12.1s", "--string", "1m", "--spacing", "40cm");
        Assert.StartsWith("Tansy 150: swung on two strings\n", run.Output, StringComparison.Ordinal);
        Assert.Contains("taken from airframe.json", run.Output.Replace("\n  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.EndsWith("For airframe.json:\n  \"pitch_inertia_kg_m2\": 0.00381,\n", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Swing_ThatWasMiscounted_IsAskedAbout() =>
        Assert.Contains("Were the swings counted there and back again",
            (await Run("--swing", "6.05s", "--string", "1m", "--spacing", "40cm")).Output.Replace("\n  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);

    [Fact]
    public async Task NamesFromTheFile_CannotMoveTheCursor()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", TempFolder.Airframe.Replace("Tansy", "Tan\\u001b[31msy", StringComparison.Ordinal));
        Assert.DoesNotContain("\u001b", (await CliRun.Of(["balance", "--airframe", folder.Session, .. Weighed])).Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("nothing was measured")]
    [InlineData("one --reading gives a mass and no centre of gravity", "--reading", "152g@42mm")]
    [InlineData("all readings are at one place", "--reading", "152g@42mm", "--reading", "110g@42mm")]
    [InlineData("all readings are nought", "--reading", "0g@42mm", "--reading", "0g@130mm")]
    [InlineData("say the same thing twice", "--reading", "152g@42mm", "--reading", "110g@130mm", "--balance-at", "71mm")]
    [InlineData("has no place; expected MASS@PLACE", "--reading", "152g", "--reading", "110g@130mm")]
    [InlineData("--reading 152@42: 42 is outside -5 to 5 m; 42 without a unit is 42 m, did you mean 42mm?", "--reading", "152@42", "--reading", "110g@130mm")]
    [InlineData("no unit of mass", "--reading", "152mm@42mm", "--reading", "110g@130mm")]
    [InlineData("--ballast 300g is all that the scales show, 262 g", "--reading", "152g@42mm", "--reading", "110g@130mm", "--ballast", "300")]
    [InlineData("--ballast-at goes with --ballast", "--balance-at", "71mm", "--ballast-at", "66mm")]
    [InlineData("--balance-at 71 is outside -2000 to 2000 mm; 71 without a unit is 71 m, did you mean 71mm?", "--balance-at", "71")]
    [InlineData("did you mean 0.5mm?", "--balance-at", "71mm", "--balance-error", "0.5")]
    [InlineData("--balance-error goes with --balance-at", "--reading", "152g@42mm", "--reading", "110g@130mm", "--balance-error", "0.5mm")]
    [InlineData("--swing is missing its --string and --spacing", "--swing", "12.1s")]
    [InlineData("--swing is missing its --spacing", "--swing", "12.1s", "--string", "1m")]
    [InlineData("--swings goes with --swing", "--balance-at", "71mm", "--swings", "20")]
    [InlineData("--swings \"ten\" is not possible", "--swing", "12.1s", "--string", "1m", "--spacing", "40cm", "--swings", "ten")]
    [InlineData("--spacing 40 is outside 0.02 to 5 m; 40 without a unit is 40 m, did you mean 40mm?", "--swing", "12.1s", "--string", "1m", "--spacing", "40")]
    public async Task Balance_WithWrongOptions_SaysWhatIsExpected(string expected, params string[] args)
    {
        CliRun run = await Run(args);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(expected, run.Messages, StringComparison.Ordinal);
        Assert.Empty(run.Output);
    }

    [Fact]
    public async Task Balance_WithoutAnAirframe_IsWrongUsage() => Assert.Equal(2, (await CliRun.Of(["balance", .. Weighed])).ExitCode);

    [Fact]
    public async Task Balance_NeverTouchesTheFile()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        IReadOnlyList<string> before = folder.Everything();
        Assert.Equal(0, (await CliRun.Of(["balance", "--airframe", folder.Session, .. Weighed])).ExitCode);
        Assert.Equal(before, folder.Everything());
    }

    private static async Task<CliRun> Run(params string[] args)
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        return await CliRun.Of(["balance", "--airframe", folder.Session, .. args]);
    }

    private static async Task<JsonDocument> Json(params string[] args)
    {
        CliRun run = await Run([.. args, "--json"]);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        return JsonDocument.Parse(run.Output);
    }
}

using System.Text.Json;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Cli;

public sealed class StickCommandTests
{
    private const string Airframe = """
        { "name": "Tansy 150", "wing_span_mm": 1500, "wing_area_dm2": 21.3, "unballasted_mass_g": 248, "max_flying_mass_g": 420, "launch": "discus",
          "cg_mm": 72, "cg_limits_mm": [66, 76], "ballast_tube": { "bore_mm": 8.2, "length_mm": 90, "centre_mm": 70 } }
        """;

    private static async Task<CliRun> Stick(string airframe, params string[] args)
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", airframe);
        return await CliRun.Of(["stick", "--airframe", folder.Session, .. args]);
    }

    private static async Task<JsonElement> Json(params string[] args)
    {
        CliRun run = await Stick(Airframe, [.. args, "--json"]);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        using JsonDocument document = JsonDocument.Parse(run.Output);
        return document.RootElement.Clone();
    }

    [Fact]
    public async Task Stick_SaysWhatToBuild_AndWritesPageAndDrawing()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        string page = Path.Combine(folder.Root, "stick.html"), drawing = Path.Combine(folder.Root, "stick.svg");
        string[] args = ["stick", "--airframe", folder.Session, "--ballast", "45", "--out", page, "--svg", drawing];
        CliRun run = await CliRun.Of(args), again = await CliRun.Of(args); // which replaces both
        Assert.Equal((0, $"Page: {page}\nDrawing: {drawing}\n"), (run.ExitCode, run.Messages));
        Assert.Equal((0, run.Output), (again.ExitCode, again.Output));
        Assert.StartsWith("Tansy 150: 45 g as a stick for the tube\n\nLeast pitch inertia: tungsten, 8 mm thick", run.Output, StringComparison.Ordinal);
        Assert.StartsWith("<!DOCTYPE html>", await File.ReadAllTextAsync(page), StringComparison.Ordinal);
        Assert.Contains("<svg ", await File.ReadAllTextAsync(drawing), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Units_MayBeOuncesAndInches()
    {
        JsonElement metric = await Json("--ballast", "42.5243g", "--cg-forward", "0.762mm"), other = await Json("--ballast", "1.5oz", "--cg-forward", "0.03in");
        Assert.Equal(42.5243, other.GetProperty("ballast_asked_g").GetDouble(), 1e-4);
        Assert.Equal(0.762, other.GetProperty("cg_forward_mm").GetDouble(), 1e-9);
        Assert.Equal(metric.GetProperty("options")[0].GetProperty("length_mm").GetDouble(), other.GetProperty("options")[0].GetProperty("length_mm").GetDouble(), 1e-3);
    }

    // 0.3 lb/in³ = 0.3 x 453.59237 g / 16.387064 cm³ = 8.30397 g/cm³.
    [Theory]
    [InlineData("thing=0.3lb/in3", 8.30397)]
    [InlineData("thing=9.8g/cm3", 9.8)]
    [InlineData("thing=9.8", 9.8)]
    [InlineData("thing=9800kg/m3", 9.8)]
    [InlineData("thing=9.6..10.0g/cm3", 9.8)]
    public async Task Material_MayBeGivenByItsDensity(string text, double expected)
    {
        JsonElement option = Assert.Single((await Json("--ballast", "20", "--material", text)).GetProperty("options").EnumerateArray(), o => o.GetProperty("form").GetString() == "slug");
        Assert.Equal("thing", option.GetProperty("material").GetString());
        Assert.Equal(expected, option.GetProperty("density_g_cm3").GetDouble(), 5e-5);
        Assert.True(option.GetProperty("density_g_cm3_low").GetDouble() < expected && expected < option.GetProperty("density_g_cm3_high").GetDouble());
    }

    [Fact]
    public async Task Materials_AreThoseNamed()
    {
        JsonElement document = await Json("--ballast", "30", "--material", "Brass", "--material", "tungsten alloy 18.5", "--diameter", "8mm");
        Assert.Equal(["brass", "tungsten alloy 18.5"], document.GetProperty("options").EnumerateArray().Select(o => o.GetProperty("material").GetString()).Order());
        Assert.All(document.GetProperty("options").EnumerateArray(), o => Assert.Equal(8, o.GetProperty("diameter_mm").GetDouble()));
    }

    [Fact]
    public async Task ThrowSpeedAndRadius_AreTaken()
    {
        JsonElement load = (await Json("--ballast", "60", "--throw-speed", "108km/h", "--throw-radius", "1.45m")).GetProperty("throw_load");
        Assert.Equal(37.2414, load.GetProperty("force_n").GetProperty("value").GetDouble(), 5e-5);
    }

    [Theory]
    [InlineData("--ballast 0", "--ballast 0 is outside 0.1 to 50000 g")]
    [InlineData("--ballast=-5", "--ballast -5 is outside 0.1 to 50000 g")]
    [InlineData("--ballast heavy", "is no unit of mass")]
    [InlineData("--ballast 45 --material cheese", "--material \"cheese\" is not known; expected lead, brass, steel, tungsten, tungsten alloy")]
    [InlineData("--ballast 45 --material thing=9.8m", "which is no unit of density; known are g/cm3, kg/m3, lb/in3")]
    [InlineData("--ballast 45 --material thing=9800", "is outside 1 to 23 g/cm3")]
    [InlineData("--ballast 45 --material =9.8", "has no name")]
    [InlineData("--ballast 45 --cg-forward 0.7", "did you mean 0.7mm?")]
    [InlineData("--ballast 45 --diameter 8", "did you mean 8mm?")]
    [InlineData("--ballast 45 --throw-speed 200m/s", "is outside 2 to 80 m/s")]
    [InlineData("--ballast 45 --throw-radius 20", "is outside 0.3 to 10 m")]
    [InlineData("--json", "--ballast")]
    public async Task AWrongOption_SaysWhatIsExpected(string args, string expected)
    {
        CliRun run = await Stick(Airframe, args.Split(' '));
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{ "name": "N", "wing_span_mm": 1500, "wing_area_dm2": 21, "unballasted_mass_g": 250 }""", "has no ballast_tube; a stick is built for its bore, length and place")]
    [InlineData("""{ "name": "N", "wing_span_mm": 1500, "wing_area_dm2": 21, "unballasted_mass_g": 250, "max_flying_mass_g": 280, "ballast_tube": { "bore_mm": 8, "length_mm": 90, "centre_mm": 70 } }""",
        "45 g of ballast make 295 g, above max_flying_mass_g 280; expected at most 30 g of ballast")]
    [InlineData("""{ "name": "N", "wing_span_mm": 1500, "wing_area_dm2": 21, "unballasted_mass_g": 250, "cg_limits_mm": [76, 66] }""", "the forward limit being the smaller number")]
    [InlineData("""{ "name": "N", "wing_span_mm": 1500, "wing_area_dm2": 21, "unballasted_mass_g": 250, "ballast_tube": { "bore_mm": 8, "length_mm": 90 } }""", "centre_mm")]
    [InlineData("""{ "name": "N", "wing_span_mm": 1500, "wing_area_dm2": 21, "unballasted_mass_g": 250, "ballast_tube": { "bore_mm": 8, "length_mm": 1, "centre_mm": 70 } }""", "nothing goes into it")]
    public async Task ABadAirframe_GetsItsSentence(string airframe, string expected)
    {
        CliRun run = await Stick(airframe, "--ballast", "45");
        Assert.Equal((3, ""), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"cg_mm\": 72, \"cg_limits_mm\": [66, 76],", "7mm", "the centre of gravity wished for, 65.0 mm, is outside cg_limits_mm [66, 76]")]
    [InlineData("", "0.7mm", "cg_mm is missing, and without it --cg-forward cannot be aimed at")]
    public async Task AWishThatCannotBeMet_IsRefused_AsItIsForPieces(string balance, string forward, string expected)
    {
        CliRun run = await Stick(Airframe.Replace("\"cg_mm\": 72, \"cg_limits_mm\": [66, 76],", balance, StringComparison.Ordinal), "--ballast", "45", "--cg-forward", forward);
        Assert.Equal((3, ""), (run.ExitCode, run.Output));
        Assert.Contains(expected, run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task PageAndDrawing_AreWrittenBoth_OrNeither()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        string page = Path.Combine(folder.Root, "stick.html"), other = folder.Write("other.svg", "<svg/>");
        string[] start = ["stick", "--airframe", folder.Session, "--ballast", "45", "--out", page, "--svg"];
        CliRun refused = await CliRun.Of([.. start, other]), same = await CliRun.Of([.. start, page]);
        Assert.Equal((2, 2), (refused.ExitCode, same.ExitCode));
        Assert.Contains("--out and --svg are one file", same.Messages, StringComparison.Ordinal);
        Assert.False(File.Exists(page));
        Assert.Empty(Directory.EnumerateFiles(folder.Root, "*.tmp", new EnumerationOptions { AttributesToSkip = 0 }));
    }

    [Fact]
    public async Task WhereNothingFits_ThatIsTheAnswer()
    {
        CliRun run = await Stick(Airframe, "--ballast", "45", "--material", "brass");
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Contains("No stick of 45 g fits the tube; the most is 38.0 (37.2 to 39.1) g of brass, 8 mm", run.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public async Task FilesOfAnotherKind_StayAsTheyAre()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        string other = folder.Write("other.html", "<!DOCTYPE html><title>mine</title>"), picture = folder.Write("other.svg", "<svg/>");
        CliRun page = await CliRun.Of("stick", "--airframe", folder.Session, "--ballast", "45", "--out", other), drawing = await CliRun.Of("stick", "--airframe", folder.Session, "--ballast", "45", "--svg", picture);
        Assert.Equal((2, 2), (page.ExitCode, drawing.ExitCode));
        Assert.Contains("--out", page.Messages, StringComparison.Ordinal);
        Assert.Contains("--svg", drawing.Messages, StringComparison.Ordinal);
        Assert.Contains("mine", await File.ReadAllTextAsync(other), StringComparison.Ordinal);
        Assert.Equal("<svg/>", await File.ReadAllTextAsync(picture));
        CliRun nothing = await CliRun.Of("stick", "--airframe", folder.Session, "--ballast", "45", "--material", "brass", "--svg", Path.Combine(folder.Root, "new.svg"));
        Assert.Equal(3, nothing.ExitCode);
        Assert.Contains("nothing to draw", nothing.Messages, StringComparison.Ordinal);
    }

    // What docs/stick.md shows is what the program says of the model that it shows.
    [Fact]
    public async Task TheExampleInTheDocumentation_IsWhatIsPrinted()
    {
        string[] blocks = File.ReadAllText(Path.Combine(SharedFolder.Repository, "docs", "stick.md")).Split("```");
        string airframe = blocks.Single(b => b.StartsWith("json\n", StringComparison.Ordinal))["json\n".Length..];
        string[] lines = blocks.Single(b => b.Contains("$ thermaltrace stick", StringComparison.Ordinal)).Trim('\n').Split('\n');
        using TempFolder folder = new();
        folder.Write("airframe.json", airframe);
        string[] args = lines[0]["$ thermaltrace ".Length..].Split(' ');
        args[Array.IndexOf(args, "--airframe") + 1] = folder.Session;
        CliRun run = await CliRun.Of(args);
        Assert.Equal(0, run.ExitCode);
        Assert.Equal(string.Join('\n', lines[1..]).Trim(), run.Output.Trim());
    }
}

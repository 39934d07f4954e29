using System.Text.Json;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Cli;

public sealed class PiecesCommandTests
{
    private const string Stock = """
        "ballast_stock": [
            { "name": "brass 15", "material": "brass", "mass_g": 15, "diameter_mm": 9.5, "length_mm": 24.9, "count": 4 },
            { "name": "brass 5", "material": "brass", "mass_g": 5, "diameter_mm": 9.5, "length_mm": 8.3, "count": 3 },
            { "name": "tungsten 25", "material": "tungsten alloy", "mass_g": 25, "diameter_mm": 9.5, "length_mm": 20.7, "count": 3 },
          ],
        """;

    private const string Fives = "\"ballast_stock\": [{ \"name\": \"brass 5\", \"material\": \"brass\", \"mass_g\": 5, \"diameter_mm\": 9.5, \"length_mm\": 8.3, \"count\": 4 }],\n";
    private const string Tube = "\"ballast_tube\": { \"bore_mm\": 10, \"length_mm\": 110, \"centre_mm\": 74 },\n";
    private const string Cg = "\"cg_mm\": 72, \"cg_limits_mm\": [68, 76],\n";

    private static string Airframe(string more, string limit = "\"max_flying_mass_g\": 400,\n") =>
        "{ \"name\": \"Teasel 150\", \"wing_span_mm\": 1500, \"wing_area_dm2\": 22.4, \"unballasted_mass_g\": 262, \"launch\": \"discus\", \"mean_chord_mm\": 150, \"neutral_point_mm\": 85,\n" + limit + more + "}";

    private static async Task<CliRun> Run(string airframe, params string[] args)
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", airframe);
        return await CliRun.Of(["pieces", "--airframe", folder.Session, .. args]);
    }

    private static async Task<JsonElement> Json(string airframe, params string[] args)
    {
        CliRun run = await Run(airframe, [.. args, "--json"]);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        using JsonDocument document = JsonDocument.Parse(run.Output);
        return document.RootElement.Clone();
    }

    [Fact]
    public async Task Document_HasTheKeysThatOtherProgramsRead()
    {
        JsonElement root = await Json(Airframe(Stock + Tube + Cg), "--ballast", "45");
        Assert.Equal("thermaltrace.pieces/1", root.GetProperty("schema").GetString());
        Assert.Equal(45, root.GetProperty("ballast_asked_g").GetDouble());
        Assert.All(root.GetProperty("alternatives").EnumerateArray().Prepend(root), way =>
        {
            Assert.Equal(262 + way.GetProperty("ballast_g").GetDouble(), way.GetProperty("flying_mass_g").GetDouble(), 1e-9);
            Assert.Equal(way.GetProperty("ballast_g").GetDouble(), way.GetProperty("pieces").EnumerateArray().Sum(p => p.GetProperty("mass_g").GetDouble()), 1e-9);
            Assert.Equal(way.GetProperty("cg_mm").GetDouble() - 72, way.GetProperty("cg_shift_mm").GetDouble(), 1e-6);
            Assert.True(way.GetProperty("pitch_inertia_added_kg_m2").GetDouble() > 0);
            Assert.Equal(JsonValueKind.Array, way.GetProperty("cautions").ValueKind);
            Assert.Equal(45, way.GetProperty("ballast_asked_g").GetDouble());
            double[] centres = [.. way.GetProperty("pieces").EnumerateArray().Select(p => p.GetProperty("centre_mm").GetDouble())];
            Assert.Equal(centres.Order(), centres);
            Assert.All(way.GetProperty("pieces").EnumerateArray(), p => Assert.NotEmpty(p.GetProperty("name").GetString()!));
        });
        Assert.NotEmpty(root.GetProperty("alternatives").EnumerateArray());
        Assert.Empty(root.GetProperty("steps").EnumerateArray());
    }

    [Fact]
    public async Task Pieces_AndSpacersFillTheTube()
    {
        JsonElement root = await Json(Airframe(Stock + Tube + Cg), "--ballast", "95");
        double pieces = root.GetProperty("pieces").EnumerateArray().Sum(p => p.GetProperty("length_mm").GetDouble());
        Assert.Equal(110, pieces + root.GetProperty("spacer_front_mm").GetDouble() + root.GetProperty("spacer_rear_mm").GetDouble(), 1e-6);
    }

    [Theory]
    [InlineData("1.5oz", "0.7mm", 1.5 * 28.349523125, -0.7)]
    [InlineData("40g", "0.03in", 40, -0.762)]
    [InlineData("0.1lb", "0.5mm", 45.359237, -0.5)]
    [InlineData("45", "-0.05cm", 45, 0.5)]
    public async Task Quantities_AreReadInEitherSystem(string ballast, string forward, double askedG, double shiftMm)
    {
        JsonElement root = await Json(Airframe(Stock + Tube + Cg), "--ballast", ballast, "--cg-forward", forward);
        Assert.Equal(askedG, root.GetProperty("ballast_asked_g").GetDouble(), 1e-4);
        Assert.Equal(shiftMm, root.GetProperty("cg_shift_mm").GetDouble(), 1e-6);
    }

    [Fact]
    public async Task AllSteps_GoFromEmptyToTheLimit_RisingAndWithinIt()
    {
        JsonElement root = await Json(Airframe(Stock + Tube + Cg, "\"max_flying_mass_g\": 350,\n"));
        double[] ballasts = [.. root.GetProperty("steps").EnumerateArray().Select(s => s.GetProperty("ballast_g").GetDouble())];
        Assert.Equal(ballasts.Order(), ballasts);
        Assert.Equal(0, ballasts[0]);
        Assert.Equal(85, ballasts[^1]); // the limit leaves 88 g, the pieces make 85
        Assert.True(ballasts.Length > 6);
        Assert.Equal(ballasts.Distinct(), ballasts);
        Assert.Equal(JsonValueKind.Null, root.GetProperty("ballast_g").ValueKind);
        Assert.Equal(88, root.GetProperty("stock").GetProperty("up_to_g").GetDouble());
    }

    [Fact]
    public async Task NoBallast_IsNothingToFit_WhateverTheWish()
    {
        JsonElement root = await Json(Airframe(Stock + Tube + Cg), "--ballast", "0", "--cg-forward", "0.7mm");
        Assert.Empty(root.GetProperty("pieces").EnumerateArray());
        Assert.Equal(0, root.GetProperty("cg_shift_mm").GetDouble());
        Assert.True(root.GetProperty("as_wished").GetBoolean());
    }

    [Fact]
    public async Task Steps_ThatTheSamePiecesComeNearestTo_AreOneStepOfTheirMass()
    {
        JsonElement root = await Json(Airframe(Fives + Tube + Cg), "--step", "2");
        Assert.Equal([0, 5, 10, 15, 20], root.GetProperty("steps").EnumerateArray().Select(s => s.GetProperty("ballast_asked_g").GetDouble()));
        Assert.All(root.GetProperty("steps").EnumerateArray(), s => Assert.True(s.GetProperty("as_wished").GetBoolean()));
    }

    [Fact]
    public async Task WhatIsMissed_IsToldOnce_UnderTheAnswer()
    {
        // 70 g are made of these pieces, but not with the centre of gravity where it was: the tube begins behind it.
        CliRun run = await Run(Airframe(Stock + Cg + "\"ballast_tube\": { \"bore_mm\": 10, \"length_mm\": 110, \"centre_mm\": 110 },\n"), "--ballast", "70");
        Assert.Equal(0, run.ExitCode);
        string said = string.Join(' ', run.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        Assert.Single(said.Split("The centre of gravity comes to lie")[1..]);
        Assert.True(said.IndexOf("The centre of gravity comes to lie", StringComparison.Ordinal) < said.IndexOf("from the front", StringComparison.Ordinal));
        Assert.DoesNotContain("does not make", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task LeavingTheModelEmpty_IsNoOtherWay()
    {
        JsonElement root = await Json(Airframe(Fives + Tube + Cg), "--ballast", "10");
        Assert.NotEmpty(root.GetProperty("alternatives").EnumerateArray());
        Assert.All(root.GetProperty("alternatives").EnumerateArray(), a => Assert.NotEmpty(a.GetProperty("pieces").EnumerateArray()));
    }

    [Theory]
    [InlineData(-300, "so far ahead of the centre of gravity that with any piece in it the model is outside cg_limits_mm")]
    [InlineData(500, "so far behind the centre of gravity that with any piece in it the model is outside cg_limits_mm")]
    public async Task TubeTooFarAway_IsToldAsTheReason(int centreMm, string reason)
    {
        string airframe = Airframe(Stock + Cg + $"\"ballast_tube\": {{ \"bore_mm\": 10, \"length_mm\": 110, \"centre_mm\": {centreMm} }},\n");
        CliRun one = await Run(airframe, "--ballast", "45"), all = await Run(airframe);
        Assert.Equal((0, 0), (one.ExitCode, all.ExitCode));
        Assert.StartsWith("Teasel 150: 45 g cannot be fitted with these pieces.\nThe tube lies", one.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("Pitch inertia", one.Output, StringComparison.Ordinal);
        Assert.All([one, all], run => Assert.Contains(reason, string.Join(' ', run.Output.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal));
    }

    [Fact]
    public async Task TubeSomewhatFarAway_SaysHowMuchMayGoIn()
    {
        // 70 mm ahead: (262 · 72 + m x)/(262 + m) ≥ 68 with x ≤ 52.85 − 20.7/2 or so.
        JsonElement root = await Json(Airframe(Stock + Cg + "\"ballast_tube\": { \"bore_mm\": 10, \"length_mm\": 110, \"centre_mm\": -20 },\n"));
        string caution = root.GetProperty("cautions").EnumerateArray().Select(c => c.GetString()!).Single(c => c.StartsWith("The tube lies so far", StringComparison.Ordinal));
        double most = double.Parse(caution.Split("more than ")[1].Split(" g")[0], System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(root.GetProperty("steps").EnumerateArray().Max(s => s.GetProperty("ballast_g").GetDouble()), 5, most);
    }

    public static TheoryData<string, string[], string> Bad => new()
    {
        { Airframe(Tube + Cg), ["--ballast", "45"], "ballast_stock is empty" },
        { Airframe("\"ballast_stock\": [],\n" + Tube + Cg), ["--ballast", "45"], "ballast_stock is empty" },
        { Airframe(Stock + Cg + "\"ballast_tube\": { \"bore_mm\": 10, \"length_mm\": 5, \"centre_mm\": 74 },\n"), ["--ballast", "45"], "brass 15 (24.9 mm long, tube 5 mm)" },
        { Airframe(Stock + Cg + "\"ballast_tube\": { \"bore_mm\": 9, \"length_mm\": 110, \"centre_mm\": 74 },\n"), ["--ballast", "45"], "brass 15 (diameter 9.5 mm, bore 9 mm)" },
        { Airframe(Stock + Tube + Cg), ["--ballast", "139"], "above max_flying_mass_g 400; expected at most 138 g of ballast" },
        { Airframe(Stock + Tube + "\"cg_mm\": 72, \"cg_limits_mm\": [76, 68],\n"), ["--ballast", "45"], "expected [forward, aft]" },
        { Airframe(Stock + Tube + Cg), ["--ballast", "45", "--cg-forward", "5mm"], "outside cg_limits_mm [68, 76]; from cg_mm 72 it can go 4.0 mm forward and 4.0 mm aft" },
        { Airframe(Stock + Tube), ["--ballast", "45", "--cg-forward", "1mm"], "cg_mm is missing" },
        { Airframe(Stock + Cg), ["--ballast", "45", "--cg-forward", "1mm"], "ballast_tube is missing" },
        { Airframe(Stock + Tube + "\"cg_mm\": 90, \"cg_limits_mm\": [68, 70],\n"), ["--ballast", "45"], "outside cg_limits_mm [68, 70]" },
    };

    [Theory]
    [MemberData(nameof(Bad))]
    public async Task Airframe_ThatCannotBeUsed_GetsItsSentence(string airframe, string[] args, string sentence)
    {
        CliRun run = await Run(airframe, args);
        Assert.Equal((3, ""), (run.ExitCode, run.Output));
        Assert.Contains("airframe.json", run.Messages, StringComparison.Ordinal);
        Assert.Contains(sentence, run.Messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("45", "0.7", "did you mean 0.7mm?")]
    [InlineData("-3", "0mm", "outside 0")]
    [InlineData("45furlong", "0mm", "no unit of mass")]
    [InlineData("heavy", "0mm", "no unit of mass")]
    public async Task Quantities_ThatCannotBe_AreAskedAbout(string ballast, string forward, string sentence)
    {
        CliRun run = await Run(Airframe(Stock + Tube + Cg), "--ballast=" + ballast, "--cg-forward=" + forward);
        Assert.Equal((2, ""), (run.ExitCode, run.Output));
        Assert.Contains(sentence, run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WithoutTubeOrCentreOfGravity_WhatIsNotKnownIsSaid_NotGuessed()
    {
        JsonElement noTube = await Json(Airframe(Stock + Cg), "--ballast", "45"), noCg = await Json(Airframe(Stock + Tube), "--ballast", "45");
        foreach (JsonElement root in (JsonElement[])[noTube, noCg])
        {
            Assert.Equal(45, root.GetProperty("ballast_g").GetDouble());
            Assert.All((string[])["cg_mm", "cg_shift_mm", "pitch_inertia_added_kg_m2"], key => Assert.Equal(JsonValueKind.Null, root.GetProperty(key).ValueKind));
        }
        Assert.All(noTube.GetProperty("pieces").EnumerateArray(), p => Assert.Equal(JsonValueKind.Null, p.GetProperty("centre_mm").ValueKind));
        Assert.Contains(noTube.GetProperty("cautions").EnumerateArray(), c => c.GetString()!.Contains("ballast_tube is not in airframe.json", StringComparison.Ordinal));
        Assert.Contains(noCg.GetProperty("cautions").EnumerateArray(), c => c.GetString()!.Contains("cg_mm is not in airframe.json", StringComparison.Ordinal));
    }

    [Fact]
    public async Task PieceDenserThanItsMaterial_IsPointedAt()
    {
        JsonElement root = await Json(Airframe(Tube + Cg + "\"ballast_stock\": [{ \"name\": \"slip\", \"material\": \"brass\", \"mass_g\": 30, \"diameter_mm\": 9.5, \"length_mm\": 24.9, \"count\": 2 }],\n"), "--ballast", "30");
        Assert.Contains(root.GetProperty("cautions").EnumerateArray(), c => c.GetString()!.Contains("slip", StringComparison.Ordinal) && c.GetString()!.Contains("brass has at most 8.73", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Page_IsWritten_AndAFileOfAnotherKindStays()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe(Stock + Tube + Cg));
        string page = Path.Combine(folder.Root, "pieces.html"), other = folder.Write("notes.html", "<p>mine</p>");
        CliRun written = await CliRun.Of("pieces", "--airframe", folder.Session, "--ballast", "45", "--out", page), again = await CliRun.Of("pieces", "--airframe", folder.Session, "--out", page),
            refused = await CliRun.Of("pieces", "--airframe", folder.Session, "--out", other);
        Assert.Equal((0, 0, 2), (written.ExitCode, again.ExitCode, refused.ExitCode));
        Assert.Equal($"Page: {page}\n", written.Messages);
        Assert.Equal("<p>mine</p>", await File.ReadAllTextAsync(other));
        Assert.Contains("Weighed and balanced", await File.ReadAllTextAsync(page), StringComparison.Ordinal);
    }

    [Fact]
    public async Task TheExampleInTheDocumentation_IsWhatIsPrinted()
    {
        string[] blocks = File.ReadAllText(Path.Combine(SharedFolder.Repository, "docs", "pieces.md")).Split("```");
        string sample = Path.Combine(SharedFolder.Repository, "sample-logs", "tansy-150.json");
        Assert.Equal(await File.ReadAllTextAsync(sample), blocks.Single(b => b.StartsWith("json\n", StringComparison.Ordinal))["json\n".Length..]);
        string[] shown = [.. blocks.Where(b => b.Contains("$ thermaltrace pieces", StringComparison.Ordinal))];
        Assert.Equal(2, shown.Length);
        foreach (string block in shown)
        {
            string[] lines = block.Trim('\n').Split('\n'), args = lines[0]["$ thermaltrace ".Length..].Split(' ');
            args[Array.IndexOf(args, "--airframe") + 1] = sample;
            CliRun run = await CliRun.Of(args);
            Assert.Equal(0, run.ExitCode);
            // What comes after the words "Mind:" is the same each time and left out of the page.
            Assert.Equal(string.Join('\n', lines[1..]).Trim(), run.Output.Split("\nMind:")[0].Trim());
        }
    }
}

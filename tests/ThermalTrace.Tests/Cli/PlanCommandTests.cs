using System.Text.Json;

namespace ThermalTrace.Tests.Cli;

public sealed class PlanCommandTests
{
    private const string Airframe = """
        { "name": "Tansy", "wing_span_mm": 1500, "wing_area_dm2": 22.4, "unballasted_mass_g": 262, "max_flying_mass_g": 400, "launch": "discus", "ballast_options_g": [0, 35, 70] }
        """;

    [Fact]
    public async Task Plan_SaysWhatToFly_AndWritesTheSheet()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        string sheet = Path.Combine(folder.Root, "plan.html");
        CliRun run = await CliRun.Of("plan", "--airframe", folder.Session, "--wind", "3..6m/s", "--lift", "weak", "--flights", "4", "--out", sheet);
        Assert.Equal((0, $"Sheet: {sheet}\n"), (run.ExitCode, run.Messages));
        Assert.StartsWith("Tansy: what to fly next", run.Output, StringComparison.Ordinal);
        Assert.Contains("4 flights, about", run.Output, StringComparison.Ordinal);
        Assert.StartsWith("<!DOCTYPE html>", await File.ReadAllTextAsync(sheet), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plan_AsJson_IsTheDocumentAlone_AndTheSameAgain()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        string[] args = ["plan", "--airframe", folder.Session, "--flights", "4", "--json"];
        CliRun run = await CliRun.Of(args), again = await CliRun.Of(args);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Equal(run.Output, again.Output);
        using JsonDocument document = JsonDocument.Parse(run.Output);
        Assert.Equal("thermaltrace.plan/1", document.RootElement.GetProperty("schema").GetString());
        Assert.Equal(4, document.RootElement.GetProperty("flights").GetArrayLength());
        // From 1 to 8 m/s where no wind was asked for and none is logged.
        Assert.Equal(8, document.RootElement.GetProperty("decisions").GetArrayLength());
    }

    [Theory]
    [InlineData("--flights", "5", "even number")]
    [InlineData("--flights", "many", "even number")]
    [InlineData("--wind", "fast", "--wind \"fast\" is not known; expected a speed such as 4m/s, a range 3..6m/s, or calm, light, gentle, moderate, fresh")]
    [InlineData("--lift", "good", "expected a speed such as 1.5m/s, 1..2m/s, or none, weak, middling, strong")]
    [InlineData("--wind", "6..3", "backwards")]
    [InlineData("--lift", "20", "outside")]
    [InlineData("--turbulence", "bad", "expected a turbulence such as 0.15, 0.1..0.2, or calm, light, moderate, rough, wooded")]
    public async Task Plan_WithAWrongOption_SaysWhatIsExpected(string option, string value, string expected)
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        CliRun run = await CliRun.Of("plan", "--airframe", folder.Session, option, value);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains(expected, run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plan_WithoutAnAirframe_IsWrongUsage() => Assert.Equal(2, (await CliRun.Of("plan")).ExitCode);

    [Fact]
    public async Task Plan_OfOneBallast_IsUnusable()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", TempFolder.Airframe);
        CliRun run = await CliRun.Of("plan", "--airframe", folder.Session);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("ballast_options_g", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plan_ReplacesASheet_AndNothingElse()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        string other = folder.Write("other.html", "<!DOCTYPE html><title>mine</title>"), sheet = Path.Combine(folder.Root, "sheet.html");
        string[] args = ["plan", "--airframe", folder.Session, "--wind", "5", "--flights", "2", "--out"];
        CliRun run = await CliRun.Of([.. args, other]);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("is there already and is no plan sheet", run.Messages, StringComparison.Ordinal);
        Assert.Contains("mine", await File.ReadAllTextAsync(other), StringComparison.Ordinal);
        Assert.Equal((0, 0), ((await CliRun.Of([.. args, sheet])).ExitCode, (await CliRun.Of([.. args, sheet])).ExitCode));
    }

    [Fact]
    public async Task Plan_IntoAFolder_IsWrongUsage()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        CliRun run = await CliRun.Of("plan", "--airframe", folder.Session, "--out", folder.Session);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("is a folder", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Plan_OfAFileThatIsNoResult_IsUnusable()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        string file = folder.Write("results.json", "{}");
        CliRun run = await CliRun.Of("plan", "--airframe", folder.Session, "--results", file);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("results.json", run.Messages, StringComparison.Ordinal);
    }
}

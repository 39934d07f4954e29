using System.Text;
using System.Text.Json;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Reports.Fitting;

public sealed class MassEffectTableTests(ITestOutputHelper output)
{
    private static IReadOnlyList<MassEffectEntry> Effects(LaunchKind kind = LaunchKind.Discus, params double[] ballastsG) =>
        MassEffectEntries.Of(AdviceModels.Predicted(AdviceModels.Tansy with { Launch = kind }), ballastsG, 1);

    private static string Table(IReadOnlyList<MassEffectEntry> effects, int columns)
    {
        StringBuilder text = new();
        MassEffectTable.Write(text, effects, columns);
        return text.ToString();
    }

    [Theory]
    [InlineData(40)]
    [InlineData(63)]
    [InlineData(80)]
    [InlineData(100)]
    public void Lines_StayWithinTheWidth_AndNoBallastIsLost(int columns)
    {
        string table = Table(Effects(LaunchKind.Discus, 0, 30, 60, 90), columns);
        output.WriteLine(table);
        Assert.All(table.Split('\n'), line => Assert.True(line.Length <= columns, line));
        Assert.All(["no ballast", "30 g", "60 g", "90 g"], head => Assert.Contains(head, table, StringComparison.Ordinal));
    }

    [Fact]
    public void EveryEstimate_StandsWithItsInterval()
    {
        string[] lines = Table(Effects(LaunchKind.Discus, 0, 60), 80).Split('\n');
        Assert.All(["stalls at", "sinks least at", "glides best at", "radius at", "launch height"], label =>
            Assert.Matches(@"^.*, m(/s)?( +[0-9.]+ \([0-9.]+ to [0-9.]+\)){2}$", Assert.Single(lines, l => l.StartsWith(label, StringComparison.Ordinal))));
        Assert.Matches(@"^speeds, times bare +1\.00 +1\.11$", Assert.Single(lines, l => l.StartsWith("speeds", StringComparison.Ordinal)));
        Assert.Matches(@"^launch, times bare +1\.00 +0\.90 \([0-9.]+ to [0-9.]+\)$", Assert.Single(lines, l => l.StartsWith("launch, times", StringComparison.Ordinal)));
    }

    [Fact]
    public void AWinchLaunch_HasNoHeightAndSaysWhy()
    {
        string table = Table(Effects(LaunchKind.Winch, 0, 60), 80);
        Assert.DoesNotContain("launch height", table, StringComparison.Ordinal);
        Assert.Contains("Mass alone does not tell the height of this kind of launch.", table.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public void NothingAsked_WritesNothing() => Assert.Empty(Table([], 80));

    [Fact]
    public void Entry_AsJson_HasUnitsInItsKeys_AndNullForWhatCannotBeKnown()
    {
        using JsonDocument json = JsonDocument.Parse(JsonSerializer.Serialize(Effects(LaunchKind.Winch, 60)[0], ResultsJson.Style));
        Assert.Equal(["ballast_g", "flying_mass_g", "stall_mps", "min_sink_airspeed_mps", "best_glide_airspeed_mps", "turn_radius_30_deg_m", "launch_height_m", "from",
            "speed_ratio", "launch_height_ratio", "launch_from"], json.RootElement.EnumerateObject().Select(p => p.Name));
        Assert.Equal(308, json.RootElement.GetProperty("flying_mass_g").GetDouble());
        Assert.Equal(JsonValueKind.Null, json.RootElement.GetProperty("launch_height_m").GetProperty("value").ValueKind);
        Assert.Equal(JsonValueKind.Null, json.RootElement.GetProperty("launch_from").ValueKind);
        Assert.Equal("prediction", json.RootElement.GetProperty("from").GetString());
    }

    [Fact]
    public void Entries_OfAFlownModel_SayThatTheLogbookTunedIt()
    {
        MassEffectEntry flown = MassEffectEntries.Of(ThermalTrace.Learning.SeasonModel.Tune(AdviceModels.Tansy, AdviceModels.TwoDays(), 1), [40], 1)[0];
        Assert.Equal(("logbook", "logbook"), (flown.From, flown.LaunchFrom));
        Assert.Equal("usual", Effects(LaunchKind.Discus, 40)[0].LaunchFrom);
    }
}

using System.Text.Json;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Reports.Fitting;

public sealed class MassEffectEntriesTests(ITestOutputHelper output)
{
    private static IReadOnlyList<MassEffectEntry> Effects(LaunchKind kind = LaunchKind.Discus, params double[] ballastsG) =>
        MassEffectEntries.Of(AdviceModels.Predicted(AdviceModels.Tansy with { Launch = kind }), ballastsG, 1);

    private string Basis(IReadOnlyList<MassEffectEntry> effects)
    {
        string said = EffectRow.Basis(effects);
        output.WriteLine(said);
        return said;
    }

    [Fact]
    public void Basis_SaysWhatIsSurerThanTheNumbers_AndWhatIsAssumed()
    {
        string said = Basis(Effects(LaunchKind.Discus, 0, 60));
        Assert.Contains("they are about 1.11 times those without ballast.", said, StringComparison.Ordinal); // √(308/248)
        Assert.Matches(@"a throw goes 0\.90 \(0\.[0-9]+ to 1\.0[0-9]\) times as high\.", said);
        Assert.Contains("a largest lift coefficient of 0.90 to 1.25.", said, StringComparison.Ordinal);
        Assert.Contains("Launch heights start from what is usual, in a calm.", said, StringComparison.Ordinal);
    }

    [Fact]
    public void Basis_OfAWinchLaunch_SaysNothingOfHeight() => Assert.DoesNotContain("high", Basis(Effects(LaunchKind.Winch, 0, 60)), StringComparison.Ordinal);

    [Fact]
    public void Basis_OfTheBareModelAlone_ComparesNothing() => Assert.DoesNotContain("times those", Basis(Effects(LaunchKind.Discus, 0)), StringComparison.Ordinal);

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

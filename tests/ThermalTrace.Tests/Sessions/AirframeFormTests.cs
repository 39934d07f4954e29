using CsCheck;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Sessions;

public sealed class AirframeFormTests
{
    private const string Whole = """
        // a remark
        {
          "name": "Tansy",
          "wing_span_mm": 1500, // tip to tip
          "wing_area_dm2": 22.40,
          "unballasted_mass_g": 262,
          "launch": "discus",
          "ballast_options_g": [0, 40, 80],
          "cg_limits_mm": [66, 76],
          "ballast_tube": { "bore_mm": 12, "length_mm": 120, "centre_mm": 70 },
          "ballast_stock": [ { "name": "short", "material": "brass", "mass_g": 20, "diameter_mm": 11.8, "length_mm": 22, "count": 2 }, ],
        }
        """;

    [Fact]
    public void Values_AreWhatTheFileSays()
    {
        IReadOnlyDictionary<string, string> values = AirframeForm.Values(Whole);
        Assert.Equal(("Tansy", "22.40", "0, 40, 80", "66, 76", "12"), (values["name"], values["wing_area_dm2"], values["ballast_options_g"], values["cg_limits_mm"], values["ballast_tube.bore_mm"]));
        Assert.Equal(["ballast_stock"], AirframeForm.Others(Whole));
        Assert.Empty(AirframeForm.Values(null));
    }

    [Fact]
    public void NothingTyped_ChangesNoValue()
    {
        string next = AirframeForm.Write(Whole, AirframeForm.Values(Whole), out IReadOnlyDictionary<string, string> wrong);
        Assert.Empty(wrong);
        Airframe before = Read(Whole), after = Read(next);
        Assert.Equal(before.BallastStock, after.BallastStock);
        Assert.Equal(before with { BallastStock = [], BallastOptionsG = [] }, after with { BallastStock = [], BallastOptionsG = [] });
        Assert.Contains("22.40", next, StringComparison.Ordinal);
        Assert.Equal(next, AirframeForm.Write(next, AirframeForm.Values(next), out _));
    }

    [Theory]
    [InlineData("wing_span_mm", "1.5 m", "1500")]
    [InlineData("wing_span_mm", "59in", "1498.6")]
    [InlineData("wing_span_mm", "1500", "1500")]
    [InlineData("wing_area_dm2", "0.224 m2", "22.4")]
    [InlineData("unballasted_mass_g", "9.25oz", "262.233088906")]
    [InlineData("cg_mm", "-3", "-3")]
    [InlineData("cg_mm", "−3", "-3")]
    [InlineData("cg_limits_mm", "6.6cm; 7.6cm", "66, 76")]
    [InlineData("ballast_options_g", "0 40 80", "0, 40, 80")]
    [InlineData("ballast_tube.centre_mm", "7 cm", "70")]
    public void TypedQuantity_IsInTheFilesUnit(string key, string typed, string expected)
    {
        string next = AirframeForm.Write(Whole, new Dictionary<string, string> { [key] = typed }, out IReadOnlyDictionary<string, string> wrong);
        Assert.Empty(wrong);
        Assert.Equal(expected, AirframeForm.Values(next)[key]);
    }

    [Theory]
    [InlineData("wing_span_mm", "wide", "no unit of length")]
    [InlineData("wing_span_mm", "1,5 m", "has a comma")]
    [InlineData("unballasted_mass_g", "5 m", "no unit of mass")]
    [InlineData("pitch_inertia_kg_m2", "much", "is not a number")]
    public void TypedNonsense_IsToldByItsField_AndTheValueStays(string key, string typed, string expected)
    {
        string next = AirframeForm.Write(Whole, new Dictionary<string, string> { [key] = typed }, out IReadOnlyDictionary<string, string> wrong);
        Assert.Contains(expected, wrong[key], StringComparison.Ordinal);
        Assert.Equal(AirframeForm.Values(Whole).GetValueOrDefault(key), AirframeForm.Values(next).GetValueOrDefault(key));
    }

    [Fact]
    public void EmptyText_TakesAValueOut_AndTheTubeWithItsLast()
    {
        string next = AirframeForm.Write(Whole, new Dictionary<string, string>
        {
            ["launch"] = "",
            ["ballast_tube.bore_mm"] = "",
            ["ballast_tube.length_mm"] = " ",
            ["ballast_tube.centre_mm"] = "",
        }, out _);
        Airframe after = Read(next);
        Assert.Null(after.Launch);
        Assert.Null(after.BallastTube);
        Assert.DoesNotContain("ballast_tube", next, StringComparison.Ordinal);
        Assert.Single(after.BallastStock);
    }

    [Fact]
    public void AnyName_ComesBackAsItWasTyped() =>
        Gen.String[Gen.Char, 1, 30].Where(s => s.Trim().Length > 0 && !s.Any(char.IsSurrogate)).Sample(name =>
        {
            string next = AirframeForm.Write(null, new Dictionary<string, string> { ["name"] = name, ["wing_span_mm"] = "1500", ["wing_area_dm2"] = "22", ["unballasted_mass_g"] = "260" }, out _);
            Assert.Equal(name.Trim(), Read(next).Name);
        });

    [Theory]
    [InlineData("=1+1")]
    [InlineData("\u202Enamron")]
    [InlineData("🪁 Möwe \"2\"")]
    [InlineData("</script>")]
    public void OddName_ComesBack(string name) =>
        Assert.Equal(name, AirframeForm.Values(AirframeForm.Write(Whole, new Dictionary<string, string> { ["name"] = name }, out _))["name"]);

    [Fact]
    public void Complaints_AreSortedByTheirField()
    {
        string broken = AirframeForm.Write(null, new Dictionary<string, string> { ["wing_span_mm"] = "5", ["cg_limits_mm"] = "80, 60" }, out _);
        IReadOnlyDictionary<string, string> sorted = AirframeForm.Sorted(Assert.Throws<UnusableInputException>(() => Read(broken)).Message);
        Assert.Equal(["cg_limits_mm", "name", "unballasted_mass_g", "wing_area_dm2", "wing_span_mm"], sorted.Keys.Order(StringComparer.Ordinal));
        string tube = AirframeForm.Write(Whole, new Dictionary<string, string> { ["ballast_tube.bore_mm"] = "" }, out _);
        Assert.Equal(["ballast_tube.bore_mm"], AirframeForm.Sorted(Assert.Throws<UnusableInputException>(() => Read(tube)).Message).Keys);
    }

    [Theory]
    [InlineData("[1]")]
    [InlineData("{")]
    [InlineData("{ \"name\": 1, \"name\": 2 }")]
    public void FileThatIsNoObject_IsNotWrittenOver(string text) =>
        Assert.Throws<UnusableInputException>(() => AirframeForm.Write(text, new Dictionary<string, string> { ["name"] = "x" }, out _));

    [Fact]
    public void EveryKeyThatAnAirframeHas_IsAFieldOrKept()
    {
        // A key that the reader knows and the form forgot would be shown nowhere.
        string[] known = [.. AirframeForm.Fields.Select(f => f.Key.Split('.')[0]).Distinct(), "ballast_stock"];
        UnusableInputException unknown = Assert.Throws<UnusableInputException>(() => Read("{ \"zzz\": 1 }"));
        Assert.Contains("zzz", unknown.Message, StringComparison.Ordinal);
        Assert.All(known, key => Assert.DoesNotContain($"unknown key \"{key}\"", Message($"{{ \"{key}\": 1 }}"), StringComparison.Ordinal));
        Assert.Equal(typeof(Airframe).GetProperties().Count(p => p.CanWrite) - 1, known.Length);
    }

    private static string Message(string text) => Assert.Throws<UnusableInputException>(() => Read(text)).Message;

    private static Airframe Read(string text) => AirframeFile.Read(new StringReader(text), AirframeFile.Name);
}

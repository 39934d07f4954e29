using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Sessions;

public sealed class AirframeFileTests
{
    private const string Full = """
        // A model of our own invention.
        {
          "name": "Tansy 150", /* the blue one */
          "wing_span_mm": 1500,
          "wing_area_dm2": 22.5,
          "unballasted_mass_g": 262,
          "max_flying_mass_g": 400,
          "launch": "discus",
          "ballast_options_g": [60, 0, 30,],
          "cg_mm": 72, "cg_limits_mm": [66, 76],
          "mean_chord_mm": 150, "neutral_point_mm": 84.5,
          "pitch_inertia_kg_m2": 0.0031,
          "ballast_tube": { "bore_mm": 12, "length_mm": 120, "centre_mm": 70 },
          "ballast_stock": [
            { "name": "short", "material": "brass", "mass_g": 20, "diameter_mm": 11.8, "length_mm": 22, "count": 2 },
          ],
          "airfoil_polar": "section.csv",
        }
        """;

    [Fact]
    public void EveryKeyOfTheContract_IsRead()
    {
        Airframe airframe = Read(Full, name => name == "section.csv" ? "reynolds;cl;cd\n1e5;0,3;0,0164\n1e5;0,88;0,0234\n1e5;1,179;0,0207\n" : null);
        Assert.Equal("Tansy 150", airframe.Name);
        Assert.Equal((1500, 22.5, 262), (airframe.WingSpanMm, airframe.WingAreaDm2, airframe.UnballastedMassG));
        Assert.Equal(10, airframe.AspectRatio, 1e-12);
        Assert.Equal(400, airframe.MaxFlyingMassG);
        Assert.Equal(LaunchKind.Discus, airframe.Launch);
        Assert.Equal([0, 30, 60], airframe.BallastOptionsG);
        Assert.Equal((66, 76), airframe.CgLimitsMm);
        Assert.Equal((72, 150, 84.5), (airframe.CgMm, airframe.MeanChordMm, airframe.NeutralPointMm));
        Assert.Equal(0.0031, airframe.PitchInertiaKgM2);
        Assert.Equal(new BallastTube(12, 120, 70), airframe.BallastTube);
        Assert.Equal([new BallastPiece("short", "brass", 20, 11.8, 22, 2)], airframe.BallastStock);
        Assert.Equal([0.3, 0.88, 1.179], airframe.AirfoilPolar!.Cl);
        Assert.Equal([0.0164, 0.0234, 0.0207], airframe.AirfoilPolar.Cd);
    }

    [Fact]
    public void TheRequiredKeysAlone_AreEnough()
    {
        Airframe airframe = Read("\uFEFF{\"name\":\"a\",\"wing_span_mm\":1e3,\"wing_area_dm2\":15,\"unballasted_mass_g\":200}");
        Assert.Empty(airframe.BallastOptionsG);
        Assert.Empty(airframe.BallastStock);
        Assert.Null(airframe.MaxFlyingMassG);
        Assert.Null(airframe.Launch);
        Assert.Null(airframe.CgLimitsMm);
        Assert.Null(airframe.BallastTube);
        Assert.Null(airframe.AirfoilPolar);
    }

    [Fact]
    public void SeveralMistakes_AreAllSaidAtOnce()
    {
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() =>
            Read("{\n\"name\": 3,\n\"wing_span\": 1500,\n\"wing_area_dm2\": [],\n\"unballasted_mass_g\": 200 }"));
        Assert.Equal("""
            airframe.json:2: name is the number 3; expected the model's name in double quotes
            airframe.json:1: there is no "wing_span_mm"; expected a number from 100 to 20000 mm
            airframe.json:4: wing_area_dm2 is a list [ … ]; expected a number from 0.5 to 2000 dm²
            airframe.json:3: unknown key "wing_span"; did you mean "wing_span_mm"?
            """.ReplaceLineEndings("\n"), wrong.Message);
    }

    [Fact]
    public void LinesEndedByCrLf_AreCountedOnce()
    {
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() => Read("{\r\n\r\n\"nam\": \"a\" }"));
        Assert.Contains("airframe.json:3: unknown key \"nam\"; did you mean \"name\"?", wrong.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AnEndlessFile_IsRefusedWithoutReadingIt()
    {
        using EndlessReader endless = new();
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() => AirframeFile.Read(endless, "airframe.json"));
        Assert.Contains("is larger than 1 MB", wrong.Message, StringComparison.Ordinal);
    }

    // 40 g in 6 x 20 mm would be 71 g/cm3, three times any metal: one figure is in another unit or slipped.
    [Theory]
    [InlineData("\"mass_g\": 40, \"diameter_mm\": 6, \"length_mm\": 20", "mass_g 40, diameter_mm 6 and length_mm 20 do not go together; they make 70.7 g/cm³, and no metal has more than 22.7")]
    [InlineData("\"mass_g\": 20, \"diameter_mm\": 1.18, \"length_mm\": 2.2", "do not go together")]
    public void APieceDenserThanAnyMetal_IsRefusedWithItsLine(string figures, string expected)
    {
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() => Read(WithPiece(figures)));
        Assert.StartsWith("airframe.json:2: ballast_stock: mass_g ", wrong.Message, StringComparison.Ordinal);
        Assert.Contains(expected, wrong.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("\"mass_g\": 75.6, \"diameter_mm\": 10, \"length_mm\": 50")] // tungsten, 19.25 g/cm3 (handbooks)
    [InlineData("\"mass_g\": 0.1, \"diameter_mm\": 1.0, \"length_mm\": 5.0")] // tungsten of 1.04 mm, each figure rounded to a tenth
    [InlineData("\"mass_g\": 5, \"diameter_mm\": 10, \"length_mm\": 50")] // wood
    public void APieceThatCanBe_IsRead(string figures) => Assert.Single(Read(WithPiece(figures)).BallastStock);

    // In g m2 instead of kg m2.
    [Fact]
    public void APitchInertiaOfAnotherUnit_IsRefusedWithItsLine()
    {
        UnusableInputException wrong = Assert.Throws<UnusableInputException>(() => Read(Full.Replace("\"pitch_inertia_kg_m2\": 0.0031", "\"pitch_inertia_kg_m2\": 3.1", StringComparison.Ordinal), _ => "reynolds;cl;cd\n1e5;0,3;0,0164\n1e5;0,88;0,0234\n1e5;1,179;0,0207\n"));
        Assert.Equal("airframe.json:12: pitch_inertia_kg_m2 3.1 does not go with unballasted_mass_g 262 and wing_span_mm 1500; expected about 0.0059, is it in kg m²?", wrong.Message);
    }

    // Useless or unwise, and possible all the same: an airframe must still be debriefed with it.
    [Theory]
    [InlineData("\"cg_limits_mm\": [66, 76]", "\"cg_limits_mm\": [60, 64]")]
    [InlineData("\"neutral_point_mm\": 84.5", "\"neutral_point_mm\": 60")]
    [InlineData("\"bore_mm\": 12", "\"bore_mm\": 5")]
    [InlineData("\"length_mm\": 120", "\"length_mm\": 10")]
    [InlineData("[60, 0, 30,]", "[900, 0]")]
    public void AnAirframeOfNoUseForBallast_IsReadAllTheSame(string from, string to)
    {
        string changed = Full.Replace(from, to, StringComparison.Ordinal).Replace("\"airfoil_polar\": \"section.csv\",", "", StringComparison.Ordinal);
        Assert.Contains(to, changed, StringComparison.Ordinal);
        Assert.Equal("Tansy 150", Read(changed).Name);
    }

    private static string WithPiece(string figures) =>
        "{\"name\":\"a\",\"wing_span_mm\":1e3,\"wing_area_dm2\":15,\"unballasted_mass_g\":200,\n\"ballast_stock\": [ { \"name\": \"p\", \"material\": \"m\", " + figures + ", \"count\": 1 } ] }";

    private static Airframe Read(string text, Func<string, string?>? beside = null)
    {
        using StringReader reader = new(text);
        return AirframeFile.Read(reader, "airframe.json", name => beside?.Invoke(name) is { } content ? new StringReader(content) : null);
    }
}

/// <summary>Blanks without an end.</summary>
internal sealed class EndlessReader : TextReader
{
    public override int Read(char[] buffer, int index, int count)
    {
        buffer.AsSpan(index, count).Fill(' ');
        return count;
    }
}

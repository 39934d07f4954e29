using CsCheck;
using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Ballast;

public sealed class MaterialsTests
{
    // A cylinder of 10 x 50 mm, 3.926991 cm³, times handbook densities at 20 °C: lead 11.34 (CRC, from memory; tables), brass C36000 8.49 (Copper Development Association,
    // from memory), tungsten 19.25 (CRC, from memory), heavy alloy class 1 17.0 (ASTM B777, from memory), steel 7.85 (tables).
    [Theory]
    [InlineData("lead", 44.532)]
    [InlineData("brass", 33.340)]
    [InlineData("tungsten", 75.595)]
    [InlineData("tungsten alloy 17.0", 66.759)]
    [InlineData("steel", 30.827)]
    public void Cylinder_OfTenByFiftyMillimetres_WeighsWhatTheHandbooksSay(string material, double expectedG) =>
        Assert.Equal(expectedG, Materials.CylinderG(Materials.Find(material)!.DensityGCm3, 10, 50), 0.0005);

    // Rolled brass 8.43 to 8.73 (tables); tungsten 19.25 to 19.3 (CRC, from memory); ASTM B777 classes 1 to 4, nominal (from memory).
    [Fact]
    public void Bounds_HoldWhatTablesGive()
    {
        Assert.Equal((8.43, 8.73), (Materials.Brass.LowGCm3, Materials.Brass.HighGCm3));
        Assert.True(Materials.Tungsten.LowGCm3 <= 19.25 && Materials.Tungsten.HighGCm3 == 19.3);
        Assert.Equal([17.0, 17.5, 18.0, 18.5], Materials.AlloyClasses.Select(m => m.DensityGCm3));
        Assert.All(Materials.All, m => Assert.True(m.LowGCm3 <= m.DensityGCm3 && m.DensityGCm3 <= m.HighGCm3, m.Name));
        Assert.All(Materials.AlloyClasses, c => Assert.True(c.LowGCm3 >= Materials.TungstenAlloy.LowGCm3 && c.HighGCm3 <= Materials.TungstenAlloy.HighGCm3));
    }

    // Two per cent by mass of lanthana, 6.51 g/cm³ (from memory), in tungsten: masses over volumes.
    [Fact]
    public void TungstenWithOxide_IsWithinItsBounds() => Assert.InRange(1 / (0.98 / 19.25 + 0.02 / 6.51), Materials.Tungsten.LowGCm3, Materials.Tungsten.DensityGCm3);

    // Common practice: brass is lighter than lead, lead than tungsten.
    [Fact]
    public void Densities_AreInTheOrderOfTheTrade() => Assert.True(Materials.Brass.HighGCm3 < Materials.Lead.LowGCm3 && Materials.Lead.HighGCm3 < Materials.TungstenAlloy.LowGCm3);

    [Theory]
    [InlineData("Lead", "lead")]
    [InlineData("brass rod", "brass")]
    [InlineData(" TUNGSTEN ", "tungsten")]
    [InlineData("tungsten alloy", "tungsten alloy")]
    [InlineData("tungsten-alloy", "tungsten alloy")]
    [InlineData("heavy alloy", "tungsten alloy")]
    [InlineData("Tungsten alloy 17.5", "tungsten alloy 17.5")]
    [InlineData("tungsten alloy class 4", "tungsten alloy 18.5")]
    [InlineData("stainless steel", "steel")]
    [InlineData("leading edge", null)]
    [InlineData("brass and lead", null)]
    [InlineData("", null)]
    [InlineData("<b>gold</b>", null)]
    public void Find_TakesThePilotsWord(string text, string? expected) => Assert.Equal(expected, Materials.Find(text)?.Name);

    [Fact]
    public void Length_OfAMass_IsThatOfTheMassOfTheLength() =>
        Gen.Select(Gen.Double[1, 23], Gen.Double[0.5, 50], Gen.Double[1, 500]).Sample((density, diameter, length) =>
            Math.Abs(Materials.CylinderLengthMm(density, diameter, Materials.CylinderG(density, diameter, length)) - length) < 1e-9 * length);

    [Fact]
    public void Piece_DenserThanItsMaterialCanBe_IsNamed()
    {
        // 10 x 50 mm of lead weigh 44.5 g.
        string? caution = Materials.PieceDensityCaution(new BallastPiece("long one", "lead", 60, 10, 50, 1));
        Assert.Equal("\"long one\" of ballast_stock would have 15.3 g/cm3, and lead has at most 11.35: check its mass_g, diameter_mm and length_mm.", caution);
        Assert.Contains("no metal that can be bought has more than 19.3", Materials.PieceDensityCaution(new BallastPiece("x", "mystery", 100, 10, 50, 1)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("lead", 44.5)]
    [InlineData("lead", 30)] // with a hole in it
    [InlineData("mystery", 75)]
    [InlineData("brass", 34.4)]
    public void Piece_AsDenseAsItsMaterialOrLess_IsFine(string material, double massG) =>
        Assert.Null(Materials.PieceDensityCaution(new BallastPiece("p", material, massG, 10, 50, 1)));

    // A caliper shows 6.0 for 6.04 mm, and scales 15.2 for 15.16 g.
    [Fact]
    public void Piece_OffByWhatACaliperLeavesOpen_IsFine() =>
        Assert.Null(Materials.PieceDensityCaution(new BallastPiece("p", "lead", Math.Round(Materials.CylinderG(11.34, 6.04, 50.04), 1), 6.0, 50.0, 1)));
}

using System.Text.Json;
using ThermalTrace.Ballast;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Reports.Stick;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Ballast;

namespace ThermalTrace.Tests.Reports.Stick;

public sealed class StickDocumentTests
{
    internal static readonly Airframe Tansy = StickMakerTests.Tansy;

    internal static StickDocument Run(Airframe? airframe = null, double grams = 45, double forward = 0, double? diameter = null, params Material[] materials) =>
        BallastStick.Run(Season.Tune(airframe ?? Tansy, []), new StickAsked { BallastG = grams, CgForwardMm = forward, DiameterMm = diameter, Materials = materials.Length > 0 ? materials : Materials.Usual });

    [Fact]
    public void Json_HasTheContractsKeys()
    {
        using JsonDocument json = JsonDocument.Parse(JsonSerializer.Serialize(Run(), ResultsJson.Style));
        Assert.Equal("thermaltrace.stick/1", json.RootElement.GetProperty("schema").GetString());
        Assert.Equal(45, json.RootElement.GetProperty("ballast_asked_g").GetDouble());
        JsonElement option = json.RootElement.GetProperty("options")[0];
        foreach (string key in (string[])["density_g_cm3", "diameter_mm", "length_mm", "centre_mm", "mass_g", "cg_shift_mm", "pitch_inertia_added_kg_m2",
            "length_mm_low", "length_mm_high", "density_g_cm3_low", "density_g_cm3_high", "pitch_inertia_added_kg_m2_low", "pitch_inertia_added_kg_m2_high"])
        {
            Assert.Equal(JsonValueKind.Number, option.GetProperty(key).ValueKind);
        }
        Assert.Equal("tungsten", option.GetProperty("material").GetString());
        Assert.Equal(JsonValueKind.Array, option.GetProperty("cautions").ValueKind);
    }

    // A tube with room for long rods beside short slugs: the rods' wide intervals must not round the slugs' to nothing.
    [Fact]
    public void SlownessInPitch_OfACompactStick_IsNotRoundedToNothing()
    {
        StickDocument document = Run(Tansy with { BallastTube = Tansy.BallastTube! with { LengthMm = 110 } }, forward: 0.7);
        Assert.All(document.Options.Where(o => o.Fits), o => Assert.True(o.PitchPeriodRatio.Low > 1));
        Assert.DoesNotMatch(@"\(0\.0+ to", StickSummary.Write(document, 100));
    }

    [Fact]
    public void Options_AreBestFirst_AndWhatDoesNotFitLast()
    {
        StickDocument document = Run();
        Assert.Equal(("tungsten", "slug"), (document.Options[0].Material, document.Options[0].Form));
        Assert.Equal(document.Options.Count(o => o.Fits), document.Options.TakeWhile(o => o.Fits).Count());
        Assert.Equal(document.Options.Where(o => o.Fits).Select(o => o.PitchInertiaAddedKgM2), document.Options.Where(o => o.Fits).Select(o => o.PitchInertiaAddedKgM2).Order());
    }

    [Fact]
    public void Estimates_HaveTheirBounds() => Assert.All(Run().Options.Where(o => o.Fits), o =>
    {
        Assert.True(o.LengthMmLow <= o.LengthMm && o.LengthMm <= o.LengthMmHigh && o.LengthMmHigh < o.SawLengthMm);
        Assert.True(o.PitchInertiaAddedKgM2Low <= o.PitchInertiaAddedKgM2 && o.PitchInertiaAddedKgM2 <= o.PitchInertiaAddedKgM2High);
        Assert.True(o.PitchPeriodRatio.Low >= 1 && o.PitchPeriodRatio.Low < o.PitchPeriodRatio.Value && o.PitchPeriodRatio.Value < o.PitchPeriodRatio.High);
        Assert.True(o.PitchInertiaShare.Low < o.PitchInertiaShare.Value && o.PitchInertiaShare.Value < o.PitchInertiaShare.High);
    });

    [Fact]
    public void SpacersAndStick_FillTheTube() => Assert.All(Run(forward: 0.7).Options.Where(o => o.Fits), o =>
    {
        Assert.Equal(90, o.SpacerFrontMm!.Value + o.LengthMm + o.SpacerRearMm!.Value, 1e-9);
        Assert.Equal(-0.7, o.CgShiftMm!.Value, 1e-9);
        Assert.Equal(71.3, o.CgMm!.Value, 1e-9);
    });

    [Fact]
    public void Gyration_OfTheWholeStick_IsItsInertiaAboutTheCommonCentreOfGravity() => Assert.All(Run(forward: 0.7).Options.Where(o => o.Fits), o =>
    {
        // What the stick adds, less what the bare model adds by being 0.7 mm from the common centre of gravity.
        double own = o.PitchInertiaAddedKgM2!.Value - 0.248 * 0.0007 * 0.0007;
        Assert.Equal(own, 0.045 * o.GyrationMm!.Value * o.GyrationMm.Value * 1e-6, 1e-12);
        Assert.Equal(Math.Abs(o.CentreMm!.Value - o.CgMm!.Value) + o.LengthMm / 2, o.FarthestMm!.Value, 1e-9);
    });

    [Theory]
    [InlineData(45, 1.24)] // half a per cent of 248 g
    [InlineData(4, 0.4)]   // a tenth of the stick
    [InlineData(0.5, 0.1)] // no scale shows less
    public void Tolerance_IsWhatNobodyFeels(double grams, double expectedG)
    {
        StickDocument document = Run(grams: grams);
        Assert.Equal(expectedG, document.MassToleranceG, 1e-9);
        Assert.All(document.Options, o => Assert.Equal(expectedG / grams, o.LengthToleranceMm / o.LengthMm, 1e-9));
    }

    [Fact]
    public void WithoutACentreOfGravity_AllElseIsGiven_AndThatIsSaid()
    {
        StickDocument document = Run(Tansy with { CgMm = null });
        Assert.Equal(70, document.Options[0].CentreMm);
        Assert.Null(document.Options[0].CgShiftMm);
        Assert.Null(document.Options[0].PitchInertiaAddedKgM2);
        Assert.Equal(Interval.Unknown, document.Options[0].PitchPeriodRatio);
        Assert.Contains(document.Cautions, c => c.StartsWith("airframe.json gives no cg_mm", StringComparison.Ordinal));
        Assert.StartsWith("Shortest: tungsten", StickSentences.Headline(document), StringComparison.Ordinal);
    }

    [Fact]
    public void CentreOfGravity_BeyondItsLimits_IsNotToBeFlown()
    {
        StickDocument ahead = Run(Tansy with { CgMm = 71, CgLimitsMm = (71.5, 76) }), behind = Run(Tansy with { CgLimitsMm = (60, 71) });
        Assert.Contains("Not to be flown: the centre of gravity comes to 71.0 mm, ahead of the forward limit at 71.5 mm.", ahead.Options[0].Cautions);
        Assert.Contains("Not to be flown: the centre of gravity comes to 72.0 mm, behind the aft limit at 71.0 mm.", behind.Options[0].Cautions);
    }

    [Fact]
    public void WhereNothingMayBeFlown_NoStickIsCalledTheBest()
    {
        StickDocument document = Run(Tansy with { CgLimitsMm = (60, 71) });
        Assert.Null(StickSentences.Best(document));
        Assert.StartsWith("What fits the tube would put the centre of gravity beyond its limits: not to be flown.", StickSentences.Headline(document), StringComparison.Ordinal);
        string text = StickSummary.Write(document, 80);
        Assert.DoesNotContain("\n> ", text, StringComparison.Ordinal);
        Assert.Contains("\n! tungsten slug", text, StringComparison.Ordinal);
        // Once for all of them, and with what is the matter.
        Assert.Equal(2, text.ReplaceLineEndings(" ").Split("ot to be flown").Length - 1);
        Assert.Contains("behind the aft limit at 71.0 mm: tungsten slug, 72.0 mm; tungsten alloy slug, 72.0 mm;", string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        Assert.Contains("cg_mm 72 is outside cg_limits_mm [60, 71] already without ballast.", text, StringComparison.Ordinal);
    }

    // With these the sum of moments comes to a hair less than the limit.
    [Theory]
    [InlineData(0.3, 71.7)]
    [InlineData(0.8, 71.2)]
    [InlineData(1.3, 70.7)]
    public void CentreOfGravity_OnItsLimit_MayBeFlown(double forward, double limit)
    {
        StickDocument document = Run(Tansy with { CgLimitsMm = (limit, 76) }, forward: forward);
        Assert.Contains("moves", StickSentences.Shift(document.Options[0].CgShiftMm!.Value), StringComparison.Ordinal);
        Assert.True(StickSentences.MayBeFlown(document, document.Options[0]));
        Assert.DoesNotContain(document.Options[0].Cautions, c => c.StartsWith("Not to be flown", StringComparison.Ordinal));
    }

    [Fact]
    public void Drawing_OfAStickThatMayNotBeFlown_IsNotMade()
    {
        StickDocument document = Run(Tansy with { CgLimitsMm = (60, 71) });
        using StringWriter writer = new();
        Assert.False(StickPage.CanDraw(document));
        Assert.False(StickPage.WriteDrawing(writer, document));
        Assert.Equal("", writer.ToString());
    }

    [Fact]
    public void Option_WithinTheLimits_StandsBeforeOneBeyondThem()
    {
        // The tube is far back: a short stick can still lie far enough forward, a long one cannot.
        StickDocument document = Run(Tansy with { BallastTube = new BallastTube(8.2, 90, 95), CgLimitsMm = (66, 72.5) });
        StickOptionEntry[] fit = [.. document.Options.Where(o => o.Fits)];
        Assert.True(fit[0].CgMm <= 72.5);
        Assert.Contains(fit, o => o.CgMm > 72.5);
        Assert.Equal(fit.OrderByDescending(o => o.CgMm <= 72.5).Select(o => o.CgMm <= 72.5), fit.Select(o => o.CgMm <= 72.5));
    }

    [Fact]
    public void WishThatTheTubeCannotGive_IsSaid()
    {
        StickDocument document = Run(Tansy with { CgLimitsMm = (40, 76) }, forward: 20, materials: Materials.Tungsten);
        Assert.Contains(document.Options[0].Cautions, c => c.StartsWith("The tube ends too soon: the centre of gravity moves", StringComparison.Ordinal) && c.EndsWith("in place of 20.0 mm forward.", StringComparison.Ordinal));
    }

    [Fact]
    public void StickThatDoesNotFit_HasNoPlace_AndSaysWhatWould()
    {
        StickOptionEntry brass = Assert.Single(Run(materials: Materials.Brass).Options);
        Assert.False(brass.Fits);
        Assert.Equal((null, null, null), (brass.CentreMm, brass.CgShiftMm, brass.PitchInertiaAddedKgM2));
        Assert.Equal("Does not fit: it would be 105.4 (102.5 to 107.5) mm long and the tube takes 89.0 mm. At most 38.0 (37.2 to 39.1) g go in at 8 mm.", Assert.Single(brass.Cautions));
        Assert.Equal("Does not fit: 9 mm does not go into a bore of 8.2 mm.", Assert.Single(Run(diameter: 9, materials: Materials.Lead).Options[0].Cautions));
    }

    [Theory]
    [InlineData(0.05, "is tight")]
    [InlineData(0.1, "tape")]
    [InlineData(0.25, "tape")]
    [InlineData(0.6, "heat-shrink")]
    [InlineData(2, "sleeves")]
    [InlineData(-0.2, "does not go in")]
    public void Rattle_IsKeptDownByWhatFillsTheRoom(double gapMm, string expected) => Assert.Contains(expected, StickSentences.Packing(gapMm), StringComparison.Ordinal);

    [Fact]
    public void Cautions_OfLeadAndDust_StandWhereTheMaterialIsOne_AndOnce()
    {
        StickDocument all = Run();
        Assert.Single(all.Cautions, c => c.StartsWith("Lead is poisonous", StringComparison.Ordinal));
        Assert.Single(all.Cautions, c => c.Contains("dust of brass or tungsten either", StringComparison.Ordinal));
        Assert.DoesNotContain(Run(materials: Materials.Steel).Cautions, c => c.Contains("poisonous", StringComparison.Ordinal) || c.Contains("dust", StringComparison.Ordinal));
        Assert.Contains("Do not breathe the dust of brass: saw and file it wet or with a mask, and wipe up.", BallastCautions.ByMaterial(["Brass tube"]));
        Assert.Contains(BallastCautions.ByMaterial(["unobtainium"]), c => c.StartsWith("Look up what the dust", StringComparison.Ordinal));
        Assert.Empty(BallastCautions.ByMaterial([]));
    }

    [Fact]
    public void Cautions_OfTheLaunch_AreItsOwn()
    {
        Assert.Contains(BallastCautions.ForLaunch(LaunchKind.Discus), c => c.Contains("circle clear", StringComparison.Ordinal));
        Assert.Contains(BallastCautions.ForLaunch(LaunchKind.Winch), c => c.Contains("winch", StringComparison.Ordinal));
        Assert.All(Enum.GetValues<LaunchKind>().Cast<LaunchKind?>().Append(null), l => Assert.NotEmpty(BallastCautions.ForLaunch(l)));
    }

    [Fact]
    public void Tables_AreNoWiderThanTheTerminal()
    {
        StickDocument document = Run(forward: 0.7);
        foreach (int width in (int[])[60, 80, 100])
        {
            Assert.All(StickSummary.Write(document, width).Split('\n'), line => Assert.True(line.Length <= width, $"{width}: {line}"));
        }
        Assert.Contains("pitch slower", StickSummary.Write(document, 80), StringComparison.Ordinal);
    }
}

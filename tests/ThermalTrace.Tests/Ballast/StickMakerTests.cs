using CsCheck;
using ThermalTrace.Ballast;
using ThermalTrace.Decisions;
using ThermalTrace.Sessions;
using ThermalTrace.Units;
using BuiltStick = ThermalTrace.Ballast.Stick;

namespace ThermalTrace.Tests.Ballast;

public sealed class StickMakerTests
{
    internal static readonly BallastTube Tube = new(8.2, 90, 70);

    internal static readonly Airframe Tansy = new()
    {
        Name = "Tansy 150",
        WingSpanMm = 1500,
        WingAreaDm2 = 21.3,
        UnballastedMassG = 248,
        MaxFlyingMassG = 420,
        Launch = LaunchKind.Discus,
        CgMm = 72,
        CgLimitsMm = (66, 76),
        BallastTube = Tube,
    };

    private static IReadOnlyList<BuiltStick> Make(double grams, double forward = 0, BallastTube? tube = null, double? diameter = null, params Material[] materials) =>
        StickMaker.Make(Tansy, tube ?? Tube, new StickAsked { BallastG = grams, CgForwardMm = forward, DiameterMm = diameter, Materials = materials.Length > 0 ? materials : Materials.Usual });

    [Theory]
    [InlineData(8.2, 8)]
    [InlineData(8.0, 7.5)]
    [InlineData(10, 9.5)]
    [InlineData(20.7, 20.5)]
    [InlineData(0.6, 0.4)]
    public void Slug_IsTheThickestRodSoldThatSlides(double bore, double expected) => Assert.Equal(expected, StickMaker.SlugMm(bore), 1e-9);

    // 75.595 g of tungsten are 50 mm long at 10 mm (CRC density, from memory, times the cylinder's volume).
    [Fact]
    public void Length_IsMassOverDensityAndArea()
    {
        BuiltStick stick = Assert.Single(Make(75.595, tube: new BallastTube(10.5, 60, 70), diameter: 10, materials: Materials.Tungsten));
        Assert.Equal(50, stick.LengthMm.Value, 0.001);
        Assert.True(stick.LengthMm.Low < stick.LengthMm.Value && stick.LengthMm.High > stick.LengthMm.Value);
        Assert.True(stick.Fits);
    }

    [Fact]
    public void Rod_IsThinnerThanTheSlug_AndFitsHoweverLightItsMetal() => Gen.Select(Gen.Double[5, 120], Gen.Double[4, 15], Gen.Double[40, 200]).Sample((grams, bore, length) =>
    {
        BallastTube tube = new(bore, length, 70);
        IReadOnlyList<BuiltStick> sticks = Make(grams, tube: tube);
        Assert.All(sticks.Where(s => s.Form == StickForm.Rod), rod =>
        {
            BuiltStick slug = sticks.Single(s => s.Form == StickForm.Slug && s.Material == rod.Material);
            Assert.True(rod.DiameterMm < slug.DiameterMm && rod.LengthMm.Value > slug.LengthMm.Value);
            Assert.True(rod.Fits && rod.LengthMm.High <= StickMaker.UsableMm(tube));
            Assert.Equal(0, rod.DiameterMm % StickMaker.RodStepMm, 1e-9);
            // The next thinner one would not.
            Assert.True(rod.DiameterMm <= StickMaker.RodStepMm || Make(grams, tube: tube, diameter: rod.DiameterMm - StickMaker.RodStepMm, materials: rod.Material)[0].LengthMm.High > StickMaker.UsableMm(tube));
        });
    }, iter: 300);

    [Fact]
    public void Stick_LiesWithinItsTube_AndMovesTheCentreOfGravityAsWishedWhereItCan() =>
        Gen.Select(Gen.Double[5, 80], Gen.Double[-3, 3], Gen.Double[50, 90]).Sample((grams, forward, tubeCentre) =>
        {
            BallastTube tube = new(8.2, 90, tubeCentre);
            foreach (BuiltStick stick in Make(grams, forward, tube).Where(s => s.Fits))
            {
                double play = (StickMaker.UsableMm(tube) - stick.LengthMm.Value) / 2, shift = MassBalance.CgMm(248, 72, [stick.Placed(grams)]) - 72;
                Assert.True(Math.Abs(stick.CentreMm - tubeCentre) <= play + 1e-9);
                // Short of the wish only where it lies at an end.
                Assert.True(Math.Abs(shift + forward) < 1e-9 || Math.Abs(Math.Abs(stick.CentreMm - tubeCentre) - play) < 1e-9);
            }
        }, iter: 300);

    [Fact]
    public void Stick_LongerThanItsTube_DoesNotFit_AndTheMostThatWouldIsGiven()
    {
        BuiltStick brass = Make(45, materials: Materials.Brass)[0];
        Assert.False(brass.Fits);
        Assert.True(double.IsNaN(brass.CentreMm));
        // 89 mm of 8 mm brass: 8.49 g/cm³ x 4.4736 cm³.
        Assert.Equal(37.98, brass.MostMassG.Value, 0.005);
        Assert.True(Make(brass.MostMassG.Value - 0.01, materials: Materials.Brass)[0].Fits);
        Assert.False(Make(brass.MostMassG.Value + 0.01, materials: Materials.Brass)[0].Fits);
    }

    [Fact]
    public void Rod_ThickerThanTheBore_DoesNotGoIn()
    {
        BuiltStick stick = Make(10, diameter: 9, materials: Materials.Lead)[0];
        Assert.False(stick.Fits);
        Assert.Equal(0, stick.MostMassG.Value);
    }

    // Rod about its middle m L²/12: 60 g and 60 mm 1.8e-5 kg m², and 6 mm from the centre of gravity of 260 g m M/(m + M) d² more: 1.9755e-5 (parallel axes; a thin rod).
    [Fact]
    public void Inertia_OfARodOffTheCentreOfGravity_IsThatOfTheParallelAxes()
    {
        BuiltStick thin = new(Materials.Lead, StickForm.Rod, 0, new(60, 60, 60), new(60, 60, 60), true, 66);
        Assert.Equal(1.9755e-5, MassBalance.AddedKgM2(260, 72, [thin.Placed(60)]), 5e-10);
    }

    // 60 g let go at 30 m/s on a circle of 1.45 m: 0.06 x 900 / 1.45 = 37.2414 N, 63.29 times its weight of 0.588399 N (closed form).
    [Fact]
    public void Throw_PullsWithMassTimesSpeedSquaredOverRadius()
    {
        Assert.Equal(37.2414, ThrowLoad.PullN(0.06, 30, 1.45), 5e-5);
        ThrowLoad load = ThrowLoad.Of(Tansy, new StickAsked { BallastG = 60 }, null)!;
        Assert.Equal((30, 1.45), (load.SpeedMps.Value, Math.Round(load.RadiusM.Value, 9)));
        Assert.Equal(37.2414, load.ForceN.Value, 5e-5);
        Assert.Equal(63.29, load.Weights.Value, 0.005);
        Assert.Equal(0.06 * 25 * 25 / 1.55, load.ForceN.Low, 1e-9);
        Assert.Equal(0.06 * 35 * 35 / 1.35, load.ForceN.High, 1e-9);
    }

    // 45 (40 to 50) m: v = √(2 · 9.80665 h/share), 0.75 (0.9 to 0.6) of the energy becoming height (closed form).
    [Fact]
    public void Throw_OfLaunchesThatWereSeen_IsAsFastAsThrowsSoHigh()
    {
        ThrowLoad load = ThrowLoad.Of(Tansy, new StickAsked { BallastG = 60 }, new Band(45, 40, 50))!;
        Assert.Equal(34.304, load.SpeedMps.Value, 5e-4);
        Assert.Equal(29.525, load.SpeedMps.Low, 5e-4);
        Assert.Equal(40.428, load.SpeedMps.High, 5e-4);
    }

    [Fact]
    public void Throw_TakesThePilotsSpeedAndRadius_WithTheirBounds()
    {
        ThrowLoad load = ThrowLoad.Of(Tansy, new StickAsked { BallastG = 60, ThrowSpeedMps = (28, 28), ThrowRadiusM = (1.3, 1.5) }, new Band(55, 50, 60))!;
        Assert.Equal((25.2, 30.8), (Math.Round(load.SpeedMps.Low, 9), Math.Round(load.SpeedMps.High, 9)));
        Assert.Equal((1.3, 1.4, 1.5), (load.RadiusM.Low, Math.Round(load.RadiusM.Value, 9), load.RadiusM.High));
        Assert.Null(ThrowLoad.Of(Tansy with { Launch = LaunchKind.Winch }, new StickAsked { BallastG = 60 }, null));
        Assert.Null(ThrowLoad.Of(Tansy with { Launch = null }, new StickAsked { BallastG = 60 }, null));
    }

    [Fact]
    public void Tube_Missing_IsSaid() => Assert.Equal(
        "airframe.json: has no ballast_tube; a stick is built for its bore, length and place: add \"ballast_tube\": { \"bore_mm\": …, \"length_mm\": …, \"centre_mm\": … }, centre_mm being that of the tube's middle aft of the wing root's leading edge",
        Assert.Throws<UnusableInputException>(() => StickChecks.Tube(Tansy with { BallastTube = null }, new StickAsked { BallastG = 45 })).Message);

    [Fact]
    public void Tube_ShorterThanItsLock_IsSaid() => Assert.Equal(
        "airframe.json: ballast_tube.length_mm is 1; with 1 mm of play for the lock nothing goes into it",
        Assert.Throws<UnusableInputException>(() => StickChecks.Tube(Tansy with { BallastTube = new BallastTube(8, 1, 70) }, new StickAsked { BallastG = 45 })).Message);

    [Theory]
    [InlineData(420, 200, "airframe.json: 200 g of ballast make 448 g, above max_flying_mass_g 420; expected at most 172 g of ballast")]
    [InlineData(248, 10, "airframe.json: 10 g of ballast make 258 g, above max_flying_mass_g 248; it leaves no room for ballast")]
    public void Ballast_BeyondTheLimit_IsSaid(double limit, double grams, string expected) => Assert.Equal(expected,
        Assert.Throws<UnusableInputException>(() => StickChecks.Tube(Tansy with { MaxFlyingMassG = limit }, new StickAsked { BallastG = grams })).Message);

    [Theory]
    [InlineData(0)]
    [InlineData(-5)]
    [InlineData(double.NaN)]
    public void Ballast_OfNothing_IsTheCallersMistake(double grams) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => StickChecks.Tube(Tansy, new StickAsked { BallastG = grams }));
}

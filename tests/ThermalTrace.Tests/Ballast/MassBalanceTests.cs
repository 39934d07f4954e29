using CsCheck;
using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Ballast;

public class MassBalanceTests
{
    // Constructed: (260·72 + 60·66)/320.
    [Fact]
    public void CentreOfGravity_OfSixtyGramsSixMillimetresAhead_MovesForwardByTheMoments() =>
        Assert.Equal(70.875, MassBalance.CgMm(260, 72, [new PlacedMass(60, 0, 60, 66)]), 1e-9);

    // Handbook of mechanics: m l²/12 of a thin rod, 60 g of 60 mm.
    [Fact]
    public void Inertia_OfAThinRod_IsTheHandbooks() => Assert.Equal(1.8e-5, MassBalance.CylinderKgM2(60, 0, 60), 1e-12);

    // Handbook of mechanics: m (3 r² + l²)/12 across the axis: 0.1 kg (3·0.01² + 0.03²)/12 = 1e-5.
    [Fact]
    public void Inertia_OfACylinderAcrossItsAxis_IsTheHandbooks() => Assert.Equal(1e-5, MassBalance.CylinderKgM2(100, 20, 30), 1e-12);

    // Parallel axes of two bodies: 1.8e-5 + 0.26·0.06/0.32 · 0.006².
    [Fact]
    public void AddedInertia_OfARodAwayFromTheCentreOfGravity_HasTheParallelAxisTerm() =>
        Assert.Equal(1.9755e-5, MassBalance.AddedKgM2(260, 72, [new PlacedMass(60, 0, 60, 66)]), 1e-12);

    // 2 · 0.03 · 0.06².
    [Fact]
    public void AddedInertia_OfTwoPointsEitherSide_IsTheirDistanceSquared() =>
        Assert.Equal(2.16e-4, MassBalance.AddedKgM2(260, 72, [new PlacedMass(30, 0, 0, 12), new PlacedMass(30, 0, 0, 132)]), 1e-12);

    [Fact]
    public void Ballast_WhereTheWishNeedsIt_MovesTheCentreOfGravityByTheWish() => Gen.Select(Gen.Double[100, 5000], Gen.Double[1, 900], Gen.Double[-3, 3], Gen.Double[-50, 150])
        .Sample((bare, ballast, shift, cg) => Math.Abs(MassBalance.CgMm(bare, cg, [new PlacedMass(ballast, 8, 40, MassBalance.CentroidForMm(bare, cg, ballast, shift))]) - cg - shift) < 1e-9);

    [Fact]
    public void AddedInertia_WithTheDatumMoved_StaysTheSame() => Gen.Select(Gen.Double[5, 60], Gen.Double[10, 120], Gen.Double[-500, 500]).Sample((mass, place, moved) =>
    {
        double here = MassBalance.AddedKgM2(262, 72, [new PlacedMass(mass, 9, 20, place)]), there = MassBalance.AddedKgM2(262, 72 + moved, [new PlacedMass(mass, 9, 20, place + moved)]);
        return Math.Abs(here - there) < 1e-12;
    });

    [Fact]
    public void StaticMargin_IsTheDistanceToTheNeutralPointInChords()
    {
        Airframe airframe = new() { Name = "Teasel", WingSpanMm = 1500, WingAreaDm2 = 22, UnballastedMassG = 262, MeanChordMm = 150, NeutralPointMm = 84 };
        Assert.Equal(8, MassBalance.StaticMarginPercent(airframe, 72)!.Value, 1e-9);
        Assert.Equal(48, MassBalance.ChordPercent(airframe, 72)!.Value, 1e-9);
        Assert.Null(MassBalance.StaticMarginPercent(airframe with { NeutralPointMm = null }, 72));
    }

    [Fact]
    public void PeriodRatio_OfAKnownInertia_IsTheRootOfTheShareAdded()
    {
        Airframe airframe = new() { Name = "Teasel", WingSpanMm = 1500, WingAreaDm2 = 22, UnballastedMassG = 262, PitchInertiaKgM2 = 0.006 };
        Assert.Equal(Math.Sqrt(1.21), PitchResponse.PeriodRatio(airframe, 0.21 * 0.006).Value, 1e-12);
        Assert.True(PitchResponse.PeriodRatio(airframe with { PitchInertiaKgM2 = null }, 1e-3) is { Low: > 1, High: var high } wide && high > wide.Value && wide.Value > wide.Low);
    }
}

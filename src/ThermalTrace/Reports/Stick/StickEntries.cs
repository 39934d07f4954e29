using ThermalTrace.Ballast;
using ThermalTrace.Decisions;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports.Stick;

/// <summary>The document from the sticks found.</summary>
internal static class StickEntries
{
    // Beyond a tenth of its own mass a stick is not what is written on it, whatever the model feels. Common practice, no source.
    private const double MostTolerance = 0.1;

    public static StickDocument Of(Airframe airframe, BallastTube tube, StickAsked asked, IReadOnlyList<Ballast.Stick> sticks, ThrowLoad? load, bool launchesSeen, IReadOnlyList<MassEffectEntry> effects)
    {
        double tolerance = ToleranceG(airframe, asked);
        return new StickDocument
        {
            Program = DocumentBuilder.Program,
            Airframe = DocumentBuilder.Airframe(airframe),
            Tube = FittingEntries.Tube(airframe)!,
            BallastAskedG = asked.BallastG,
            FlyingMassG = airframe.UnballastedMassG + asked.BallastG,
            CgForwardMm = asked.CgForwardMm,
            BareCgMm = airframe.CgMm,
            CgLimitsMm = FittingEntries.Limits(airframe),
            BarePitchInertiaKgM2 = Of(PitchResponse.BareKgM2(airframe)),
            BarePitchInertiaGiven = airframe.PitchInertiaKgM2 is not null,
            MassToleranceG = tolerance,
            Options =
            [
                .. sticks.Select(s => Option(airframe, tube, asked, s, tolerance)).OrderByDescending(o => o.Fits).ThenByDescending(o => WithinLimits(airframe, o.CgMm))
                    .ThenByDescending(o => AsWished(asked, o)).ThenBy(o => o.PitchInertiaAddedKgM2 ?? double.PositiveInfinity).ThenBy(o => o.LengthMm),
            ],
            ThrowLoad = load is null ? null
                : new ThrowLoadEntry(Of(load.SpeedMps), asked.ThrowSpeedMps is not null, Of(load.RadiusM), asked.ThrowRadiusM is not null, Of(load.ForceN), Of(load.Weights)) { SpeedFromLaunches = launchesSeen && asked.ThrowSpeedMps is null },
            Effects = effects,
            Cautions =
            [
                .. StickSentences.Unknown(airframe), .. BallastCautions.Always, .. BallastCautions.ForLaunch(airframe.Launch),
                .. BallastCautions.ByMaterial(sticks.Select(s => s.Material.Name)),
            ],
        };
    }

    /// <summary>To what a stick is filed, g: what nobody feels, and never finer than a scale shows.</summary>
    internal static double ToleranceG(Airframe airframe, StickAsked asked) =>
        Math.Max(FitTolerances.ScaleG, Math.Min(FitTolerances.RightMassG(airframe.UnballastedMassG), MostTolerance * asked.BallastG));

    private static StickOptionEntry Option(Airframe airframe, BallastTube tube, StickAsked asked, Ballast.Stick stick, double toleranceG)
    {
        double mass = asked.BallastG, gap = StickMaker.GapMm(tube, stick.DiameterMm), front = tube.CentreMm - tube.LengthMm / 2, half = stick.LengthMm.Value / 2;
        double toleranceMm = stick.LengthMm.Value * toleranceG / mass;
        Balance balance = stick.Fits && airframe.CgMm is { } bare ? Balanced(airframe, bare, stick, mass) : Balance.Unknown;
        StickOptionEntry entry = new()
        {
            Material = stick.Material.Name,
            DensityGCm3 = stick.Material.DensityGCm3,
            DensityGCm3Low = stick.Material.LowGCm3,
            DensityGCm3High = stick.Material.HighGCm3,
            Form = stick.Form == StickForm.Slug ? "slug" : "rod",
            Fits = stick.Fits,
            DiameterMm = stick.DiameterMm,
            LengthMm = stick.LengthMm.Value,
            LengthMmLow = stick.LengthMm.Low,
            LengthMmHigh = stick.LengthMm.High,
            CentreMm = Known(stick.CentreMm),
            MassG = mass,
            MostMassG = stick.MostMassG.Value,
            MostMassGLow = stick.MostMassG.Low,
            MostMassGHigh = stick.MostMassG.High,
            SawLengthMm = stick.LengthMm.High + toleranceMm,
            LengthToleranceMm = toleranceMm,
            RadialGapMm = gap,
            Packing = StickSentences.Packing(gap),
            SpacerFrontMm = Known(stick.CentreMm - half - front),
            SpacerRearMm = Known(front + tube.LengthMm - stick.CentreMm - half),
            CgMm = Known(balance.CgMm),
            CgChordPercent = stick.Fits && balance.CgMm is not double.NaN ? MassBalance.ChordPercent(airframe, balance.CgMm) : null,
            CgShiftMm = Known(balance.ShiftMm),
            StaticMarginPercent = MassBalance.StaticMarginPercent(airframe, Known(balance.CgMm)),
            PitchInertiaAddedKgM2 = Known(balance.AddedKgM2.Value),
            PitchInertiaAddedKgM2Low = Known(balance.AddedKgM2.Low),
            PitchInertiaAddedKgM2High = Known(balance.AddedKgM2.High),
            PitchInertiaShare = Of(balance.Share),
            PitchPeriodRatio = Of(balance.PeriodRatio),
            GyrationMm = Known(balance.GyrationMm),
            FarthestMm = Known(balance.FarthestMm),
            Cautions = [],
        };
        return entry with { Cautions = StickSentences.OfOption(airframe, tube, asked, entry) };
    }

    private static Balance Balanced(Airframe airframe, double bareCgMm, Ballast.Stick stick, double massG)
    {
        double bareG = airframe.UnballastedMassG;
        PlacedMass placed = stick.Placed(massG);
        double cg = MassBalance.CgMm(bareG, bareCgMm, [placed]), arm = placed.CentreMm - cg;
        double Added(double lengthMm) => MassBalance.AddedKgM2(bareG, bareCgMm, [stick.Placed(massG, lengthMm)]);
        Band added = new(Added(stick.LengthMm.Value), Added(stick.LengthMm.Low), Added(stick.LengthMm.High)), bare = PitchResponse.BareKgM2(airframe);
        return new Balance(cg, cg - bareCgMm, added, new Band(added.Value / bare.Value, added.Low / bare.High, added.High / bare.Low),
            new Band(PitchResponse.PeriodRatio(airframe, added.Value).Value, PitchResponse.PeriodRatio(airframe, added.Low).Low, PitchResponse.PeriodRatio(airframe, added.High).High),
            Math.Sqrt(MassBalance.CylinderKgM2(massG, placed.DiameterMm, placed.LengthMm) * 1e9 / massG + arm * arm), Math.Abs(arm) + placed.LengthMm / 2);
    }

    internal static bool WithinLimits(Airframe airframe, double? cgMm) =>
        cgMm is not { } cg || MassBalance.WithinLimits(cg, airframe.CgLimitsMm);

    internal static bool AsWished(StickAsked asked, StickOptionEntry option) =>
        option.CgShiftMm is not { } shift || Math.Abs(shift + asked.CgForwardMm) <= FitTolerances.RightCgMm;

    private static double? Known(double value) => double.IsFinite(value) ? value : null;

    private static Interval Of(Band band) => band.IsKnown ? new Interval(band.Value, band.Low, band.High) : Interval.Unknown;

    private sealed record Balance(double CgMm, double ShiftMm, Band AddedKgM2, Band Share, Band PeriodRatio, double GyrationMm, double FarthestMm)
    {
        public static readonly Balance Unknown = new(double.NaN, double.NaN, Band.Unknown, Band.Unknown, Band.Unknown, double.NaN, double.NaN);
    }
}

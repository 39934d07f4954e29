using ThermalTrace.Ballast;
using ThermalTrace.Decisions;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports.Balance;

/// <summary>From what was measured to the document.</summary>
internal static class BalanceEntries
{
    public static BalanceDocument Of(Airframe airframe, BalanceAsked asked)
    {
        IReadOnlyList<MeasuredMass> supports = WeighedBalance.Supports(asked);
        double expected = airframe.UnballastedMassG + asked.BallastG;
        double writtenError = WeighedBalance.WrittenMassErrorG(airframe.UnballastedMassG);
        bool measured = supports.Count > 0 || asked.BalanceAtMm is not null;
        // Balanced and not weighed: the mass of airframe.json stands in.
        IReadOnlyList<MeasuredMass> masses = asked.BalanceAtMm is { } at
            ? [new MeasuredMass(expected, at, writtenError, asked.BalanceErrorMm ?? UsualErrors.BalanceMm)]
            : supports;
        MassAndCg? weighed = measured ? WeighedBalance.Of(masses) : null;
        MassAndCg? bare = asked.BallastG == 0 ? weighed
            : measured && asked.BallastAtMm is not null ? WeighedBalance.Of([.. masses, WeighedBalance.BallastOut(asked)])
            : null;
        MassCheckEntry? check = supports.Count > 0 ? Check(weighed!.Value.MassG, expected, writtenError) : null;
        SwingEntry? swing = asked.Swing is { } s ? Swing(s, airframe, asked, supports.Count > 0 ? weighed!.Value.MassG : ExpectedG(expected, writtenError, asked), bare) : null;
        BalanceStateEntry? bareEntry = bare is { } b ? State(airframe, b, supports.Count > 0) : null;
        BalanceDocument document = new()
        {
            Program = DocumentBuilder.Program,
            Airframe = DocumentBuilder.Airframe(airframe),
            CgLimitsMm = airframe.CgLimitsMm is { } limits ? [limits.ForwardMm, limits.AftMm] : [],
            Method = supports.Count > 0 ? "readings" : measured ? "balance" : null,
            Readings = [.. asked.Readings.Select(r => new ReadingEntry(r.MassG, r.PlaceMm, WeighedBalance.ScaleErrorG(asked, r)))],
            BallastG = asked.BallastG,
            BallastAtMm = asked.BallastAtMm,
            Weighed = weighed is { } w ? State(airframe, w, supports.Count > 0) : null,
            Bare = bareEntry,
            MassCheck = check,
            Change = Change(airframe, bareEntry),
            Swing = swing,
            AirframeValues = new AirframeValuesEntry(
                check is { Explained: false } ? Rounded(weighed!.Value.MassG.Value - asked.BallastG, weighed.Value.MassG) : null,
                bare is { } known ? Rounded(known.CgMm.Value, known.CgMm) : null,
                swing?.BarePitchInertiaKgM2.Value is { } inertia ? Math.Round(inertia, BalanceSentences.InertiaDecimals(inertia)) : null),
            ErrorsTaken = BalanceSentences.ErrorsTaken(asked),
            Cautions = [],
            Limits = [],
        };
        return document with { Cautions = BalanceCautions.Of(document, airframe), Limits = BalanceCautions.Limits(document, airframe) };
    }

    private static Band ExpectedG(double expected, double writtenError, BalanceAsked asked)
    {
        double ballast = asked.BallastG > 0 ? asked.ScaleErrorG ?? UsualErrors.ScaleG : 0;
        return WeighedBalance.Around(expected, Math.Sqrt(writtenError * writtenError + ballast * ballast));
    }

    private static MassCheckEntry Check(Band weighedG, double expectedG, double writtenError)
    {
        double difference = weighedG.Value - expectedG, half = Math.Sqrt(Math.Pow((weighedG.High - weighedG.Low) / 2, 2) + writtenError * writtenError);
        return new MassCheckEntry(expectedG, PolarEntries.Interval(WeighedBalance.Around(difference, half)), Math.Abs(difference) <= half);
    }

    private static BalanceStateEntry State(Airframe airframe, MassAndCg state, bool weighed)
    {
        Band cg = state.CgMm;
        return new BalanceStateEntry
        {
            MassG = weighed ? PolarEntries.Interval(state.MassG) : Interval.Unknown,
            CgMm = PolarEntries.Interval(cg),
            CgChordPercent = Known(WeighedBalance.ChordPercent(airframe, cg)),
            CgLimits = WeighedBalance.Against(airframe.CgLimitsMm, cg) switch
            {
                LimitVerdict.Inside => "inside",
                LimitVerdict.Outside => "outside",
                LimitVerdict.CannotBeTold => "cannot_be_told",
                _ => null,
            },
            ForwardRoomMm = Known(airframe.CgLimitsMm is { } f ? new Band(cg.Value - f.ForwardMm, cg.Low - f.ForwardMm, cg.High - f.ForwardMm) : null),
            AftRoomMm = Known(airframe.CgLimitsMm is { } a ? new Band(a.AftMm - cg.Value, a.AftMm - cg.High, a.AftMm - cg.Low) : null),
            StaticMarginPercent = Known(WeighedBalance.StaticMarginPercent(airframe, cg)),
        };
    }

    private static CgChangeEntry? Change(Airframe airframe, BalanceStateEntry? bare)
    {
        if (airframe.CgMm is not { } before || bare is not { CgMm.Value: not null })
        {
            return null;
        }
        double? margin = MassBalance.StaticMarginPercent(airframe, before);
        return new CgChangeEntry(before, Less(bare.CgMm, before), margin, Less(bare.StaticMarginPercent, margin ?? double.NaN));
    }

    private static SwingEntry Swing(SwingAsked swing, Airframe airframe, BalanceAsked asked, Band massG, MassAndCg? bare)
    {
        Band asSwung = BifilarSwing.InertiaKgM2(swing, massG), without = asSwung;
        if (asked.BallastG > 0)
        {
            without = asked.BallastAtMm is { } place && Distance(airframe, bare, place, asked.PlaceErrorMm ?? UsualErrors.PlaceMm) is { } distance
                ? BifilarSwing.WithoutBallast(asSwung, massG.Value - asked.BallastG, asked.BallastG, distance)
                : Band.Unknown;
        }
        return new SwingEntry
        {
            TimingsS = [.. swing.Timings.Select(t => t.TimeS)],
            Swings = swing.Swings,
            PeriodS = PolarEntries.Interval(BifilarSwing.PeriodS(swing)),
            StringM = swing.StringM,
            SpacingM = swing.SpacingM,
            MassG = PolarEntries.Interval(massG),
            PitchInertiaKgM2 = PolarEntries.Interval(asSwung),
            BarePitchInertiaKgM2 = PolarEntries.Interval(without is { Low: > 0 } ? without : Band.Unknown),
        };
    }

    /// <summary>From the bare model's centre of gravity, measured or else of airframe.json, to the ballast.</summary>
    private static Band? Distance(Airframe airframe, MassAndCg? bare, double placeMm, double placeErrorMm) =>
        bare is { CgMm: { } cg } ? WeighedBalance.Around(placeMm - cg.Value, Math.Sqrt(Math.Pow((cg.High - cg.Low) / 2, 2) + placeErrorMm * placeErrorMm))
        : airframe.CgMm is { } known ? WeighedBalance.Around(placeMm - known, placeErrorMm)
        : null;

    private static Interval Known(Band? band) => band is { } b ? PolarEntries.Interval(b) : Interval.Unknown;

    private static Interval Less(Interval interval, double amount) => interval.Value is null || double.IsNaN(amount)
        ? Interval.Unknown
        : new Interval(interval.Value - amount, interval.Low - amount, interval.High - amount);

    /// <summary>For a file that people read: no finer than the interval allows.</summary>
    private static double Rounded(double value, Band band) => Math.Round(value, Math.Clamp(Estimate.Decimals(band.Low, band.High), 0, 2));
}

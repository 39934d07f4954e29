using ThermalTrace.Decisions;
using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>A mass at a place, with the halves of their 90 % intervals; what is taken out has a mass below nought.</summary>
internal readonly record struct MeasuredMass(double MassG, double PlaceMm, double MassErrorG, double PlaceErrorMm);

/// <summary>What the model weighs and where its centre of gravity lies, mm aft of the datum.</summary>
internal readonly record struct MassAndCg(Band MassG, Band CgMm);

/// <summary>Where an interval lies against the limits.</summary>
internal enum LimitVerdict
{
    /// <summary>All of it within them.</summary>
    Inside,
    /// <summary>A limit lies within it.</summary>
    CannotBeTold,
    /// <summary>All of it beyond one of them.</summary>
    Outside,
}

/// <summary>Mass and centre of gravity from what scales show under the model, with their intervals. docs/models/balance.md.</summary>
internal static class WeighedBalance
{
    /// <summary>
    /// Sum of the masses, and sum of moments over it; errors to first order, independent of each other. docs/models/balance.md eq. 1 to 3.
    /// </summary>
    /// <param name="masses">What stands on the scales, and less what was in and does not count.</param>
    /// <returns>NaN where nothing is left to balance.</returns>
    public static MassAndCg Of(IReadOnlyCollection<MeasuredMass> masses)
    {
        double mass = masses.Sum(m => m.MassG), cg = masses.Sum(m => m.MassG * m.PlaceMm) / mass;
        if (!(mass > 0))
        {
            return new MassAndCg(Band.Unknown, Band.Unknown);
        }
        double ofMass = Math.Sqrt(masses.Sum(m => m.MassErrorG * m.MassErrorG));
        double ofCg = Math.Sqrt(masses.Sum(m => Square((m.PlaceMm - cg) * m.MassErrorG) + Square(m.MassG * m.PlaceErrorMm))) / mass;
        return new MassAndCg(Around(mass, ofMass), Around(cg, ofCg));
    }

    /// <summary>The readings as masses at places.</summary>
    public static IReadOnlyList<MeasuredMass> Supports(BalanceAsked asked) =>
        [.. asked.Readings.Select(r => new MeasuredMass(r.MassG, r.PlaceMm, ScaleErrorG(asked, r), asked.PlaceErrorMm ?? UsualErrors.PlaceMm))];

    /// <summary>The ballast as something to take out; its place has to be known.</summary>
    public static MeasuredMass BallastOut(BalanceAsked asked) =>
        new(-asked.BallastG, asked.BallastAtMm ?? double.NaN, asked.ScaleErrorG ?? UsualErrors.ScaleG, asked.PlaceErrorMm ?? UsualErrors.PlaceMm);

    /// <summary>A reading's error, g: as given, or else what is usual and no less than its last digit.</summary>
    public static double ScaleErrorG(BalanceAsked asked, SupportReading reading) => asked.ScaleErrorG ?? Math.Max(UsualErrors.ScaleG, reading.LastDigitG);

    /// <summary>
    /// How far the mass of airframe.json may be off because of how it was weighed and written, g: the usual scale, and half a step of its last digit, a gram's or a tenth's.
    /// </summary>
    public static double WrittenMassErrorG(double massG) => Math.Sqrt(Square(UsualErrors.ScaleG) + Square(massG % 1 == 0 ? 0.5 : 0.05));

    /// <summary>Against the limits; null where none are given or the centre of gravity is not known.</summary>
    public static LimitVerdict? Against((double ForwardMm, double AftMm)? limits, Band cgMm) =>
        limits is not { } l || double.IsNaN(cgMm.Value) ? null
        : cgMm.Low >= l.ForwardMm && cgMm.High <= l.AftMm ? LimitVerdict.Inside
        : cgMm.High < l.ForwardMm || cgMm.Low > l.AftMm ? LimitVerdict.Outside
        : LimitVerdict.CannotBeTold;

    /// <summary>In per cent of the mean chord; null where it is not given.</summary>
    public static Band? ChordPercent(Airframe airframe, Band cgMm) => Through(cgMm, x => MassBalance.ChordPercent(airframe, x));

    /// <summary>Static margin, per cent of the mean chord; null where neutral point or chord is not given.</summary>
    public static Band? StaticMarginPercent(Airframe airframe, Band cgMm) => Through(cgMm, x => MassBalance.StaticMarginPercent(airframe, x));

    /// <summary>A value and half of its interval.</summary>
    public static Band Around(double value, double half) => new(value, value - half, value + half);

    private static Band? Through(Band band, Func<double, double?> line) => line(band.Value) is { } value && line(band.Low) is { } a && line(band.High) is { } b
        ? new Band(value, Math.Min(a, b), Math.Max(a, b))
        : null;

    private static double Square(double x) => x * x;
}

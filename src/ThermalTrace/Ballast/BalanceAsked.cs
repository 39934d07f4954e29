namespace ThermalTrace.Ballast;

/// <summary>What one scale showed under the model.</summary>
/// <param name="MassG">g; may be nought.</param>
/// <param name="PlaceMm">Where the model stood on it, aft of the wing root's leading edge, mm; ahead of it is negative.</param>
/// <param name="LastDigitG">One step of the last digit that was read, g; nought where it is not known.</param>
public sealed record SupportReading(double MassG, double PlaceMm, double LastDigitG = 0);

/// <summary>A timing of several swings.</summary>
/// <param name="TimeS">For all of them, s.</param>
/// <param name="LastDigitS">One step of the last digit that was read, s; nought where it is not known.</param>
public sealed record SwingTiming(double TimeS, double LastDigitS = 0);

/// <summary>A swing on two strings of one length. Errors hold 9 times in 10; null takes what is usual.</summary>
/// <param name="Timings">At least one.</param>
/// <param name="Swings">There and back again, that each timing counted.</param>
/// <param name="StringM">Length of a string, m.</param>
/// <param name="SpacingM">Between the strings, m.</param>
/// <param name="StringErrorM">m.</param>
/// <param name="SpacingErrorM">m.</param>
public sealed record SwingAsked(IReadOnlyList<SwingTiming> Timings, int Swings, double StringM, double SpacingM, double? StringErrorM = null, double? SpacingErrorM = null);

/// <summary>
/// What was measured of a model. Every error is half of a 90 % interval, as intervals are everywhere here; null takes what is usual (<see cref="UsualErrors"/>).
/// </summary>
public sealed record BalanceAsked
{
    /// <summary>Two or more at different places, or none.</summary>
    public IReadOnlyList<SupportReading> Readings { get; init; } = [];

    /// <summary>Of every reading, g.</summary>
    public double? ScaleErrorG { get; init; }

    /// <summary>Of every support's place and of the ballast's, mm.</summary>
    public double? PlaceErrorMm { get; init; }

    /// <summary>Where the model balances, in place of readings, mm.</summary>
    public double? BalanceAtMm { get; init; }

    /// <summary>Of that place, mm.</summary>
    public double? BalanceErrorMm { get; init; }

    /// <summary>In the model while it was measured, g.</summary>
    public double BallastG { get; init; }

    /// <summary>The middle of its mass, mm.</summary>
    public double? BallastAtMm { get; init; }

    /// <summary>A swing on two strings, with the same ballast in.</summary>
    public SwingAsked? Swing { get; init; }

    /// <summary>Why nothing can be made of it, in the command's words; null where something can.</summary>
    public string? Complaint()
    {
        double total = Readings.Sum(r => r.MassG);
        return Readings.Count > 0 && BalanceAtMm is not null ? "--reading and --balance-at say the same thing twice; give one of them"
            : Readings.Count == 1 ? "one --reading gives a mass and no centre of gravity; give one for every support the model stands on, such as --reading 152.3g@42mm --reading 110.1g@113mm, or --balance-at, the place at which it balances"
            : Readings.Count > 0 && Readings.All(r => r.PlaceMm == Readings[0].PlaceMm) ? "all readings are at one place, which gives no centre of gravity; the supports have to stand apart, one ahead of it and one behind (a model that balances there: --balance-at)"
            : Readings.Count > 0 && !(total > 0) ? "all readings are nought; expected what the scales show with the model on them"
            : Readings.Count > 0 && !(total > BallastG) ? FormattableString.Invariant($"--ballast {BallastG:0.#}g is all that the scales show, {total:0.#} g; expected the readings of model and ballast together")
            : Readings.Count == 0 && BalanceAtMm is null && Swing is null ? "nothing was measured; expected two or more --reading MASS@PLACE, or --balance-at PLACE, or --swing TIME --string LENGTH --spacing LENGTH"
            : BallastAtMm is not null && !(BallastG > 0) ? "--ballast-at goes with --ballast, the mass of the ballast that was in"
            : Swing is { } s && (s.Timings.Count == 0 || !s.Timings.All(t => t.TimeS > 0) || !(s.Swings > 0) || !(s.StringM > 0) || !(s.SpacingM > 0)) ? "a swing takes times, swings and lengths above nought"
            : null;
    }
}

/// <summary>Errors that are taken where none is given; each holds 9 times in 10. Common practice, no source.</summary>
public static class UsualErrors
{
    /// <summary>A kitchen scale's, g.</summary>
    public const double ScaleG = 0.1;

    /// <summary>A place measured with a rule, mm.</summary>
    public const double PlaceMm = 0.5;

    /// <summary>Balancing on two points, mm.</summary>
    public const double BalanceMm = 0.5;

    /// <summary>A length of string, or the distance between two, m.</summary>
    public const double StringM = 0.001;

    /// <summary>Starting and stopping a watch by hand, s.</summary>
    public const double ReactionS = 0.1;
}

namespace ThermalTrace.Reports.Balance;

/// <summary>
/// The document of "balance --json": what the model weighs, where it balances, how it turns in pitch. Places are mm aft of the wing root's leading edge, as in
/// airframe.json. docs/models/balance.md.
/// </summary>
public sealed record BalanceDocument
{
    /// <summary>Always thermaltrace.balance/1.</summary>
    public string Schema { get; init; } = "thermaltrace.balance/1";

    /// <summary>Version of the program that wrote it.</summary>
    public required string Program { get; init; }

    /// <summary>The model.</summary>
    public required AirframeEntry Airframe { get; init; }

    /// <summary>Forward and aft; empty where not given.</summary>
    public required IReadOnlyList<double> CgLimitsMm { get; init; }

    /// <summary>readings, balance, or null where only a swing was given.</summary>
    public required string? Method { get; init; }

    /// <summary>What the scales showed.</summary>
    public required IReadOnlyList<ReadingEntry> Readings { get; init; }

    /// <summary>In the model while it was measured.</summary>
    public required double BallastG { get; init; }

    /// <summary>The middle of its mass; null where not given.</summary>
    public required double? BallastAtMm { get; init; }

    /// <summary>As it was measured, ballast and all; null where nothing but a swing was given.</summary>
    public required BalanceStateEntry? Weighed { get; init; }

    /// <summary>Without ballast, which is what airframe.json describes; null where it cannot be told.</summary>
    public required BalanceStateEntry? Bare { get; init; }

    /// <summary>Against the mass of airframe.json; null without readings.</summary>
    public required MassCheckEntry? MassCheck { get; init; }

    /// <summary>Against cg_mm of airframe.json; null where either is not known.</summary>
    public required CgChangeEntry? Change { get; init; }

    /// <summary>null without a swing.</summary>
    public required SwingEntry? Swing { get; init; }

    /// <summary>To be put into airframe.json by hand.</summary>
    public required AirframeValuesEntry AirframeValues { get; init; }

    /// <summary>How good each measurement was taken to be, and whether that was said or is usual.</summary>
    public required IReadOnlyList<string> ErrorsTaken { get; init; }

    /// <summary>What to mind.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>What cannot be known from this, and why.</summary>
    public required IReadOnlyList<string> Limits { get; init; }
}

/// <summary>One scale.</summary>
/// <param name="ErrorG">Half of the 90 % interval.</param>
public sealed record ReadingEntry(double MassG, double PlaceMm, double ErrorG);

/// <summary>Mass and balance of the model in one state.</summary>
public sealed record BalanceStateEntry
{
    /// <summary>Unknown where the model was balanced and not weighed.</summary>
    public required Interval MassG { get; init; }

    /// <summary>Centre of gravity.</summary>
    public required Interval CgMm { get; init; }

    /// <summary>In per cent of the mean chord.</summary>
    public required Interval CgChordPercent { get; init; }

    /// <summary>inside (all of the interval), outside (all of it), cannot_be_told, or null without cg_limits_mm.</summary>
    public required string? CgLimits { get; init; }

    /// <summary>Behind the forward limit; below nought is ahead of it.</summary>
    public required Interval ForwardRoomMm { get; init; }

    /// <summary>Ahead of the aft limit; below nought is behind it.</summary>
    public required Interval AftRoomMm { get; init; }

    /// <summary>In per cent of the mean chord; below nought is unstable.</summary>
    public required Interval StaticMarginPercent { get; init; }
}

/// <summary>The total against airframe.json.</summary>
/// <param name="ExpectedG">unballasted_mass_g and the ballast.</param>
/// <param name="DifferenceG">What the scales show more.</param>
/// <param name="Explained">True where the scales and the rounding of the file may explain it.</param>
public sealed record MassCheckEntry(double ExpectedG, Interval DifferenceG, bool Explained);

/// <summary>The bare model against cg_mm of airframe.json, which is taken as exact.</summary>
/// <param name="FromCgMm">As in airframe.json.</param>
/// <param name="CgChangeMm">Positive aft.</param>
/// <param name="FromStaticMarginPercent">With that; null without neutral point and chord.</param>
/// <param name="StaticMarginChangePercent">In points of per cent.</param>
public sealed record CgChangeEntry(double FromCgMm, Interval CgChangeMm, double? FromStaticMarginPercent, Interval StaticMarginChangePercent);

/// <summary>The swing on two strings.</summary>
public sealed record SwingEntry
{
    /// <summary>Each for so many swings.</summary>
    public required IReadOnlyList<double> TimingsS { get; init; }

    /// <summary>There and back again.</summary>
    public required int Swings { get; init; }

    /// <summary>Of one swing.</summary>
    public required Interval PeriodS { get; init; }

    /// <summary>Length of a string.</summary>
    public required double StringM { get; init; }

    /// <summary>Between the strings.</summary>
    public required double SpacingM { get; init; }

    /// <summary>What hung.</summary>
    public required Interval MassG { get; init; }

    /// <summary>As swung.</summary>
    public required Interval PitchInertiaKgM2 { get; init; }

    /// <summary>Without the ballast.</summary>
    public required Interval BarePitchInertiaKgM2 { get; init; }
}

/// <summary>Keys of airframe.json and what they should say; null where nothing is known or nothing needs to change.</summary>
public sealed record AirframeValuesEntry(double? UnballastedMassG, double? CgMm, double? PitchInertiaKgM2);

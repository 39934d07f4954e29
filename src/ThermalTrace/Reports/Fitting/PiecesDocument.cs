namespace ThermalTrace.Reports.Fitting;

// The document of "pieces --json" ("thermaltrace.pieces/1"). Lengths aft of the wing root's leading edge, as in airframe.json.

/// <summary>One way to fit ballast.</summary>
public record FittingEntry
{
    /// <summary>What was asked for, g; null in a document without a question.</summary>
    public required double? BallastAskedG { get; init; }
    /// <summary>What the pieces weigh, g.</summary>
    public required double? BallastG { get; init; }
    public required double? FlyingMassG { get; init; }
    /// <summary>One for each place, from the front to the back.</summary>
    public required IReadOnlyList<PieceEntry> Pieces { get; init; }
    /// <summary>Empty length of the tube before the first piece and behind the last, to be filled so that nothing moves; null without a tube.</summary>
    public required double? SpacerFrontMm { get; init; }
    public required double? SpacerRearMm { get; init; }
    /// <summary>With the ballast in; null where the bare model's is not given.</summary>
    public required double? CgMm { get; init; }
    /// <summary>In per cent of the mean chord.</summary>
    public required double? CgChordPercent { get; init; }
    /// <summary>Positive aft.</summary>
    public required double? CgShiftMm { get; init; }
    /// <summary>With the ballast in; null without a neutral point.</summary>
    public required double? StaticMarginPercent { get; init; }
    public required double? PitchInertiaAddedKgM2 { get; init; }
    /// <summary>Period of the quick oscillation in pitch, with ballast over without, at the same speed.</summary>
    public required Interval PitchPeriodRatio { get; init; }
    /// <summary>True where mass and centre of gravity are both as near to the wish as anybody could tell.</summary>
    public required bool AsWished { get; init; }
    /// <summary>What this way gains and costs against the first; empty for the first.</summary>
    public required string TradeOff { get; init; }
    public required IReadOnlyList<string> Cautions { get; init; }
}

/// <summary>Ways to fit several masses into one model.</summary>
/// <param name="Tube">Null where none is given.</param>
/// <param name="BareCgMm">Without ballast; null where not given.</param>
/// <param name="CgLimitsMm">Forward and aft; empty where not given.</param>
/// <param name="Options">The best way for each mass.</param>
public sealed record FittingsEntry(TubeEntry? Tube, double? BareCgMm, IReadOnlyList<double> CgLimitsMm, IReadOnlyList<FittingEntry> Options);

/// <summary>A piece at its place.</summary>
/// <param name="CentreMm">Its middle; null where there is no tube to place it in.</param>
public sealed record PieceEntry(string Name, string Material, double MassG, double DiameterMm, double LengthMm, double? CentreMm);

/// <summary>The whole of it: the answer, what else would do, all steps, what the stock can and cannot make.</summary>
public sealed record PiecesDocument : FittingEntry
{
    /// <summary>Always thermaltrace.pieces/1.</summary>
    public string Schema { get; init; } = "thermaltrace.pieces/1";
    /// <summary>Version of the program that wrote it.</summary>
    public required string Program { get; init; }
    public required AirframeEntry Airframe { get; init; }
    public required TubeEntry? Tube { get; init; }
    /// <summary>Without ballast.</summary>
    public required double? BareCgMm { get; init; }
    /// <summary>Forward and aft; empty where not given.</summary>
    public required IReadOnlyList<double> CgLimitsMm { get; init; }
    /// <summary>The wish: by how much forward the ballast is to move the centre of gravity.</summary>
    public required double CgForwardMm { get; init; }
    /// <summary>How many of the cautions, the first, are of this way alone: by what it misses the wish, and why.</summary>
    [System.Text.Json.Serialization.JsonIgnore]
    public int OwnCautions { get; init; }
    /// <summary>Next best first.</summary>
    public required IReadOnlyList<FittingEntry> Alternatives { get; init; }
    /// <summary>From empty to the limit; empty where one mass alone was asked for.</summary>
    public required IReadOnlyList<FittingEntry> Steps { get; init; }
    /// <summary>null where one mass alone was asked for.</summary>
    public required StockEntry? Stock { get; init; }
    /// <summary>Without ballast and with it; empty where nothing was asked for.</summary>
    public required IReadOnlyList<MassEffectEntry> Effects { get; init; }
}

/// <summary>The tube.</summary>
public sealed record TubeEntry(double BoreMm, double LengthMm, double CentreMm);

/// <summary>What a flying mass does to the model's speeds; bounds hold 90 %. Level flight in air of sea-level density.</summary>
/// <param name="TurnRadius30DegM">Of a circle at 30° of bank at the lift coefficient of least sink.</param>
/// <param name="LaunchHeightM">Mean of throws in a calm; null where the model is not thrown.</param>
/// <param name="From">prediction, or logbook where sessions have tuned the model's drag.</param>
public sealed record MassEffectEntry(double BallastG, double FlyingMassG, Interval StallMps, Interval MinSinkAirspeedMps, Interval BestGlideAirspeedMps,
    [property: System.Text.Json.Serialization.JsonPropertyName("turn_radius_30_deg_m")] Interval TurnRadius30DegM, Interval LaunchHeightM, string From)
{
    /// <summary>Speeds over those of the bare model; exact for the stall, and better known than the speeds.</summary>
    public double? SpeedRatio { get; init; }
    /// <summary>Launch height over that of the bare model; null where the model is not thrown.</summary>
    public Interval LaunchHeightRatio { get; init; } = Interval.Unknown;
    /// <summary>logbook, usual where no launch was seen, null where the model is not thrown.</summary>
    public string? LaunchFrom { get; init; }
}

/// <summary>What the pieces owned can make up to the limit.</summary>
/// <param name="UpToG">The limit that was looked at.</param>
/// <param name="Sums">How many different masses, to 0.1 g, fit the tube; nothing at all is not counted.</param>
/// <param name="Gaps">Where nothing within what is felt can be made, widest first.</param>
/// <param name="NewPieces">The pieces, three at most, that would close most of them; empty where nothing is missing or none would help.</param>
/// <param name="GapsThen">With them, widest first.</param>
public sealed record StockEntry(double UpToG, int Sums, IReadOnlyList<GapEntry> Gaps, IReadOnlyList<NewPieceEntry> NewPieces, IReadOnlyList<GapEntry> GapsThen)
{
    /// <summary>Distance from a mass asked for to the nearest that can be made: mean over all up to the limit, and the most; null where nothing may be fitted.</summary>
    public double? MeanOffG { get; init; }
    /// <summary>The most.</summary>
    public double? WorstOffG { get; init; }
    /// <summary>With the new pieces; null without any.</summary>
    public double? MeanOffThenG { get; init; }
    /// <summary>With the new pieces; null without any.</summary>
    public double? WorstOffThenG { get; init; }
    /// <summary>What the tube holds when it is full of tungsten alloy, where that is less than the limit; null else.</summary>
    public double? FullTubeG { get; init; }
    /// <summary>True where lengths could be checked against a tube.</summary>
    public bool FitKnown { get; init; } = true;
}

/// <summary>Asked masses between the two are farther from any sum than would be felt.</summary>
public sealed record GapEntry(double FromG, double ToG);

/// <summary>A piece to make or buy; sizes are not known without a tube.</summary>
public sealed record NewPieceEntry(string Material, double MassG, double DiameterMm, double LengthMm);

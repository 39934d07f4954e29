using ThermalTrace.Learning;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports;

// The result document of the contract ("thermaltrace.results/1"), member by member: PascalCase here, snake_case in
// JSON. Every unit stands in the name. Lists are never null. Order of members is order in the file.

/// <summary>A value with its 90 % interval; all three null together where it cannot be known.</summary>
public sealed record Interval(double? Value, double? Low, double? High)
{
    /// <summary>Not known.</summary>
    public static readonly Interval Unknown = new(null, null, null);
}

/// <summary>The whole of results.json.</summary>
public sealed record ResultsDocument
{
    /// <summary>Always thermaltrace.results/1.</summary>
    public string Schema { get; init; } = "thermaltrace.results/1";
    /// <summary>Version of the program that wrote it.</summary>
    public required string Program { get; init; }
    /// <summary>Seed of the posterior draws.</summary>
    public int Seed { get; init; }
    /// <summary>The files beside the logs that it was made from; empty in documents of earlier programs.</summary>
    public IReadOnlyList<InputFile> Inputs { get => field ?? []; init; }
    public required AirframeEntry Airframe { get; init; }
    public required IReadOnlyList<LogEntry> Logs { get; init; }
    public required IReadOnlyList<FlightEntry> Flights { get; init; }
    public required IReadOnlyList<PolarEntry> Polars { get; init; }
    public required ModelEntry Model { get; init; }
    public required ComparisonEntry Comparison { get; init; }
    /// <summary>How to fit each option of the comparison that needs pieces; null where the airframe lists none that can be fitted, and in documents of earlier programs.</summary>
    public FittingsEntry? Fittings { get; init; }
    public required SessionEvidence Evidence { get; init; }
    /// <summary>How well the session hangs together; null in documents of earlier programs.</summary>
    public DiagnosticsEntry? Diagnostics { get; init; }
    public required IReadOnlyList<string> Limits { get; init; }
}

public sealed record AirframeEntry(string Name, double WingSpanMm, double WingAreaDm2, double UnballastedMassG, double? MaxFlyingMassG, string? Launch);

public sealed record LogEntry(string File, string Sha256, int Rows, double RateHz, IReadOnlyList<ChannelEntry> Channels, IReadOnlyList<ProblemEntry> Problems);

public sealed record ChannelEntry(string Quantity, string Column, string Unit);

public sealed record ProblemEntry(int Line, string Text);

public sealed record FlightEntry
{
    public required string Log { get; init; }
    /// <summary>Counted from 1 in each log.</summary>
    public required int Number { get; init; }
    public required double StartS { get; init; }
    public required double EndS { get; init; }
    public required double? BallastG { get; init; }
    public required double? FlyingMassG { get; init; }
    public required double? WingLoadingGDm2 { get; init; }
    public required string? Camber { get; init; }
    public required bool Spoiled { get; init; }
    public required LaunchEntry? Launch { get; init; }
    public required IReadOnlyList<LaunchEntry> Launches { get; init; }
    public required IReadOnlyList<SegmentEntry> Segments { get; init; }
    public required WindEntry Wind { get; init; }
    public required TurbulenceEntry Turbulence { get; init; }
    public required RideEntry Ride { get; init; }
    public required LiftEntry Lift { get; init; }
}

public sealed record LaunchEntry(double StartS, double EndS, double HeightM);

/// <summary>Kind is ground, launch, glide, climb or landing.</summary>
public sealed record SegmentEntry(string Kind, double StartS, double EndS, double HeightChangeM, double SinkMps, double Probability);

/// <summary>The way the air moves, mean over the airborne time; standard error is the root mean square over east and north.</summary>
public sealed record WindEntry(double? EastMps, double? NorthMps, double? SpeedMps, double? FromDeg, double? StandardErrorMps);

/// <summary>Eddy dissipation rate^(1/3), m^(2/3)/s, with its 90 % interval.</summary>
public sealed record TurbulenceEntry(double? Edr, double? Low, double? High);

public sealed record RideEntry(double? LoadFactorRms, double? EnergyRateRmsMps);

/// <summary>Lift at the core and climb, with 90 % bounds beside them where known.</summary>
public sealed record LiftEntry(int Climbs, double? ClimbMps, double? LiftMps, double? LiftMpsLow, double? LiftMpsHigh);

public sealed record PolarEntry
{
    public required double BallastG { get; init; }
    public required double FlyingMassG { get; init; }
    public required string? Camber { get; init; }
    public required int Glides { get; init; }
    /// <summary>Independent pieces of air that the fit rests on.</summary>
    public required double EffectiveGlides { get; init; }
    /// <summary>The middle 90 % of what was flown gliding, at sea-level density; empty where nothing was flown.</summary>
    public required IReadOnlyList<double> FlownAirspeedMps { get; init; }
    public required IReadOnlyList<CurvePoint> Curve { get; init; }
    public required MinSinkEntry MinSink { get; init; }
    public required BestGlideEntry BestGlide { get; init; }
    public required IReadOnlyList<PenetrationEntry> Penetration { get; init; }
}

public sealed record CurvePoint(double AirspeedMps, double? SinkMps, double? LowMps, double? HighMps, double PredictedMps, bool Flown);

public sealed record MinSinkEntry(Interval SinkMps, Interval AirspeedMps);

public sealed record BestGlideEntry(Interval Ratio, Interval AirspeedMps);

public sealed record PenetrationEntry(double HeadwindMps, double AirspeedMps, Interval GlideRatio);

public sealed record ModelEntry(IReadOnlyList<ParameterEntry> Parameters);

public sealed record ParameterEntry(string Name, Interval Predicted, Interval Tuned);

public sealed record ComparisonEntry
{
    /// <summary>round_trip_climb or still_air_time.</summary>
    public required string Measure { get; init; }
    public required ConditionsEntry Conditions { get; init; }
    public required IReadOnlyList<OptionEntry> Options { get; init; }
    public required double? BestBallastG { get; init; }
    /// <summary>clear, leaning, no_difference or unknown.</summary>
    public required string Verdict { get; init; }
    public required string Why { get; init; }
    /// <summary>What to fly next to tell the options apart, in a sentence.</summary>
    public required string FlyNext { get; init; }
}

public sealed record ConditionsEntry(double? WindMps, double? LiftMps, double? ThermalRadiusM, double? Edr, double? AirSinkMps,
    double? LiftMpsLow, double? LiftMpsHigh, double? ThermalRadiusMLow, double? ThermalRadiusMHigh,
    double? WindMpsLow = null, double? WindMpsHigh = null);

public record OptionEntry
{
    public required double BallastG { get; init; }
    public required double FlyingMassG { get; init; }
    public required Interval RoundTripClimbMps { get; init; }
    public required Interval ClimbMps { get; init; }
    public required double? ReturnAirspeedMps { get; init; }
    public required double? ReturnGlideRatio { get; init; }
    public required Interval LaunchHeightM { get; init; }
    public required Interval StillAirTimeS { get; init; }
    public required FlownEntry Flown { get; init; }
    /// <summary>measured, interpolated, extrapolated or predicted.</summary>
    public required string Support { get; init; }
    public required double? ProbabilityBest { get; init; }
}

public sealed record FlownEntry(int Flights, double? ClimbMps);

namespace ThermalTrace.Reports;

// The key "diagnostics" of the result document, described in docs/diagnostics.md. Order of members is order in the file.

/// <summary>How well the session hangs together.</summary>
public sealed record DiagnosticsEntry
{
    /// <summary>Chance of residuals by speed as large as these, were the model right; null without a fit.</summary>
    public required double? MisfitProbability { get; init; }
    public required IReadOnlyList<SpeedResidualEntry> BySpeed { get; init; }
    public required IReadOnlyList<FlightDiagnosticsEntry> ByFlight { get; init; }
    public required IReadOnlyList<BallastDiagnosticsEntry> ByBallast { get; init; }
    /// <summary>Each log or flight under each other ballast, the likeliest first.</summary>
    public required IReadOnlyList<BallastCheckEntry> BallastChecks { get; init; }
    /// <summary>Runs of flights on a drag curve of their own, the likeliest first.</summary>
    public required IReadOnlyList<CurveCheckEntry> CurveChecks { get; init; }
    public required IReadOnlyList<BarometerEntry> Barometers { get; init; }
    public required PitotEntry? Pitot { get; init; }
    /// <summary>Speed at which influences on sink are told.</summary>
    public required double? ReferenceAirspeedMps { get; init; }
    /// <summary>Glides that would narrow the lead of the best ballast, most telling first.</summary>
    public required IReadOnlyList<NextGlidesEntry> NextGlides { get; init; }
}

/// <summary>What was left over in a range of speeds: sink seen less sink of the curve.</summary>
public sealed record SpeedResidualEntry(double AirspeedLowMps, double AirspeedHighMps, double GlidingS, double MeanWhitened, double RmsWhitened, Interval ExcessSinkMps);

/// <summary>What was left over in a flight, and how the answer would change without it.</summary>
public sealed record FlightDiagnosticsEntry(string Log, int Number, double? GlidingS, double? RmsWhitened, Interval AirRiseMps,
    double? SinkChangeMps, double? BestChangeMps, double? BestChangeS, double? LeadChangeMps, double? LeadChangeS);

public sealed record BallastDiagnosticsEntry(double BallastG, double EffectiveGlides);

/// <summary>Flight is null where all flights of the log are meant. Log odds are natural logarithms of the Bayes factor.</summary>
public sealed record BallastCheckEntry(string Log, int? Number, double NotedBallastG, double FliesLikeG, double LogBayesFactor, double LogBayesFactorGlides,
    double LogBayesFactorCircling, bool Told);

public sealed record CurveCheckEntry(IReadOnlyList<FlightNameEntry> Flights, double LogBayesFactor, bool Told, IReadOnlyList<DragChangeEntry> DragChanges);

public sealed record FlightNameEntry(string Log, int Number);

/// <summary>Share by which drag differs, 0.1 is 10 % more.</summary>
public sealed record DragChangeEntry(double AirspeedMps, Interval Share);

/// <summary>Creep of the barometric altitude against the satellite's, and the sink that hides in it.</summary>
public sealed record BarometerEntry(string Log, Interval DriftMPerH, double HiddenSinkMps, bool Corrected);

/// <summary>Factor by which the pitot reads high.</summary>
public sealed record PitotEntry(Interval Factor, int Flights);

/// <summary>Standard error of the lead as far as the polar makes it, now and with these glides.</summary>
public sealed record NextGlidesEntry(double BallastG, double AirspeedMps, int Glides, double SecondsEach, double? LeadErrorNowMps, double? LeadErrorThenMps,
    double? LeadErrorNowS, double? LeadErrorThenS);

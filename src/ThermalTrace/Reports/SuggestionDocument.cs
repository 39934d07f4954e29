using System.Text.Json.Serialization;
using ThermalTrace.Learning;
using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Reports;

// The document of "suggest --json" ("thermaltrace.suggestion/1"), member by member as in ResultsDocument.cs.

/// <summary>The whole of it.</summary>
public sealed record SuggestionDocument
{
    /// <summary>Always thermaltrace.suggestion/1.</summary>
    public string Schema { get; init; } = "thermaltrace.suggestion/1";
    /// <summary>Version of the program that wrote it.</summary>
    public required string Program { get; init; }
    /// <summary>Seed of every draw.</summary>
    public required int Seed { get; init; }
    public required AirframeEntry Airframe { get; init; }
    public required SuggestionConditionsEntry Conditions { get; init; }
    /// <summary>round_trip_climb, or still_air_time where there is no lift.</summary>
    public required string Measure { get; init; }
    public required IReadOnlyList<SuggestedOptionEntry> Options { get; init; }
    public required double? SuggestedBallastG { get; init; }
    /// <summary>Least and greatest ballast within what is felt of the suggested one; empty where none is suggested.</summary>
    public required IReadOnlyList<double> SuggestedRangeG { get; init; }
    /// <summary>How to fit the suggested ballast; null where none is suggested, none is needed, or the airframe lists no pieces.</summary>
    public FittingEntry? Fitting { get; init; }
    /// <summary>clear, leaning, no_difference or unknown.</summary>
    public required string Verdict { get; init; }
    /// <summary>Of the suggested option against its nearest rival, in the air asked for: measured, interpolated, extrapolated or predicted.</summary>
    public required string Support { get; init; }
    /// <summary>In a sentence or two.</summary>
    public required string Why { get; init; }
    /// <summary>Where to change ballast as the wind, or the lift, grows and all else stays as asked.</summary>
    public required IReadOnlyList<SwitchPointEntry> SwitchPoints { get; init; }
    public required SuggestionModelEntry Model { get; init; }
    public required IReadOnlyList<string> Cautions { get; init; }
    /// <summary>What this answer could not know, and what was taken instead.</summary>
    public required IReadOnlyList<string> Limits { get; init; }
}

/// <summary>The conditions as they were taken; bounds are those of a range that was asked, or of what a reading leaves open.</summary>
public sealed record SuggestionConditionsEntry
{
    /// <summary>At flying height.</summary>
    public required double WindMps { get; init; }
    public required double WindMpsLow { get; init; }
    public required double WindMpsHigh { get; init; }
    /// <summary>Where the wind was read near the ground: that reading and its height.</summary>
    public required double? WindReadMps { get; init; }
    public required double? WindReadHeightM { get; init; }
    public required double FlyingHeightM { get; init; }
    /// <summary>At the core; 0 for none.</summary>
    public required double LiftMps { get; init; }
    public required double LiftMpsLow { get; init; }
    public required double LiftMpsHigh { get; init; }
    /// <summary>The climb that lift was taken from, and its ballast; null where lift was given.</summary>
    public required double? ClimbSeenMps { get; init; }
    public required double? ClimbSeenWithG { get; init; }
    public required double? ThermalRadiusM { get; init; }
    public required double Edr { get; init; }
    public required double EdrLow { get; init; }
    public required double EdrHigh { get; init; }
    /// <summary>asked, or wind_and_ground.</summary>
    public required string EdrFrom { get; init; }
    /// <summary>grass, hedges or trees.</summary>
    public required string Ground { get; init; }
    /// <summary>Of the air on the way home; 0, for it is not known beforehand.</summary>
    public double AirSinkMps { get; init; }
    public required double AirDensityKgM3 { get; init; }
    public required double? TimeS { get; init; }
    public required double ArriveM { get; init; }
    public required double? FromHeightM { get; init; }
}

/// <summary>An option with what advice adds.</summary>
public sealed record SuggestedOptionEntry : OptionEntry
{
    /// <summary>True for a ballast of the airframe's list or one flown; false for what only the pieces owned make.</summary>
    public required bool Listed { get; init; }
    /// <summary>False where it is shown and never suggested.</summary>
    public required bool Allowed { get; init; }
    /// <summary>mass_limit or balance where it is not allowed, else null.</summary>
    public required string? NotAllowed { get; init; }
    /// <summary>Height needed for 100 m of return over the ground against that wind.</summary>
    [JsonPropertyName("return_height_m_per_100_m")]
    public required Interval ReturnHeightMPer100M { get; init; }
    /// <summary>At which speed.</summary>
    public required double? PenetrationAirspeedMps { get; init; }
    /// <summary>How it will be thrown about gliding, 0.3 to 3 s: of the load factor.</summary>
    public required Interval LoadFactorRms { get; init; }
    /// <summary>Chance of making the time; null where no time was asked.</summary>
    public required Interval Chance { get; init; }
    /// <summary>Lift some way off; empty where no lift was asked.</summary>
    public required IReadOnlyList<ReachEntry> Reach { get; init; }
    /// <summary>True where this ballast was flown, but never in air like that.</summary>
    public required bool FlownInOtherAir { get; init; }
}

/// <summary>Flying to lift. Net gain and speed are null where it is not reached above the height wanted.</summary>
public sealed record ReachEntry(double DistanceM, double WithinS, Interval ArrivalHeightM, Interval NetGainM, double? AirspeedMps);

/// <summary>A change of ballast; bounds are null beyond what was looked at.</summary>
/// <param name="Condition">wind or lift.</param>
public sealed record SwitchPointEntry(string Condition, double FromG, double ToG, double AtMps, double? AtMpsLow, double? AtMpsHigh);

/// <summary>The model that answered.</summary>
/// <param name="Kind">physics, or the learned part's.</param>
/// <param name="Sessions">Behind it.</param>
/// <param name="Flights">Behind it, spoiled ones and those of unknown ballast left out.</param>
/// <param name="Climbs">Behind it.</param>
public sealed record SuggestionModelEntry(string Kind, int Sessions, int Flights, int Climbs, double? CrossValidatedErrorMps, double? PhysicsOnlyErrorMps)
{
    /// <summary>What was learned beyond physics, in a sentence.</summary>
    public required string Learned { get; init; }
    /// <summary>Kinds of learner with their errors in sessions left out; empty where too few sessions are there.</summary>
    public required IReadOnlyList<LearnerScore> Compared { get; init; }
    /// <summary>When the airframe changed, as far as its drag tells.</summary>
    public required IReadOnlyList<ModelChangeEntry> Changes { get; init; }
}

/// <summary>From a session on the model sinks otherwise than before.</summary>
/// <param name="Session">Its name in the logbook.</param>
/// <param name="Since">Its day, yyyy-MM-dd; null where its logs have no date.</param>
/// <param name="SinkShare">By how much more at the same speed; 0.06 is 6 %.</param>
public sealed record ModelChangeEntry(string Session, string? Since, Interval SinkShare);

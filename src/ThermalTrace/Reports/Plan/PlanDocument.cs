using System.Text.Json.Serialization;

namespace ThermalTrace.Reports.Plan;

/// <summary>The <c>plan --json</c> document: which test glides to fly next, in which order, and what to expect of them. docs/models/plan.md.</summary>
public sealed record PlanDocument
{
    /// <summary>Always thermaltrace.plan/1.</summary>
    public string Schema { get; init; } = "thermaltrace.plan/1";

    /// <summary>The model.</summary>
    public required AirframeEntry Airframe { get; init; }

    /// <summary>What it rests on.</summary>
    public required PlanModelEntry Model { get; init; }

    /// <summary>False where more test glides would not change what anybody feels.</summary>
    public required bool WorthFlying { get; init; }

    /// <summary>Why, in a sentence or two.</summary>
    public required string Why { get; init; }

    /// <summary>What is to be decided, in each wind; the first is where the choice now loses most.</summary>
    public required IReadOnlyList<PlanDecisionEntry> Decisions { get; init; }

    /// <summary>In the order to fly.</summary>
    public required IReadOnlyList<PlanFlightEntry> Flights { get; init; }

    /// <summary>About how long all of it takes, min.</summary>
    public required double Minutes { get; init; }

    /// <summary>Changes of ballast between flights.</summary>
    public required int BallastChanges { get; init; }

    /// <summary>What more and more flights bring.</summary>
    public required IReadOnlyList<PlanStepEntry> Growth { get; init; }

    /// <summary>The plan beside as many flights chosen by plain rules.</summary>
    public required IReadOnlyList<PlanStepEntry> Compared { get; init; }

    /// <summary>What the expectation takes for granted.</summary>
    public required IReadOnlyList<string> Assumptions { get; init; }

    /// <summary>What was left out, and what to mind.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>Seed of every draw.</summary>
    public required int Seed { get; init; }
}

/// <summary>What a plan rests on.</summary>
/// <param name="Sessions">Of the logbook or the results.</param>
/// <param name="Flights">That count.</param>
/// <param name="GlideWorth">What a second of gliding told on past days over what is usual.</param>
/// <param name="GlideWorthLow">On one day in twenty it told less.</param>
/// <param name="GlideWorthHigh">On one day in twenty it told more.</param>
/// <param name="LaunchHeightM">That the legs are measured to.</param>
public sealed record PlanModelEntry(int Sessions, int Flights, double GlideWorth, double GlideWorthLow, double GlideWorthHigh, double LaunchHeightM);

/// <summary>A decision.</summary>
public sealed record PlanDecisionEntry
{
    /// <summary>Wind, m/s.</summary>
    public required double WindMpsLow { get; init; }
    /// <summary>Wind, m/s.</summary>
    public required double WindMpsHigh { get; init; }
    /// <summary>Lift at the core, m/s.</summary>
    public required double LiftMpsLow { get; init; }
    /// <summary>Lift at the core, m/s.</summary>
    public required double LiftMpsHigh { get; init; }
    /// <summary>Turbulence, m^(2/3)/s.</summary>
    public required double EdrLow { get; init; }
    /// <summary>Turbulence, m^(2/3)/s.</summary>
    public required double EdrHigh { get; init; }
    /// <summary>Ahead now.</summary>
    public required double BestBallastG { get; init; }
    /// <summary>Hardest to tell from it; null where nothing else comes home in that wind.</summary>
    public required double? RivalBallastG { get; init; }
    /// <summary>By how much the first leads the second in round-trip climb now.</summary>
    public required Interval LeadMps { get; init; }
    /// <summary>Standard deviation of that lead now, m/s.</summary>
    public required double SpreadMps { get; init; }
    /// <summary>Expected once the flights are flown, m/s.</summary>
    public required double SpreadAfterMps { get; init; }
    /// <summary>The same on a day on which glides tell as much as on one in twenty.</summary>
    public required double SpreadAfterMpsLow { get; init; }
    /// <summary>The same on a day on which they tell as little.</summary>
    public required double SpreadAfterMpsHigh { get; init; }
    /// <summary>The part of the spread that drag makes and glides narrow, now, m/s.</summary>
    public required double SpreadByDragMps { get; init; }
    /// <summary>Expected once the flights are flown, m/s.</summary>
    public required double SpreadByDragAfterMps { get; init; }
    /// <summary>The same on a day on which glides tell as much as on one in twenty.</summary>
    public required double SpreadByDragAfterMpsLow { get; init; }
    /// <summary>The same on a day on which they tell as little.</summary>
    public required double SpreadByDragAfterMpsHigh { get; init; }
    /// <summary>What no test glide takes away: lift, centring, the wind's own range, m/s.</summary>
    public required double SpreadNotByGlidesMps { get; init; }
    /// <summary>Round-trip climb given away on average by choosing now, against knowing the drag, m/s.</summary>
    public required double LossMps { get; init; }
    /// <summary>Expected after the flights, m/s.</summary>
    public required double LossAfterMps { get; init; }
    /// <summary>As in results.json.</summary>
    public required string Verdict { get; init; }
    /// <summary>That the verdict will be "clear".</summary>
    public required double ChanceClear { get; init; }
    /// <summary>That it will be "no_difference".</summary>
    public required double ChanceNoDifference { get; init; }
}

/// <summary>A flight to fly.</summary>
public sealed record PlanFlightEntry
{
    /// <summary>Counted from 1.</summary>
    public required int Number { get; init; }
    /// <summary>Day, counted from 1.</summary>
    public required int Session { get; init; }
    /// <summary>What to fit, g.</summary>
    public required double BallastG { get; init; }
    /// <summary>All up, g.</summary>
    public required double FlyingMassG { get; init; }
    /// <summary>Pairs of legs, slowest first.</summary>
    public required IReadOnlyList<PlanPairEntry> Pairs { get; init; }
    /// <summary>From launch to landing, about, s.</summary>
    public required double FlightTimeS { get; init; }
}

/// <summary>One leg out and one back on the same line.</summary>
/// <param name="AirspeedMps">To hold, m/s.</param>
/// <param name="SecondsEach">Each leg.</param>
/// <param name="Trim">In words: slow, least sink, best glide, fast.</param>
/// <param name="HeightM">That both cost in still air, m.</param>
public sealed record PlanPairEntry(double AirspeedMps, double SecondsEach, string Trim, double HeightM);

/// <summary>So many flights and what they bring for the first decision.</summary>
/// <param name="Name">The rule, where it is one of several.</param>
/// <param name="Flights">How many.</param>
/// <param name="SpreadMps">Standard deviation of the lead expected then, m/s.</param>
/// <param name="SpreadByDragMps">The part of it that glides narrow, m/s.</param>
/// <param name="LossMps">Mean over the decisions of the round-trip climb given away, m/s.</param>
public sealed record PlanStepEntry([property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] string? Name, int Flights, double SpreadMps, double SpreadByDragMps, double LossMps);

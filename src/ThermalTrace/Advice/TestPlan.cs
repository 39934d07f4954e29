using ThermalTrace.Decisions;

namespace ThermalTrace.Advice;

/// <summary>A flight of the plan.</summary>
/// <param name="Session">Day, counted from 1.</param>
/// <param name="Option">Index of its ballast.</param>
/// <param name="Card">Its legs.</param>
/// <param name="AirS">Launch to landing, about.</param>
internal sealed record PlannedFlight(int Session, int Option, GlideCard Card, double AirS);

/// <summary>What is known of a lead: standard deviations, m/s.</summary>
/// <param name="DragMps">What glides can narrow.</param>
/// <param name="RestMps">What they cannot: lift, its radius, centring, wind.</param>
internal readonly record struct LeadSpread(double DragMps, double RestMps)
{
    /// <summary>Both together.</summary>
    public double Mps => Math.Sqrt(DragMps * DragMps + RestMps * RestMps);
}

/// <summary>One decision before and, as far as can be expected, after the flights.</summary>
/// <param name="Decision">The decision.</param>
/// <param name="Verdict">As things stand.</param>
/// <param name="Now">Spread of the lead over the rival.</param>
/// <param name="After">The same once the flights are flown.</param>
/// <param name="AfterCalm">On a day on which glides tell as much as on one in twenty.</param>
/// <param name="AfterRough">On a day on which they tell as little.</param>
/// <param name="LossNowMps">Round-trip climb given away on average by choosing now, against knowing the drag.</param>
/// <param name="LossAfterMps">The same after the flights.</param>
/// <param name="ChanceClear">That the verdict will be clear.</param>
/// <param name="ChanceAlike">That it will be: nobody could feel a difference.</param>
internal sealed record DecisionOutlook(PlanDecision Decision, string Verdict, LeadSpread Now, LeadSpread After, LeadSpread AfterCalm, LeadSpread AfterRough,
    double LossNowMps, double LossAfterMps, double ChanceClear, double ChanceAlike);

/// <summary>What so many flights would bring for the leading decision.</summary>
internal sealed record PlanStep(string Name, int Flights, LeadSpread Lead, double LossMps);

/// <summary>What to fly next, and what to expect of it. docs/models/plan.md.</summary>
internal sealed record TestPlan
{
    // Common practice, no source: time between flights, and what a change of ballast adds.
    private const double GroundS = 90, ChangeS = 90;

    /// <summary>What can be fitted; the index is that of the departure.</summary>
    public required IReadOnlyList<Option> Options { get; init; }
    /// <summary>What was left out and why.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }
    /// <summary>Decisions; the first is the one in which the choice now loses most.</summary>
    public required IReadOnlyList<DecisionOutlook> Outlooks { get; init; }
    /// <summary>In the order flown.</summary>
    public required IReadOnlyList<PlannedFlight> Flights { get; init; }
    /// <summary>None, two, four flights and so on, without the last polish of the plan.</summary>
    public required IReadOnlyList<PlanStep> Growth { get; init; }
    /// <summary>The plan, then as many flights chosen by plain rules.</summary>
    public required IReadOnlyList<PlanStep> Compared { get; init; }
    /// <summary>What glides told on past days.</summary>
    public required GlideWorth Worth { get; init; }
    /// <summary>Height at the end of the launch that the legs are measured to, m.</summary>
    public required double LaunchHeightM { get; init; }
    /// <summary>False where it is what is usual for the launch.</summary>
    public required bool LaunchSeen { get; init; }
    /// <summary>False where winds and lift are what is usual anywhere.</summary>
    public required bool SeasonSeen { get; init; }

    /// <summary>Changes of ballast between flights of a day.</summary>
    public int Changes => Flights.GroupBy(f => f.Session).Sum(s => FlightOrder.Changes([.. s.Select(f => f.Option)]));

    /// <summary>About how long it takes, s.</summary>
    public double TotalS => Flights.Sum(f => f.AirS) + GroundS * Math.Max(Flights.Count - 1, 0) + ChangeS * Changes;
}

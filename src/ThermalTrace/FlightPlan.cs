using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Reports.Plan;
using ThermalTrace.Sessions;

namespace ThermalTrace;

/// <summary>Which test glides to fly next, from what the season knows. docs/plan.md.</summary>
public static class FlightPlan
{
    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static FlightPlan() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Plans.</summary>
    /// <param name="season">What is known of the model.</param>
    /// <param name="asked">For which air, how many flights.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="Units.UnusableInputException">Nothing is to be decided, or a session's evidence is of another format.</exception>
    public static PlanDocument Run(Season season, PlanAsked asked, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(season);
        ArgumentNullException.ThrowIfNull(asked);
        SeasonModel model = season.Model;
        return PlanEntries.Of(model, TestPlanner.Plan(model, asked, cancel), asked);
    }
}

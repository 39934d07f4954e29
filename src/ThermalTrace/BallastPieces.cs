using ThermalTrace.Ballast;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace;

/// <summary>What is asked of the stock.</summary>
public sealed record PiecesAsked
{
    /// <summary>Ballast, g; null for every step from empty to the limit alone.</summary>
    public double? BallastG { get; init; }

    /// <summary>By how much the ballast is to move the centre of gravity forward, mm.</summary>
    public double CgForwardMm { get; init; }

    /// <summary>True to work out every step as well.</summary>
    public bool AllSteps { get; init; }

    /// <summary>Between steps, g; null for a round one.</summary>
    public double? StepG { get; init; }
}

/// <summary>Which pieces to fit, and where: the stock, the best ways, every step, what the mass does to the model.</summary>
public static class BallastPieces
{
    private const int Ways = 5; // the best and four others
    private const int Seed = 1;

    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static BallastPieces() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Answers.</summary>
    /// <param name="season">What is known of the model: its speeds come from it.</param>
    /// <param name="asked">The question.</param>
    /// <param name="cancel">Ends the search.</param>
    /// <exception cref="UnusableInputException">The airframe lacks what the question needs, or forbids it.</exception>
    public static PiecesDocument Run(Season season, PiecesAsked asked, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(season);
        ArgumentNullException.ThrowIfNull(asked);
        Airframe airframe = season.Airframe;
        double shift = -asked.CgForwardMm;
        PieceCheck.Require(airframe, asked.BallastG, shift);
        PieceFitter fitter = new(airframe, shift, PieceCheck.HeaviestG(airframe));
        IReadOnlyList<FittingEntry> ways = asked.BallastG is { } ballast ? FittingEntries.Ways(airframe, fitter, ballast, shift, Ways, cancel) : [];
        double limit = StockSums.Of(airframe, StockSense.LimitG(airframe))[^1].MassG; // the heaviest that goes into the tube
        bool steps = asked.AllSteps || asked.BallastG is null;
        return PiecesEntries.Document(season.Model, asked.BallastG, asked.CgForwardMm, ways, steps ? Steps(airframe, fitter, limit, asked.StepG, shift, cancel) : [],
            steps ? StockEntries.Of(airframe, cancel) : null, Seed);
    }

    private static IReadOnlyList<FittingEntry> Steps(Airframe airframe, PieceFitter fitter, double limitG, double? stepG, double shiftMm, CancellationToken cancel)
    {
        List<FittingEntry> steps = [];
        foreach (double mass in PieceTable.MassesG(airframe, limitG, stepG))
        {
            FittingEntry step = FittingEntries.Ways(airframe, fitter, mass, shiftMm, 1, cancel)[0];
            // Two steps of one weight are one line: that weight, or where another would be fitted for it the step that is nearer to it.
            if (steps.Count > 0 && steps[^1].BallastG is { } weight && weight == step.BallastG)
            {
                FittingEntry exact = FittingEntries.Ways(airframe, fitter, weight, shiftMm, 1, cancel)[0];
                steps[^1] = exact.BallastG == weight ? exact : Math.Abs(mass - weight) < Math.Abs(steps[^1].BallastAskedG!.Value - weight) ? step : steps[^1];
                continue;
            }
            steps.Add(step);
        }
        return steps;
    }
}

using ThermalTrace.Decisions;
using ThermalTrace.Learning;

namespace ThermalTrace.Advice;

/// <summary>The conditions at which a grid of advice is worked out: every wind with every lift and every turbulence.</summary>
/// <param name="WindsMps">At flying height, rising.</param>
/// <param name="LiftsMps">At the core, rising.</param>
/// <param name="Edrs">Turbulence, m^(2/3)/s, rising.</param>
internal sealed record GridNodes(IReadOnlyList<double> WindsMps, IReadOnlyList<double> LiftsMps, IReadOnlyList<double> Edrs)
{
    /// <summary>Those of the field card. So close together that straight lines in between are within 0.005 m/s (tested).</summary>
    public static readonly GridNodes Card = new(
        [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
        [0.3, 0.5, 0.75, 1, 1.25, 1.5, 2, 2.5, 3, 4],
        [0.03, 0.08, 0.16, 0.30, 0.40]);

    /// <summary>Number of cells.</summary>
    public int Cells => WindsMps.Count * LiftsMps.Count * Edrs.Count;

    /// <summary>Place of a cell: turbulence runs fastest, then lift, then wind.</summary>
    public int Cell(int wind, int lift, int edr) => (wind * LiftsMps.Count + lift) * Edrs.Count + edr;
}

/// <summary>One option over the cells.</summary>
/// <param name="Option">The option.</param>
/// <param name="RoundTripMps">Net climb after coming home; not known where the wind is beyond its polar.</param>
/// <param name="ClimbMps">Climb in the lift; what was learned of centring may hang on the wind.</param>
/// <param name="ProbabilityBest">That it is the best.</param>
/// <param name="ProbabilityAsGood">That it is the best or nobody could feel the difference.</param>
internal sealed record OptionGrid(Option Option, Band[] RoundTripMps, Band[] ClimbMps, double[] ProbabilityBest, double[] ProbabilityAsGood);

/// <summary>By how much one option is ahead of another over the cells; the value is the difference of their expectations.</summary>
/// <param name="Option">Index.</param>
/// <param name="Than">Index of the other, lighter one.</param>
/// <param name="Mps">Ahead where positive.</param>
internal sealed record DifferenceGrid(int Option, int Than, Band[] Mps);

/// <summary>
/// Every option's net climb after coming home over a grid of winds, lifts and turbulence, from the season's model. In each draw all
/// options meet the same air in all cells, so that differences stand out. docs/card.md.
/// </summary>
internal sealed class AdviceGrid
{
    // Rounded once, so that whoever reads the numbers finds the same best as was found here.
    private const int Decimals = 4, ShareDecimals = 3;

    private AdviceGrid(GridNodes nodes, int options, int draws)
    {
        (Nodes, Draws) = (nodes, draws);
        (Best, Alike, Verdict) = (new int[nodes.Cells], new double[nodes.Cells], new string[nodes.Cells]);
        Options = new OptionGrid[options];
        Differences = new DifferenceGrid[options * (options - 1) / 2];
    }

    /// <summary>Conditions.</summary>
    public GridNodes Nodes { get; }

    /// <summary>Draws behind every number.</summary>
    public int Draws { get; }

    /// <summary>Lightest first.</summary>
    public OptionGrid[] Options { get; }

    /// <summary>Every pair once, the heavier over the lighter.</summary>
    public DifferenceGrid[] Differences { get; }

    /// <summary>By cell, index of the option with the highest expectation, the lightest of equals; −1 where none makes way.</summary>
    public int[] Best { get; }

    /// <summary>By cell, probability that no two options differ by more than anybody feels.</summary>
    public double[] Alike { get; }

    /// <summary>By cell: clear, leaning, no_difference or unknown.</summary>
    public string[] Verdict { get; }

    /// <summary>Works the grid out.</summary>
    /// <param name="model">The season's.</param>
    /// <param name="options">What may be chosen, lightest first; their index is that of their departure.</param>
    /// <param name="nodes">Conditions.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="draws">Draws, at most.</param>
    /// <param name="cancel">Ends it.</param>
    public static AdviceGrid Compute(SeasonModel model, IReadOnlyList<Option> options, GridNodes nodes, int seed, int draws, CancellationToken cancel = default)
    {
        (Polars.CurveMaker maker, double[][] coefficients) = model.Curves(options, seed, draws);
        DrawnOptions drawn = new(options, model.Airframe.UnballastedMassG / 1000, maker, coefficients, draws);
        AdviceGrid grid = new(nodes, options.Count, drawn.Draws);
        double[,][] trips = new double[options.Count, nodes.Cells][], climbs = new double[options.Count, nodes.Cells][];
        Fill(trips, drawn.Draws);
        Fill(climbs, drawn.Draws);
        double height = AskedAir.ClimbHeightM(model);
        double[,] gains = Gains(model, options, nodes);
        ParallelOptions parallel = new() { CancellationToken = cancel };
        // A draw writes its own places alone, so any number of threads gives the same.
        Parallel.For(0, drawn.Draws, parallel, d =>
        {
            ClimbHabit habit = model.Habits[(int)((long)d * model.Habits.Count / drawn.Draws)];
            for (int k = 0; k < options.Count; k++)
            {
                Fly(drawn, k, d, habit, height, nodes, gains, trips, climbs);
            }
        });
        for (int k = 0; k < options.Count; k++)
        {
            grid.Options[k] = new OptionGrid(options[k], new Band[nodes.Cells], [.. Enumerable.Range(0, climbs.GetLength(1)).Select(c => Rounded(Band.Of(climbs[k, c])))],
                new double[nodes.Cells], new double[nodes.Cells]);
        }
        int pair = 0;
        for (int k = 1; k < options.Count; k++)
        {
            for (int j = 0; j < k; j++)
            {
                grid.Differences[pair++] = new DifferenceGrid(k, j, new Band[nodes.Cells]);
            }
        }
        Parallel.For(0, nodes.Cells, parallel, cell => grid.Judge(cell, [.. Enumerable.Range(0, options.Count).Select(k => trips[k, cell])]));
        return grid;
    }

    /// <summary>By option and cell, what was learned beyond physics of the lift kept; 1 where physics is all there is.</summary>
    private static double[,] Gains(SeasonModel model, IReadOnlyList<Option> options, GridNodes nodes)
    {
        double[,] gains = new double[options.Count, nodes.Cells];
        for (int w = 0; w < nodes.WindsMps.Count; w++)
        {
            for (int l = 0; l < nodes.LiftsMps.Count; l++)
            {
                for (int e = 0; e < nodes.Edrs.Count; e++)
                {
                    for (int k = 0; k < options.Count; k++)
                    {
                        gains[k, nodes.Cell(w, l, e)] = model.Gain(options[k].MassKg, nodes.Edrs[e], nodes.WindsMps[w], nodes.LiftsMps[l]);
                    }
                }
            }
        }
        return gains;
    }

    /// <summary>One option in one draw, in all conditions.</summary>
    private static void Fly(DrawnOptions drawn, int k, int d, ClimbHabit habit, double heightM, GridNodes nodes, double[,] gains, double[,][] trips, double[,][] climbs)
    {
        Polars.SinkCurve level = drawn.Level(k, d);
        for (int e = 0; e < nodes.Edrs.Count; e++)
        {
            ClimbCurve curve = drawn.Climb(k, d, habit.At(heightM, nodes.Edrs[e], 0));
            for (int l = 0; l < nodes.LiftsMps.Count; l++)
            {
                double climb = double.NaN, gain = double.NaN;
                for (int w = 0; w < nodes.WindsMps.Count; w++)
                {
                    int cell = nodes.Cell(w, l, e);
                    if (gains[k, cell] != gain)
                    {
                        gain = gains[k, cell];
                        climb = curve.At(nodes.LiftsMps[l] * gain).ClimbMps;
                    }
                    climbs[k, cell][d] = climb;
                    trips[k, cell][d] = RoundTrip.For(level, climb, nodes.WindsMps[w], 0)?.ClimbMps ?? double.NaN;
                }
            }
        }
    }

    /// <summary>Who is how good in a cell, as <see cref="Comparison.Judge"/> has it, and what it does not tell: every option's chance to be as good as the best.</summary>
    private void Judge(int cell, double[][] trips)
    {
        int n = trips.Length, alike = 0;
        int[] wins = new int[n], good = new int[n];
        for (int d = 0; d < Draws; d++)
        {
            double top = double.NegativeInfinity, bottom = double.PositiveInfinity;
            int winner = -1;
            for (int k = 0; k < n; k++)
            {
                // What makes no way against the wind is worse than anything that does.
                double value = double.IsNaN(trips[k][d]) ? double.NegativeInfinity : trips[k][d];
                bottom = Math.Min(bottom, value);
                if (value > top)
                {
                    (top, winner) = (value, k);
                }
            }
            if (winner < 0)
            {
                continue;
            }
            wins[winner]++;
            alike += top - bottom <= Comparison.FeltMps ? 1 : 0;
            for (int k = 0; k < n; k++)
            {
                good[k] += trips[k][d] >= top - Comparison.FeltMps ? 1 : 0;
            }
        }
        int best = -1;
        for (int k = 0; k < n; k++)
        {
            OptionGrid option = Options[k];
            option.RoundTripMps[cell] = Rounded(Band.Of(trips[k]));
            option.ProbabilityBest[cell] = Math.Round((double)wins[k] / Draws, ShareDecimals);
            option.ProbabilityAsGood[cell] = Math.Round((double)good[k] / Draws, ShareDecimals);
            if (option.RoundTripMps[cell].IsKnown && (best < 0 || option.RoundTripMps[cell].Value > Options[best].RoundTripMps[cell].Value))
            {
                best = k;
            }
        }
        foreach (DifferenceGrid difference in Differences)
        {
            difference.Mps[cell] = Rounded(Band.Of(trips[difference.Option].Zip(trips[difference.Than], (a, b) => a - b)));
        }
        Best[cell] = best;
        Alike[cell] = Math.Round((double)alike / Draws, ShareDecimals);
        Verdict[cell] = best < 0 || n < 2 ? "unknown"
            : Alike[cell] >= Sure ? "no_difference"
            : Options[best].ProbabilityAsGood[cell] >= Sure ? "clear" : "leaning";
    }

    /// <summary>Probability from which a verdict is called clear, or no difference; the contract's.</summary>
    public const double Sure = 0.9;

    /// <summary>True where no two options' expectations differ by more than anybody feels.</summary>
    public bool HardlyMatters(int cell)
    {
        Band[] known = [.. Options.Select(o => o.RoundTripMps[cell])];
        return known.All(b => b.IsKnown) && known.Max(b => b.Value) - known.Min(b => b.Value) <= Comparison.FeltMps;
    }

    private static Band Rounded(Band band) => band.IsKnown
        ? new Band(Math.Round(band.Value, Decimals), Math.Round(band.Low, Decimals), Math.Round(band.High, Decimals))
        : band;

    private static void Fill(double[,][] rows, int draws)
    {
        for (int k = 0; k < rows.GetLength(0); k++)
        {
            for (int c = 0; c < rows.GetLength(1); c++)
            {
                rows[k, c] = new double[draws];
            }
        }
    }
}

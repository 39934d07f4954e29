using ThermalTrace.Decisions;

namespace ThermalTrace.Learning;

/// <summary>
/// What a season's climbs say of how lift is worked: draws from the prior, weighed by how well they explain what climbs of one session
/// met with different masses and turbulence. How strong each session's lift was is not known and drops out. Climbs with one mass are taken
/// together: among them a wide circle goes with weak lift, and that would pass for what width costs. Nor is every thermal worked with
/// every mass: a heavy model leaves alone what a light one climbs in, so a common slope with mass is allowed for beside the habits, and what
/// is learned is how the difference changes with turbulence and width. docs/models/season.md eq. 7.
/// </summary>
internal static class LearnedHabits
{
    private const int Candidates = 3000, Draws = 600;
    private const int MostRows = 3000;          // the latest: habits change, and more say nothing new
    private const double LeastScatter = 0.15;   // of a climb about its session's lift, as a logarithm: thermals of one day differ
    private const double UsualScatter = 0.3, UsualWeight = 10; // of a flight's climbs about its session's; from simulations: docs/calibration.md
    private const double ChoiceSlope = 0.3; // of the lift worked with the logarithm of mass, one standard deviation; common practice, no source
    private const double Trust = 0.5; // of the likelihood: days differ in more than their lift, and the pilot flies them knowing what is fitted
    private const double LeastEffective = 60;   // draws that carry the posterior

    /// <summary>Equally likely draws.</summary>
    /// <param name="all">The season's climbs.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="cancel">Stops the work.</param>
    public static IReadOnlyList<ClimbHabit> Learn(IReadOnlyList<ClimbRow> all, int seed, CancellationToken cancel)
    {
        System.Random random = new(seed);
        ClimbHabit[] candidates = [.. Enumerable.Range(0, Candidates).Select(_ => ClimbHabit.Draw(random))];
        ClimbRow[] rows = [.. all.Skip(Math.Max(0, all.Count - MostRows))];
        int[] sessions = [.. rows.Select(r => r.Session).Distinct()];
        Cell[] cells = Cell.Of(rows);
        if (cells.Length - sessions.Length < 2)
        {
            return candidates[..Draws];
        }
        double[] squares = new double[Candidates];
        for (int c = 0; c < Candidates; c++)
        {
            cancel.ThrowIfCancellationRequested();
            squares[c] = Squares(cells, candidates[c]);
        }
        // The scatter is what the best of the candidates leaves, with a usual one beside it where there are few climbs.
        int free = cells.Length - sessions.Length;
        double scatter = Math.Max(LeastScatter * LeastScatter, (squares.Min() + UsualWeight * UsualScatter * UsualScatter) / (free + UsualWeight));
        double[] logs = [.. squares.Select(s => -0.5 * s / scatter)];
        // Where a few candidates would carry everything, the grid of candidates is too coarse for what is known: the likelihood is flattened until enough carry it.
        double power = Trust;
        double[] weights = Weights(logs, power);
        while (1 / weights.Sum(w => w * w) < LeastEffective)
        {
            power *= 0.8;
            weights = Weights(logs, power);
        }
        return Resampled(candidates, weights);
    }

    /// <summary>Climbs of one session with one mass.</summary>
    /// <param name="Session">Index.</param>
    /// <param name="Flights">In how many flights: climbs of one flight have more than the mass in common.</param>
    /// <param name="LogAir">Mean logarithm of the air met.</param>
    /// <param name="MassRatio">Of the mass.</param>
    /// <param name="Edr">Mean.</param>
    /// <param name="Inside2">Mean square of <see cref="ClimbRow.Inside"/>.</param>
    private readonly record struct Cell(int Session, int Flights, double LogAir, double MassRatio, double Edr, double Inside2)
    {
        public static Cell[] Of(ClimbRow[] rows) => [.. rows.GroupBy(r => (r.Session, Mass: Math.Round(r.MassRatio, 3)))
            .Select(g => new Cell(g.Key.Session, g.Select(r => r.Flight).Distinct().Count(), g.Average(r => Math.Log(r.AirMps)), g.Average(r => r.MassRatio), g.Average(r => r.Edr), g.Average(r => r.Inside * r.Inside)))];

        public double Left(ClimbHabit habit) => LogAir - Math.Log(habit.At(0, Edr, 0).Centring(MassRatio)) + Inside2 / (habit.RadiusFactor * habit.RadiusFactor);
    }

    /// <summary>Sum of squares about each session's own lift.</summary>
    private static double Squares(Cell[] cells, ClimbHabit habit)
    {
        double yy = 0, xy = 0, xx = 0;
        for (int i = 0; i < cells.Length;)
        {
            int end = i;
            double n = 0, sumX = 0, sumY = 0, sumXx = 0, sumXy = 0, sumYy = 0;
            for (; end < cells.Length && cells[end].Session == cells[i].Session; end++)
            {
                double w = cells[end].Flights, x = Math.Log(cells[end].MassRatio), y = cells[end].Left(habit);
                (n, sumX, sumY) = (n + w, sumX + w * x, sumY + w * y);
                (sumXx, sumXy, sumYy) = (sumXx + w * x * x, sumXy + w * x * y, sumYy + w * y * y);
            }
            (xx, xy, yy) = (xx + sumXx - sumX * sumX / n, xy + sumXy - sumX * sumY / n, yy + sumYy - sumY * sumY / n);
            i = end;
        }
        return yy - xy * xy / (xx + UsualScatter * UsualScatter / (ChoiceSlope * ChoiceSlope));
    }

    private static double[] Weights(double[] logs, double power)
    {
        double top = logs.Max();
        double[] weights = [.. logs.Select(l => Math.Exp(power * (l - top)))];
        double sum = weights.Sum();
        return [.. weights.Select(w => w / sum)];
    }

    private static ClimbHabit[] Resampled(ClimbHabit[] candidates, double[] weights)
    {
        ClimbHabit[] drawn = new ClimbHabit[Draws];
        double reached = weights[0];
        int at = 0;
        for (int d = 0; d < Draws; d++)
        {
            while (reached < (d + 0.5) / Draws && at < candidates.Length - 1)
            {
                reached += weights[++at];
            }
            drawn[d] = candidates[at];
        }
        // Neighbours in the list would else be one and the same: whoever takes every so many meets all.
        System.Random shuffle = new(1);
        shuffle.Shuffle(drawn);
        return drawn;
    }
}

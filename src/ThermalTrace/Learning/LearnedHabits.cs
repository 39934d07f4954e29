using ThermalTrace.Decisions;

namespace ThermalTrace.Learning;

/// <summary>
/// What a season's climbs say of how lift is worked: draws from the prior, weighed by how well they explain what climbs of one session
/// met with different masses, circles and turbulence. How strong each session's lift was is not known and drops out. docs/models/season.md eq. 7.
/// </summary>
internal static class LearnedHabits
{
    private const int Candidates = 3000, Draws = 600;
    private const int MostRows = 3000;          // the latest: habits change, and more say nothing new
    private const double LeastScatter = 0.15;   // of a climb about its session's lift, as a logarithm: thermals of one day differ
    private const double UsualScatter = 0.3, UsualWeight = 10; // from simulations: docs/calibration.md
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
        if (rows.Length - sessions.Length < 2)
        {
            return candidates[..Draws];
        }
        double[] squares = new double[Candidates];
        double[] kept = new double[rows.Length];
        for (int c = 0; c < Candidates; c++)
        {
            cancel.ThrowIfCancellationRequested();
            squares[c] = Squares(rows, candidates[c], kept);
        }
        // The scatter is what the best of the candidates leaves, with a usual one beside it where there are few climbs.
        int free = rows.Length - sessions.Length;
        double scatter = Math.Max(LeastScatter * LeastScatter, (squares.Min() + UsualWeight * UsualScatter * UsualScatter) / (free + UsualWeight));
        double[] logs = [.. squares.Select(s => -0.5 * s / scatter)];
        // Where a few candidates would carry everything, the grid of candidates is too coarse for what is known: the likelihood is flattened until enough carry it.
        double power = 1;
        double[] weights = Weights(logs, power);
        while (1 / weights.Sum(w => w * w) < LeastEffective)
        {
            power *= 0.8;
            weights = Weights(logs, power);
        }
        return Resampled(candidates, weights);
    }

    /// <summary>Sum of squares about each session's own lift.</summary>
    private static double Squares(ClimbRow[] rows, ClimbHabit habit, double[] left)
    {
        double total = 0;
        for (int i = 0; i < rows.Length;)
        {
            int end = i;
            double sum = 0;
            for (; end < rows.Length && rows[end].Session == rows[i].Session; end++)
            {
                left[end] = Math.Log(rows[end].AirMps) - rows[end].LogKept(habit);
                sum += left[end];
            }
            double mean = sum / (end - i);
            for (; i < end; i++)
            {
                total += (left[i] - mean) * (left[i] - mean);
            }
        }
        return total;
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

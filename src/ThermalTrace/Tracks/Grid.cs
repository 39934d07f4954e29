namespace ThermalTrace.Tracks;

/// <summary>Puts rows that come as they come onto an even grid.</summary>
internal static class Grid
{
    private const double StampErrorS = 1e-6; // what is as far apart as this is at the same time

    /// <summary>
    /// Step of the grid for rows at a median spacing: the rows' own down to 0.2 s. Faster rows are averaged: nothing a
    /// model glider does to its energy or heading is lost below that. Whole microseconds, lest the last digits of stamps,
    /// which depend on where a log begins, decide how many steps make a second.
    /// </summary>
    public static double StepFor(double medianStepS) => Math.Max(Math.Round(medianStepS, 6), 0.2);

    /// <summary>
    /// Values at the grid points: the mean of the rows within half a step where rows are denser than the grid, linear
    /// between neighbours no more than <paramref name="bridgeS"/> apart otherwise; NaN elsewhere.
    /// </summary>
    public static double[] Resample(ReadOnlySpan<double> timeS, ReadOnlySpan<double> values, double startS, double stepS, int count, double bridgeS)
    {
        double[] result = new double[count];
        int row = 0;
        for (int i = 0; i < count; i++)
        {
            double t = startS + i * stepS;
            double sum = 0;
            int n = 0;
            while (row < timeS.Length && timeS[row] < t - stepS / 2 - StampErrorS)
            {
                row++;
            }
            for (int k = row; k < timeS.Length && timeS[k] < t + stepS / 2 - StampErrorS; k++)
            {
                if (!double.IsNaN(values[k]))
                {
                    sum += values[k];
                    n++;
                }
            }
            result[i] = n > 1 ? sum / n : Between(timeS, values, row, t, bridgeS);
        }
        return result;
    }

    private static double Between(ReadOnlySpan<double> timeS, ReadOnlySpan<double> values, int row, double t, double bridgeS)
    {
        int after = row;
        while (after < timeS.Length && (timeS[after] < t || double.IsNaN(values[after])))
        {
            if (timeS[after] > t + bridgeS)
            {
                return double.NaN;
            }
            after++;
        }
        int before = Math.Min(after, timeS.Length) - 1;
        while (before >= 0 && (timeS[before] > t || double.IsNaN(values[before])))
        {
            if (timeS[before] < t - bridgeS)
            {
                return double.NaN;
            }
            before--;
        }
        bool hasBefore = before >= 0 && !double.IsNaN(values[before]);
        bool hasAfter = after < timeS.Length;
        if (hasBefore && hasAfter)
        {
            double gap = timeS[after] - timeS[before];
            double weight = gap > 0 ? (t - timeS[before]) / gap : 0;
            return gap <= bridgeS + StampErrorS ? values[before] + weight * (values[after] - values[before]) : double.NaN;
        }
        int nearest = hasBefore ? before : hasAfter ? after : -1;
        return nearest >= 0 && Math.Abs(timeS[nearest] - t) <= bridgeS / 2 + StampErrorS ? values[nearest] : double.NaN;
    }

    /// <summary>Nearest row's value, for quantities that jump (settings); NaN where the nearest is farther than <paramref name="bridgeS"/>.</summary>
    public static double[] Nearest(ReadOnlySpan<double> timeS, ReadOnlySpan<double> values, double startS, double stepS, int count, double bridgeS)
    {
        double[] result = new double[count];
        int row = 0;
        for (int i = 0; i < count; i++)
        {
            double t = startS + i * stepS;
            while (row + 1 < timeS.Length && Math.Abs(timeS[row + 1] - t) <= Math.Abs(timeS[row] - t))
            {
                row++;
            }
            result[i] = row < timeS.Length && Math.Abs(timeS[row] - t) <= bridgeS ? values[row] : double.NaN;
        }
        return result;
    }
}

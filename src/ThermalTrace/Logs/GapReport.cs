namespace ThermalTrace.Logs;

/// <summary>Lists where a log has no rows, and where its channels have no values.</summary>
internal static class GapReport
{
    /// <summary>A pause shorter than this, s, or than ten usual steps is jitter.</summary>
    private const double ShortestGapS = 3;

    private const int GapsNamed = 20;

    public static void Gaps(RawLog log, double[] timeS, double rateHz, ProblemList problems)
    {
        double least = Math.Max(ShortestGapS, 10 / rateHz);
        (int count, double total, double longest, int line) = (0, 0, 0, 0);
        for (int i = 1; i < timeS.Length; i++)
        {
            double gap = timeS[i] - timeS[i - 1];
            if (!(gap > least))
            {
                continue;
            }
            if (++count <= GapsNamed)
            {
                problems.Add(log.Lines[i], $"no rows for {gap:0.#} s before this one: the logger paused or lost data");
                continue;
            }
            line = line == 0 ? log.Lines[i] : line;
            total += gap;
            longest = Math.Max(longest, gap);
        }
        if (count > GapsNamed)
        {
            problems.Add(line, $"{Words.Count(count - GapsNamed, "more gap")} from here on, {total:0.#} s in all, the longest {longest:0.#} s");
        }
    }

    /// <summary>Says which channels are empty here and there; those of the receiver only where it has a fix.</summary>
    public static void Missing(RawLog log, ProblemList problems)
    {
        log.Columns.TryGetValue(Quantity.Latitude, out double[]? latitude);
        foreach ((Quantity quantity, double[] values) in log.Columns)
        {
            if (quantity is Quantity.Latitude or Quantity.Longitude)
            {
                continue;
            }
            bool receiver = latitude is not null && quantity is Quantity.GpsAltitude or Quantity.GroundSpeed or Quantity.Track;
            int missing = 0, first = 0;
            for (int i = 0; i < values.Length; i++)
            {
                if (double.IsNaN(values[i]) && !(receiver && double.IsNaN(latitude![i])))
                {
                    first = missing++ == 0 ? log.Lines[i] : first;
                }
            }
            if (missing > 0)
            {
                string column = ColumnPlan.ProblemText(log.Channels.Find(c => c.Quantity == quantity)!.Column);
                problems.Add(first, $"{column}: {Words.Count(missing, "row")} of {values.Length:N0} without a value");
            }
        }
    }
}

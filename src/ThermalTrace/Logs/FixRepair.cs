namespace ThermalTrace.Logs;

/// <summary>Lost fixes of satellite navigation: written as 0, 0 or left empty; listed, and what hangs on them taken out.</summary>
internal static class FixRepair
{
    private static readonly Quantity[] OfTheReceiver = [Quantity.Latitude, Quantity.Longitude, Quantity.GpsAltitude, Quantity.GroundSpeed, Quantity.Track];

    /// <summary>Fixes further apart than this, s, and than four of their usual steps, were lost in between.</summary>
    private const double ShortestLossS = 2;

    public static void Apply(RawLog log, double[] timeS, ProblemList problems)
    {
        if (!log.Columns.TryGetValue(Quantity.Latitude, out double[]? latitude) || !log.Columns.TryGetValue(Quantity.Longitude, out double[]? longitude))
        {
            return;
        }
        double[][] channels = [.. OfTheReceiver.Where(log.Columns.ContainsKey).Select(q => log.Columns[q])];
        int zeros = 0, firstZero = 0;
        for (int i = 0; i < latitude.Length; i++)
        {
            if (latitude[i] == 0 && longitude[i] == 0)
            {
                firstZero = zeros++ == 0 ? log.Lines[i] : firstZero;
                foreach (double[] channel in channels)
                {
                    channel[i] = double.NaN;
                }
            }
            else if (double.IsNaN(latitude[i]) != double.IsNaN(longitude[i]))
            {
                latitude[i] = longitude[i] = double.NaN;
            }
        }
        if (zeros > 0)
        {
            problems.Add(firstZero, $"{Words.Count(zeros, "row")} with the position 0, 0: no fix; position, GPS altitude, ground speed and track left out there");
        }
        Report(log, timeS, latitude, problems);
    }

    private static void Report(RawLog log, double[] timeS, double[] latitude, ProblemList problems)
    {
        int fixes = Array.FindAll(latitude, v => !double.IsNaN(v)).Length;
        if (fixes == 0)
        {
            problems.Add(log.Lines[0], "no row has a GPS fix");
            return;
        }
        double[] steps = new double[fixes - 1];
        int last = -1, n = 0;
        for (int i = 0; i < latitude.Length; i++)
        {
            if (!double.IsNaN(latitude[i]))
            {
                if (last >= 0)
                {
                    steps[n++] = timeS[i] - timeS[last];
                }
                last = i;
            }
        }
        double usual = steps.Length == 0 ? 1 : Median.Of(steps);
        double least = Math.Max(ShortestLossS, 4 * usual);
        (int count, double total, double longest, int line, int rows) = (0, 0, 0, 0, 0);
        last = -1;
        for (int i = 0; i <= latitude.Length; i++)
        {
            if (i < latitude.Length && double.IsNaN(latitude[i]))
            {
                continue;
            }
            // From the last fix, or the log's first row, to this one, or the log's last row.
            int from = last + 1, missing = i - from;
            double seconds = timeS[Math.Min(i, latitude.Length - 1)] - timeS[Math.Max(last, 0)];
            if (missing > 0 && seconds > least)
            {
                line = count++ == 0 ? log.Lines[from] : line;
                total += seconds;
                longest = Math.Max(longest, seconds);
                rows += missing;
            }
            last = i;
        }
        if (count > 0)
        {
            problems.Add(line, $"GPS fix lost {Words.Count(count, "time")}, {total:0.#} s and {Words.Count(rows, "row")} in all{(count > 1 ? $", the longest {longest:0.#} s" : "")}; ground speed and track are missing there too");
        }
    }
}

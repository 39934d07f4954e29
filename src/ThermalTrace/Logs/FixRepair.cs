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
        List<int> fixes = [];
        for (int i = 0; i < latitude.Length; i++)
        {
            if (!double.IsNaN(latitude[i]))
            {
                fixes.Add(i);
            }
        }
        if (fixes.Count == 0)
        {
            problems.Add(log.Lines[0], "no row has a GPS fix");
            return;
        }
        List<double> steps = [];
        for (int k = 1; k < fixes.Count; k++)
        {
            steps.Add(timeS[fixes[k]] - timeS[fixes[k - 1]]);
        }
        double usual = steps.Count == 0 ? 1 : steps.Order().ElementAt(steps.Count / 2);
        double least = Math.Max(ShortestLossS, 4 * usual);
        (int count, double total, double longest, int line, int rows) = (0, 0, 0, 0, 0);
        void Lost(int from, int to, double seconds)
        {
            if (to - from < 1 || !(seconds > least))
            {
                return;
            }
            line = count++ == 0 ? log.Lines[from] : line;
            total += seconds;
            longest = Math.Max(longest, seconds);
            rows += to - from;
        }
        Lost(0, fixes[0], timeS[fixes[0]] - timeS[0]);
        for (int k = 1; k < fixes.Count; k++)
        {
            Lost(fixes[k - 1] + 1, fixes[k], steps[k - 1]);
        }
        Lost(fixes[^1] + 1, timeS.Length, timeS[^1] - timeS[fixes[^1]]);
        if (count > 0)
        {
            problems.Add(line, $"GPS fix lost {Words.Count(count, "time")}, {total:0.#} s and {Words.Count(rows, "row")} in all{(count > 1 ? $", the longest {longest:0.#} s" : "")}; ground speed and track are missing there too");
        }
    }
}

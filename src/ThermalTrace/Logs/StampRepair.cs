namespace ThermalTrace.Logs;

/// <summary>
/// Puts the rows into strictly rising time: doubled rows go, a clock that began anew is set on, rows out of order are sorted,
/// stamps coarser than the rate are spread. Jitter finer than that is left alone: it may be true.
/// </summary>
internal static class StampRepair
{
    /// <summary>Time that falls by more than this and stays behind for long has begun anew.</summary>
    private const double RestartFallS = 2;
    private const int RestartRows = 40;

    /// <summary>Put between the parts of a log whose clock began anew; how long it was off nobody knows.</summary>
    private const double PauseAssumedS = 60;

    public static void Apply(RawLog log, ProblemList problems)
    {
        Continue(log, problems);
        MoveUpUnsetClock(log, problems);
        double? coarse = CoarseStepTicks(log);
        DropDoubles(log, coarse is not null, problems);
        Sort(log, problems);
        if (coarse is double step)
        {
            Spread(log, step, problems);
        }
        MergeSame(log, problems);
    }

    /// <summary>A power-on clock that begins anew: the rest is put after what was before.</summary>
    private static void Continue(RawLog log, ProblemList problems)
    {
        if (log.HasClock)
        {
            return;
        }
        double[] ticks = log.Ticks;
        double shift = 0, highest = ticks[0];
        for (int i = 1; i < ticks.Length; i++)
        {
            ticks[i] += shift;
            if (ticks[i] < highest - RestartFallS * TimeSpan.TicksPerSecond && StaysBehind(ticks, i, shift, highest))
            {
                double more = highest + PauseAssumedS * TimeSpan.TicksPerSecond - ticks[i];
                shift += more;
                ticks[i] += more;
                log.Restarts.Add(log.Lines[i]);
                problems.Add(log.Lines[i], $"the time begins anew: the logger was switched on again; set {PauseAssumedS:0} s after the row before");
            }
            highest = Math.Max(highest, ticks[i]);
        }
    }

    private static bool StaysBehind(double[] ticks, int from, double shift, double highest)
    {
        int end = Math.Min(ticks.Length, from + RestartRows);
        // A few rows at the very end are stragglers, not a new start.
        if (end - from < Math.Min(RestartRows, 5))
        {
            return false;
        }
        for (int i = from + 1; i < end; i++)
        {
            if (ticks[i] + shift > highest || ticks[i] + shift < ticks[i - 1] + (i - 1 > from ? shift : 0) - RestartFallS * TimeSpan.TicksPerSecond)
            {
                return false;
            }
        }
        return true;
    }

    /// <summary>A real-time clock that was set while logging: rows before have a date years off and are moved up.</summary>
    private static void MoveUpUnsetClock(RawLog log, ProblemList problems)
    {
        if (!log.HasDate)
        {
            return;
        }
        const double most = 300 * (double)TimeSpan.TicksPerDay;
        for (int i = 1; i < log.Rows; i++)
        {
            double jump = log.Ticks[i] - log.Ticks[i - 1];
            if (jump > most)
            {
                double move = jump - TimeSpan.TicksPerSecond;
                for (int j = 0; j < i; j++)
                {
                    log.Ticks[j] += move;
                }
                problems.Add(log.Lines[i], $"the clock was set here; {Words.Count(i, "row")} before it moved up to 1 s before");
            }
        }
    }

    /// <summary>The stamps' own step where several rows share most stamps and every stamp is a multiple of it; else null.</summary>
    private static double? CoarseStepTicks(RawLog log)
    {
        double[] ticks = log.Ticks;
        int shared = 0;
        for (int i = 1; i < ticks.Length; i++)
        {
            shared += ticks[i] == ticks[i - 1] ? 1 : 0;
        }
        if (shared < 0.02 * ticks.Length)
        {
            return null;
        }
        List<double> steps = [];
        for (int i = 1; i < ticks.Length; i++)
        {
            if (ticks[i] > ticks[i - 1])
            {
                steps.Add(ticks[i] - ticks[i - 1]);
            }
        }
        if (steps.Count == 0)
        {
            return null;
        }
        double step = Median.Of([.. steps]);
        int multiples = steps.Count(s => Math.Abs(s / step - Math.Round(s / step)) < 1e-6);
        return multiples > 0.98 * steps.Count ? step : null;
    }

    private static void DropDoubles(RawLog log, bool coarse, ProblemList problems)
    {
        double[][] columns = [.. log.Columns.Values];
        bool[] same = new bool[log.Rows];
        int doubled = 0, equalStamps = 0;
        for (int i = 1; i < log.Rows; i++)
        {
            if (log.Ticks[i] == log.Ticks[i - 1])
            {
                equalStamps++;
                same[i] = Array.TrueForAll(columns, c => c[i].Equals(c[i - 1]));
                doubled += same[i] ? 1 : 0;
            }
        }
        // Under coarse stamps a model at rest writes equal rows that are not doubles.
        if (doubled == 0 || coarse && doubled < 0.8 * equalStamps)
        {
            return;
        }
        List<int> keep = new(log.Rows);
        for (int i = 0; i < log.Rows; i++)
        {
            if (same[i])
            {
                problems.Count(ProblemKind.DoubledRow, -1, log.Lines[i], default, (_, n) => $"{Words.Count(n, "doubled row")}; one of each was kept");
                continue;
            }
            keep.Add(i);
        }
        log.Take([.. keep]);
    }

    private static void Sort(RawLog log, ProblemList problems)
    {
        double highest = double.NegativeInfinity;
        int late = 0, first = 0;
        for (int i = 0; i < log.Rows; i++)
        {
            if (log.Ticks[i] < highest)
            {
                first = late++ == 0 ? log.Lines[i] : first;
            }
            highest = Math.Max(highest, log.Ticks[i]);
        }
        if (late == 0)
        {
            return;
        }
        problems.Add(first, $"{Words.Count(late, "row")} out of order; sorted by time");
        int[] order = new int[log.Rows];
        for (int i = 0; i < order.Length; i++)
        {
            order[i] = i;
        }
        double[] keys = log.Ticks;
        Array.Sort(order, (a, b) => keys[a] != keys[b] ? keys[a].CompareTo(keys[b]) : a.CompareTo(b));
        log.Take(order);
        DropDoubles(log, false, problems);
    }

    /// <summary>Spreads the rows that share a stamp evenly up to the next stamp.</summary>
    private static void Spread(RawLog log, double stepTicks, ProblemList problems)
    {
        double[] ticks = log.Ticks;
        List<(int Start, int Count)> runs = [];
        for (int i = 0; i < ticks.Length; i++)
        {
            if (i > 0 && ticks[i] == ticks[i - 1])
            {
                runs[^1] = (runs[^1].Start, runs[^1].Count + 1);
            }
            else
            {
                runs.Add((i, 1));
            }
        }
        int usual = runs.ConvertAll(r => r.Count).Order().ElementAt(runs.Count / 2);
        int spread = 0, firstLine = 0;
        double[] even = (double[])ticks.Clone();
        for (int r = 0; r < runs.Count; r++)
        {
            (int start, int count) = runs[r];
            if (count < 2 && usual < 2)
            {
                continue;
            }
            bool afterGap = r == 0 || ticks[start] - ticks[runs[r - 1].Start] > 1.5 * stepTicks;
            bool beforeGap = r == runs.Count - 1 || ticks[runs[r + 1].Start] - ticks[start] > 1.5 * stepTicks;
            // A part of a second: recording began late in it, or ended early.
            // A stamp that comes too soon, as a broken one may, still comes after all rows of the one before.
            double span = r == runs.Count - 1 ? stepTicks : Math.Min(stepTicks, ticks[runs[r + 1].Start] - ticks[start]);
            double step = span / (count < usual && (afterGap || beforeGap) ? usual : count);
            double begin = count < usual && afterGap && !beforeGap ? ticks[start] + span - count * step : ticks[start];
            for (int j = 0; j < count; j++)
            {
                even[start + j] = Math.Round(begin + j * step);
            }
            if (count > 1)
            {
                firstLine = spread == 0 ? log.Lines[start] : firstLine;
                spread += count;
            }
        }
        if (spread == 0)
        {
            return;
        }
        log.Ticks = even;
        problems.Add(firstLine, $"stamps of {stepTicks / TimeSpan.TicksPerSecond:0.###} s are coarser than the rows, about {usual} to each; {Words.Count(spread, "row")} spread evenly");
    }

    private static void MergeSame(RawLog log, ProblemList problems)
    {
        // Compared as the seconds that come of them, of which a stamp centuries off leaves fewer digits.
        bool Same(int i) => (log.Ticks[i] - log.Ticks[0]) / TimeSpan.TicksPerSecond == (log.Ticks[i - 1] - log.Ticks[0]) / TimeSpan.TicksPerSecond;
        bool any = false;
        for (int i = 1; i < log.Rows && !any; i++)
        {
            any = Same(i);
        }
        if (!any)
        {
            return;
        }
        double[][] columns = [.. log.Columns.Values];
        List<int> keep = new(log.Rows);
        for (int i = 0; i < log.Rows; i++)
        {
            if (i > 0 && Same(i))
            {
                int into = keep[^1];
                foreach (double[] column in columns)
                {
                    column[into] = double.IsNaN(column[into]) ? column[i] : column[into];
                }
                problems.Count(ProblemKind.SameStamp, -1, log.Lines[i], default, (_, n) => $"{Words.Count(n, "row")} with the stamp of the row before; one of each was kept, its empty values filled from the other");
                continue;
            }
            keep.Add(i);
        }
        log.Take([.. keep]);
    }
}

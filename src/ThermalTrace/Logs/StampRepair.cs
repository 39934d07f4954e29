namespace ThermalTrace.Logs;

/// <summary>Puts the rows into strictly rising time.</summary>
internal static class StampRepair
{
    public static void Apply(RawLog log, ProblemList problems)
    {
        DropDoubles(log, problems);
        Sort(log, problems);
        MergeSame(log, problems);
    }

    private static void DropDoubles(RawLog log, ProblemList problems)
    {
        double[][] columns = [.. log.Columns.Values];
        List<int> keep = new(log.Rows);
        for (int i = 0; i < log.Rows; i++)
        {
            if (i > 0 && log.Ticks[i] == log.Ticks[i - 1] && Array.TrueForAll(columns, c => c[i].Equals(c[i - 1])))
            {
                problems.Count(ProblemKind.DoubledRow, -1, log.Lines[i], default, (_, n) => $"{Words.Count(n, "doubled row")}; one of each was kept");
                continue;
            }
            keep.Add(i);
        }
        if (keep.Count < log.Rows)
        {
            log.Take([.. keep]);
        }
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
        double[] keys = (double[])log.Ticks.Clone();
        Array.Sort(order, (a, b) => keys[a] != keys[b] ? keys[a].CompareTo(keys[b]) : a.CompareTo(b));
        log.Take(order);
    }

    private static void MergeSame(RawLog log, ProblemList problems)
    {
        double[][] columns = [.. log.Columns.Values];
        List<int> keep = new(log.Rows);
        for (int i = 0; i < log.Rows; i++)
        {
            if (i > 0 && log.Ticks[i] == log.Ticks[i - 1])
            {
                int into = keep[^1];
                foreach (double[] column in columns)
                {
                    column[into] = double.IsNaN(column[into]) ? column[i] : column[into];
                }
                problems.Count(ProblemKind.SameStamp, -1, log.Lines[i], default, (_, n) => $"{Words.Count(n, "row")} with the stamp of the row before; the first of each was kept");
                continue;
            }
            keep.Add(i);
        }
        if (keep.Count < log.Rows)
        {
            log.Take([.. keep]);
        }
    }
}

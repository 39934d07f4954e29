namespace ThermalTrace.Polars;

/// <summary>Columns added to a flight's rows to ask a further question of it. docs/models/checks.md.</summary>
internal static class AddedColumns
{
    /// <summary>The rows with one more column each: its values at the rows and the index of its term.</summary>
    public static EnergyRows With(EnergyRows rows, params ReadOnlySpan<(int Term, double[] Values)> added)
    {
        int count = rows.TimeS.Length, width = rows.Width + added.Length;
        double[] columns = new double[count * width];
        for (int t = 0; t < count; t++)
        {
            ReadOnlySpan<double> old = rows.Columns.AsSpan(t * rows.Width, rows.Width);
            Span<double> row = columns.AsSpan(t * width, width);
            old[..^2].CopyTo(row);
            for (int c = 0; c < added.Length; c++)
            {
                row[rows.Width - 2 + c] = added[c].Values[t];
            }
            old[^2..].CopyTo(row[^2..]);
        }
        int[] global = new int[rows.Global.Length + added.Length];
        rows.Global.CopyTo(global, 0);
        for (int c = 0; c < added.Length; c++)
        {
            global[rows.Global.Length + c] = added[c].Term;
        }
        return rows with { Columns = columns, Width = width, Global = global };
    }

    /// <summary>Air that rises by 1 m/s throughout: energy height grows with time.</summary>
    public static double[] RisingAir(EnergyRows rows) => [.. rows.TimeS.Select(t => t - rows.TimeS[0])];

    /// <summary>Air that rises by 1 m/s, in some rows only.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="counts">Whether the time before a row counts.</param>
    public static double[] RisingAir(EnergyRows rows, Func<int, bool> counts)
    {
        double[] path = new double[rows.TimeS.Length];
        for (int t = 1; t < path.Length; t++)
        {
            path[t] = path[t - 1] + (!rows.Fresh[t] && counts(t) ? rows.TimeS[t] - rows.TimeS[t - 1] : 0);
        }
        return path;
    }

    /// <summary>
    /// Mean ln CL of what was flown up to each row from the row before, weighted by drag: read from the discrepancy's own
    /// columns, whose shares say where between the nodes it was. NaN where a glide begins.
    /// </summary>
    public static double[] LnCl(EnergyRows rows)
    {
        double[] result = new double[rows.TimeS.Length];
        for (int t = 0; t < result.Length; t++)
        {
            double sum = 0, weighted = 0;
            for (int node = 0; t > 0 && !rows.Fresh[t] && node < DragTerms.Nodes; node++)
            {
                int c = 1 + DragTerms.Physical + node;
                double step = rows.Columns[t * rows.Width + c] - rows.Columns[(t - 1) * rows.Width + c];
                sum += step;
                weighted += step * DragTerms.NodeLnCl(node);
            }
            result[t] = sum != 0 ? weighted / sum : double.NaN;
        }
        return result;
    }
}

namespace ThermalTrace.Logs;

/// <summary>What can be told of a column only once all of it is read.</summary>
internal static class ColumnFinish
{
    /// <summary>Adds a column that was read to the log's, as the quantity or quantities that it is.</summary>
    public static void Add(PlannedColumn column, double[][] parts, LabelList labels, Dictionary<Quantity, double[]> columns, List<LogChannel> channels, ProblemList problems)
    {
        if (column.Letters)
        {
            // A coordinate whose letter is missing could be on either side: it is missing too.
            double[] values = columns[column.Quantity];
            for (int i = 0; i < values.Length; i++)
            {
                values[i] = Math.Abs(values[i]) * parts[0][i];
            }
            return;
        }
        string unit = column.Unit.Symbol;
        switch (column.Quantity)
        {
            case Quantity.Position:
                (double[] first, double[] second) = (parts[0], parts[1]);
                if (Array.Exists(first, v => Math.Abs(v) > 90) && !Array.Exists(second, v => Math.Abs(v) > 90))
                {
                    (first, second) = (second, first);
                    problems.Add(0, $"column \"{ColumnPlan.ProblemText(column.Header)}\" has the longitude first; it was read so");
                }
                columns[Quantity.Latitude] = first;
                columns[Quantity.Longitude] = second;
                channels.Add(new LogChannel(Quantity.Latitude, column.Header, unit));
                channels.Add(new LogChannel(Quantity.Longitude, column.Header, unit));
                return;
            case Quantity.Camber when labels.TooMany:
                problems.Add(0, $"column \"{ColumnPlan.ProblemText(column.Header)}\" was not used: it has more than {LabelList.Most} different values, so it is no wing setting");
                return;
            case Quantity.Latitude or Quantity.Longitude when IsDegreesAndMinutes(parts[0], column.Quantity == Quantity.Latitude ? 90 : 180):
                unit = "degrees and minutes";
                for (int i = 0; i < parts[0].Length; i++)
                {
                    parts[0][i] = PositionText.FromDegreesAndMinutes(parts[0][i]);
                }
                break;
            default:
                break;
        }
        columns[column.Quantity] = parts[0];
        channels.Add(new LogChannel(column.Quantity, column.Header, unit));
    }

    /// <summary>A receiver's ddmm.mmmm: beyond any degree, and the last two whole digits are minutes.</summary>
    private static bool IsDegreesAndMinutes(double[] values, double most)
    {
        int beyond = 0, others = 0;
        foreach (double v in values)
        {
            double size = Math.Abs(v);
            if (size > most)
            {
                if (!(size < most * 100 + 60 && size % 100 < 60))
                {
                    return false;
                }
                beyond++;
            }
            else if (size > 0)
            {
                others++;
            }
        }
        return beyond > 9 * others;
    }
}

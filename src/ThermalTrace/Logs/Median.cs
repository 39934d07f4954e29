using MathNet.Numerics.Statistics;

namespace ThermalTrace.Logs;

/// <summary>Medians by selection: a log's million steps need no sorting.</summary>
internal static class Median
{
    /// <summary>The median; the array's order is lost. NaN where it is empty.</summary>
    public static double Of(double[] values) => ArrayStatistics.MedianInplace(values);

    /// <summary>One over the median step between rows that differ in more than time, Hz; NaN where no two do.</summary>
    public static double RateHz(double[] timeS, double[][] columns)
    {
        List<double> steps = new(timeS.Length);
        int last = 0;
        for (int i = 1; i < timeS.Length; i++)
        {
            if (Differs(columns, i, last))
            {
                steps.Add(timeS[i] - timeS[last]);
                last = i;
            }
        }
        return steps.Count == 0 ? double.NaN : 1 / Of([.. steps]);
    }

    private static bool Differs(double[][] columns, int i, int j)
    {
        foreach (double[] column in columns)
        {
            if (column[i] != column[j] && !(double.IsNaN(column[i]) && double.IsNaN(column[j])))
            {
                return true;
            }
        }
        return false;
    }
}

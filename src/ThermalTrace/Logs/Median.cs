using MathNet.Numerics.Statistics;

namespace ThermalTrace.Logs;

/// <summary>Medians by selection: a log's million steps need no sorting.</summary>
internal static class Median
{
    /// <summary>The median; the array's order is lost. NaN where it is empty.</summary>
    public static double Of(double[] values) => ArrayStatistics.MedianInplace(values);

    /// <summary>The median of at most so many values evenly picked: enough for a usual step, and the same each time.</summary>
    public static double OfSome(List<double> values)
    {
        const int most = 50_000;
        int stride = (values.Count + most - 1) / most;
        if (stride <= 1)
        {
            return Of([.. values]);
        }
        double[] some = new double[(values.Count + stride - 1) / stride];
        for (int i = 0; i < some.Length; i++)
        {
            some[i] = values[i * stride];
        }
        return Of(some);
    }

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
        return steps.Count == 0 ? double.NaN : 1 / OfSome(steps);
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

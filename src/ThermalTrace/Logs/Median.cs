using MathNet.Numerics.Statistics;

namespace ThermalTrace.Logs;

/// <summary>Medians by selection: a log's million steps need no sorting.</summary>
internal static class Median
{
    /// <summary>The median; the array's order is lost. NaN where it is empty.</summary>
    public static double Of(double[] values) => ArrayStatistics.MedianInplace(values);

    /// <summary>One over the median step between rows, Hz; NaN for a single row.</summary>
    public static double RateHz(double[] timeS)
    {
        if (timeS.Length < 2)
        {
            return double.NaN;
        }
        double[] steps = new double[timeS.Length - 1];
        for (int i = 0; i < steps.Length; i++)
        {
            steps[i] = timeS[i + 1] - timeS[i];
        }
        return 1 / Of(steps);
    }
}

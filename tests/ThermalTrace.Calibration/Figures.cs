using System.Globalization;
using MathNet.Numerics.Distributions;

namespace ThermalTrace.Calibration;

/// <summary>Numbers as the tables print them, with their standard errors; not-a-number values are left out everywhere.</summary>
internal static class Figures
{
    /// <summary>A dash where it is not known.</summary>
    public static string Text(double value, string format)
    {
        string text = double.IsNaN(value) ? "–" : value.ToString(format, CultureInfo.InvariantCulture);
        // What rounds to nothing has no sign.
        return text.StartsWith('-') && text.All(c => c is '-' or '+' or '0' or '.') ? 0.0.ToString(format, CultureInfo.InvariantCulture) : text;
    }

    /// <summary>The values that are known.</summary>
    public static double[] Known(IEnumerable<double> values) => [.. values.Where(v => !double.IsNaN(v))];

    /// <summary>Mean ± its standard error.</summary>
    public static string Averaged(IEnumerable<double> values, string format = "0.000")
    {
        double[] known = Known(values);
        return known.Length == 0 ? "–" : $"{Text(known.Average(), format)} ± {Text(ErrorOfMean(known), format.Split(';')[0].TrimStart('+'))}";
    }

    /// <summary>Root mean square ± its standard error, by the scatter of the squares.</summary>
    public static string Rms(IEnumerable<double> values)
    {
        double[] squares = [.. Known(values).Select(v => v * v)];
        double root = squares.Length == 0 ? double.NaN : Math.Sqrt(squares.Average());
        return squares.Length == 0 ? "–" : $"{Text(root, "0.0000")} ± {Text(root > 0 ? ErrorOfMean(squares) / (2 * root) : 0, "0.0000")}";
    }

    /// <summary>Share of yes ± binomial standard error, and of how many.</summary>
    public static string Share(IEnumerable<double> yes)
    {
        double[] known = Known(yes);
        return known.Length == 0 ? "–" : $"{Text(known.Average(), "0.000")} ± {Text(BinomialError(known), "0.000")} of {known.Length}";
    }

    /// <summary>Share of yes over everything in the sessions; its error by the scatter of whole sessions, whose intervals tend to hold all or none.</summary>
    public static string Clustered(IReadOnlyList<SessionResult> results, Func<SessionResult, IReadOnlyList<double>> yes)
    {
        double[] sums = [.. results.Select(r => Known(yes(r)).Sum())];
        double[] counts = [.. results.Select(r => (double)Known(yes(r)).Length)];
        double all = counts.Sum(), share = sums.Sum() / all;
        double error = Math.Sqrt(sums.Zip(counts, (s, c) => (s - share * c) * (s - share * c)).Sum()) / all;
        return all > 0 ? $"{Text(share, "0.000")} ± {Text(error, "0.000")}" : "–";
    }

    /// <summary>Two yes and two no added, lest a share of 0 or 1 look certain (Agresti and Coull 1998).</summary>
    public static double BinomialError(IReadOnlyCollection<double> yes)
    {
        double share = (yes.Sum() + 2) / (yes.Count + 4);
        return Math.Sqrt(share * (1 - share) / (yes.Count + 4));
    }

    /// <summary>The least and most that 95 of 100 counts of a binomial stay within: at most 2.5 % lie below, at most 2.5 % above.</summary>
    public static (int Low, int High) BinomialRange(int trials, double chance)
    {
        const double tail = 0.025;
        int low = 0, high = trials;
        while (low < trials && Binomial.CDF(chance, trials, low) <= tail)
        {
            low++;
        }
        while (high > 0 && 1 - Binomial.CDF(chance, trials, high - 1) <= tail)
        {
            high--;
        }
        return (low, high);
    }

    /// <summary>By the values' scatter.</summary>
    public static double ErrorOfMean(double[] values)
    {
        double mean = values.Average();
        return Math.Sqrt(values.Average(v => (v - mean) * (v - mean)) / Math.Max(values.Length - 1, 1));
    }
}

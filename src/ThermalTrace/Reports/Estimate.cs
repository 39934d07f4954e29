using System.Globalization;

namespace ThermalTrace.Reports;

/// <summary>
/// How numbers are put before a person: never finer than their interval allows. Half of the 90 % interval keeps one
/// digit, or two where it would begin with 1 or 2, so that rounding costs at most a sixth of it.
/// </summary>
internal static class Estimate
{
    /// <summary>Digits after the point that an interval allows; negative for tens and hundreds.</summary>
    public static int Decimals(double low, double high)
    {
        double half = (high - low) / 2;
        if (!(half > 0) || double.IsInfinity(half))
        {
            return 2;
        }

        int magnitude = (int)Math.Floor(Math.Log10(half));
        bool beginsLow = half / Math.Pow(10, magnitude) < 3;
        return Math.Clamp(-magnitude + (beginsLow ? 1 : 0), -2, 6);
    }

    /// <summary>One rounding for a column of a table: that of the interval in the middle.</summary>
    public static int Decimals(IEnumerable<Interval> column)
    {
        int[] each = [.. column.Where(Known).Select(i => Decimals(i.Low!.Value, i.High!.Value)).Order()];
        return each.Length == 0 ? 2 : each[each.Length / 2];
    }

    public static bool Known(Interval interval) =>
        interval is { Value: { } v, Low: { } l, High: { } h } && double.IsFinite(v) && double.IsFinite(l) && double.IsFinite(h);

    /// <summary>Rounded, invariant, with a hyphen for minus and for what is not known.</summary>
    public static string Number(double value, int decimals)
    {
        if (!double.IsFinite(value))
        {
            return "-";
        }

        double unit = Math.Pow(10, Math.Max(0, -decimals));
        double rounded = Math.Round(value / unit, Math.Max(0, decimals), MidpointRounding.AwayFromZero) * unit;
        return (rounded == 0 ? 0 : rounded).ToString("F" + Math.Max(0, decimals).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    /// <summary>A number without an interval of its own, to so many significant digits (2 where nothing better is known).</summary>
    public static string Significant(double value, int digits = 2)
    {
        if (value == 0)
        {
            return "0";
        }

        int magnitude = (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return Number(value, Math.Clamp(digits - 1 - magnitude, 0, magnitude < -2 ? 3 : 2));
    }

    /// <summary>"0.31 (0.27 to 0.36)", or a dash where not known.</summary>
    public static string Plain(Interval interval, int? decimals = null)
    {
        if (!Known(interval))
        {
            return "-";
        }

        int d = decimals ?? Decimals(interval.Low!.Value, interval.High!.Value);
        return $"{Number(interval.Value!.Value, d)} ({Number(interval.Low!.Value, d)} to {Number(interval.High!.Value, d)})";
    }
}

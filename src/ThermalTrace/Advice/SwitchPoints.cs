using ThermalTrace.Decisions;

namespace ThermalTrace.Advice;

/// <summary>A change of ballast.</summary>
/// <param name="From">Option below the value.</param>
/// <param name="To">Option above it.</param>
/// <param name="At">Where both are worth the same, with the 90 % interval; its bounds are NaN beyond what was looked at.</param>
internal sealed record SwitchPoint(int From, int To, Band At);

/// <summary>
/// The fewest changes of ballast with which no value costs more than anybody feels, and where to make them. docs/models/advice.md eq. 6.
/// </summary>
internal static class SwitchPoints
{
    /// <summary>Finds them.</summary>
    /// <param name="trips">Over the condition.</param>
    /// <param name="allowed">False for options that are never suggested.</param>
    public static IReadOnlyList<SwitchPoint> Of(SweptTrips trips, bool[] allowed)
    {
        int[] options = [.. Enumerable.Range(0, allowed.Length).Where(k => allowed[k])];
        int values = trips.Over.Length;
        double[][] means = [.. allowed.Select((_, k) => Enumerable.Range(0, values).Select(v => trips.Mean(k, v)).ToArray())];
        // Where nobody's polar reaches the wind there is nothing to choose.
        int last = 0;
        while (last < values && options.Any(k => !double.IsNaN(means[k][last])))
        {
            last++;
        }
        double[] best = [.. Enumerable.Range(0, last).Select(v => options.Max(k => double.IsNaN(means[k][v]) ? double.NegativeInfinity : means[k][v]))];
        bool Good(int k, int v) => means[k][v] >= best[v] - Comparison.FeltMps;
        int Reach(int k, int from)
        {
            int v = from;
            while (v < last && Good(k, v))
            {
                v++;
            }
            return v;
        }
        List<SwitchPoint> points = [];
        int at = 0, current = -1;
        while (at < last)
        {
            // The one that stays good longest; of equals, the lighter.
            int next = options.OrderByDescending(k => Reach(k, at)).ThenBy(k => k).First();
            if (Reach(next, at) == at)
            {
                break;
            }
            if (current >= 0 && next != current)
            {
                points.Add(new SwitchPoint(current, next, Crossing(trips, current, next, means, at)));
            }
            (current, at) = (next, Reach(next, at));
        }
        return points;
    }

    /// <summary>Where two options' means cross next to a value, and where the draws' do.</summary>
    private static Band Crossing(SweptTrips trips, int from, int to, double[][] means, int near)
    {
        double[] over = trips.Over;
        double At(Func<int, double> difference)
        {
            double found = double.NaN;
            for (int v = 0; v + 1 < over.Length; v++)
            {
                double here = difference(v), then = difference(v + 1);
                if (here <= 0 && then > 0)
                {
                    double crossing = over[v] - here * (over[v + 1] - over[v]) / (then - here);
                    if (!(Math.Abs(crossing - over[near]) >= Math.Abs(found - over[near])))
                    {
                        found = crossing;
                    }
                }
            }
            return !double.IsNaN(found) ? found : difference(Math.Min(near, over.Length - 1)) > 0 ? double.NegativeInfinity : double.PositiveInfinity;
        }
        double mean = At(v => means[to][v] - means[from][v]);
        if (double.IsInfinity(mean))
        {
            mean = over[near];
        }
        double[] each = [.. Enumerable.Range(0, trips.Draws[from][0].Length).Select(d => At(v => trips.Draws[to][v][d] - trips.Draws[from][v][d])).Order()];
        double low = each[(int)(0.05 * (each.Length - 1))], high = each[(int)Math.Ceiling(0.95 * (each.Length - 1))];
        return new Band(mean, double.IsInfinity(low) ? double.NaN : Math.Min(low, mean), double.IsInfinity(high) ? double.NaN : Math.Max(high, mean));
    }
}

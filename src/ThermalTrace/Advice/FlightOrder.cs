namespace ThermalTrace.Advice;

/// <summary>
/// In which order ballasts are flown: there and back again, so that whatever changes steadily over the day meets all alike; of
/// those orders one with few changes of ballast whose middle flights are not all of one kind. docs/models/plan.md eq. 7.
/// </summary>
internal static class FlightOrder
{
    // A change of ballast takes minutes; a curved drift that meets ballasts unlike is weighed against it. Common practice, no source.
    private const double BendWeight = 6;

    /// <summary>Orders flights.</summary>
    /// <param name="counts">Flights for each ballast, all even.</param>
    /// <returns>Index of the ballast for each flight.</returns>
    /// <exception cref="ArgumentException">A count is odd or negative.</exception>
    public static IReadOnlyList<int> Of(IReadOnlyList<int> counts)
    {
        if (counts.Any(c => c < 0 || c % 2 != 0))
        {
            throw new ArgumentException("each ballast needs as many flights back as there", nameof(counts));
        }
        int[] left = [.. counts.Select(c => c / 2)];
        int[] half = new int[left.Sum()];
        int[] best = [];
        double least = double.PositiveInfinity;
        void Place(int at)
        {
            if (at == half.Length)
            {
                int[] order = [.. half, .. half.Reverse()];
                double cost = Changes(order) + BendWeight * Math.Sqrt(Bend(order, counts));
                // Strictly: of equals the first is taken, which begins with the lightest.
                if (cost < least - 1e-9)
                {
                    (least, best) = (cost, order);
                }
                return;
            }
            for (int k = 0; k < left.Length; k++)
            {
                if (left[k] > 0)
                {
                    left[k]--;
                    half[at] = k;
                    Place(at + 1);
                    left[k]++;
                }
            }
        }
        Place(0);
        return best;
    }

    /// <summary>How often the ballast is changed between flights.</summary>
    public static int Changes(IReadOnlyList<int> order) => Enumerable.Range(1, Math.Max(order.Count - 1, 0)).Count(i => order[i] != order[i - 1]);

    /// <summary>Mean over a ballast's flights of a drift that goes with a power of time from the session's middle, in flights.</summary>
    public static double Drift(IReadOnlyList<int> order, int ballast, int power)
    {
        double middle = (order.Count - 1) / 2.0, sum = 0;
        int count = 0;
        for (int i = 0; i < order.Count; i++)
        {
            if (order[i] == ballast)
            {
                sum += Math.Pow(i - middle, power);
                count++;
            }
        }
        return count == 0 ? 0 : sum / count;
    }

    /// <summary>Variance between ballasts of what a drift bent like a parabola does to them, over that of the flights' own times squared.</summary>
    private static double Bend(int[] order, IReadOnlyList<int> counts)
    {
        double usual = order.Average(k => Drift(order, k, 2));
        double sum = 0;
        for (int k = 0; k < counts.Count; k++)
        {
            double away = counts[k] == 0 ? 0 : Drift(order, k, 2) - usual;
            sum += counts[k] * away * away;
        }
        return usual > 0 ? sum / order.Length / (usual * usual) : 0;
    }
}

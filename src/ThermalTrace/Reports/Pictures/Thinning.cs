namespace ThermalTrace.Reports.Pictures;

/// <summary>Drops points that the eye cannot miss (Douglas and Peucker, 1973: keep what strays from the chord).</summary>
internal static class Thinning
{
    /// <summary>The indices worth keeping, ends included, so that no dropped point lies further than the tolerance from the line.</summary>
    public static int[] Keep(Range run, Func<int, double> xPx, Func<int, double> yPx, double tolerancePx)
    {
        int first = run.Start.Value, last = run.End.Value - 1;
        if (last <= first)
        {
            return last == first ? [first] : [];
        }

        var keep = new SortedSet<int> { first, last };
        var open = new Stack<(int From, int To)>([(first, last)]);
        while (open.TryPop(out (int From, int To) chord))
        {
            (double x0, double y0) = (xPx(chord.From), yPx(chord.From));
            (double dx, double dy) = (xPx(chord.To) - x0, yPx(chord.To) - y0);
            double length2 = dx * dx + dy * dy, worst = tolerancePx * tolerancePx;
            int at = -1;
            for (int i = chord.From + 1; i < chord.To; i++)
            {
                (double px, double py) = (xPx(i) - x0, yPx(i) - y0);
                double along = length2 > 0 ? Math.Clamp((px * dx + py * dy) / length2, 0, 1) : 0;
                (double ex, double ey) = (px - along * dx, py - along * dy);
                double distance2 = ex * ex + ey * ey;
                if (distance2 > worst)
                {
                    (worst, at) = (distance2, i);
                }
            }

            if (at >= 0)
            {
                keep.Add(at);
                open.Push((chord.From, at));
                open.Push((at, chord.To));
            }
        }

        return [.. keep];
    }
}

namespace ThermalTrace.Ballast;

/// <summary>Where ballast has to lie. Lengths mm, aft of one datum.</summary>
/// <param name="FrontMm">Front end of the tube.</param>
/// <param name="LengthMm">Of the tube.</param>
/// <param name="BareMassG">Of the model without ballast.</param>
/// <param name="BareCgMm">Its centre of gravity.</param>
/// <param name="ShiftMm">The wish, positive aft.</param>
/// <param name="CgCounts">False where the model's centre of gravity is not known: the ballast then only goes to the middle of the tube.</param>
/// <param name="ForwardLimitMm">Of the centre of gravity; minus infinity where not given.</param>
/// <param name="AftLimitMm">Of the centre of gravity; infinity where not given.</param>
internal sealed record StackPlace(double FrontMm, double LengthMm, double BareMassG, double BareCgMm, double ShiftMm, bool CgCounts, double ForwardLimitMm, double AftLimitMm)
{
    /// <summary>Where the middle of so much ballast should lie.</summary>
    public double CentroidMm(double massG) => CgCounts ? MassBalance.CentroidForMm(BareMassG, BareCgMm, massG, ShiftMm) : BareCgMm;

    /// <summary>The same where the limits of the centre of gravity do not reach the wish: as near to it as they let.</summary>
    public double AllowedCentroidMm(double massG) => CgCounts
        ? MassBalance.CentroidForMm(BareMassG, BareCgMm, massG, Math.Clamp(ShiftMm, ForwardLimitMm - BareCgMm, AftLimitMm - BareCgMm)) : BareCgMm;

    /// <summary>By how much a centre of gravity is outside the limits; 0 within.</summary>
    public double OutsideMm(double cgMm) => Math.Max(Math.Max(ForwardLimitMm - cgMm, cgMm - AftLimitMm), 0);

    /// <summary>By how much the centre of gravity misses the wish, positive aft.</summary>
    public double CgOffMm(double massG, double centroidMm) => CgCounts ? massG * (centroidMm - BareCgMm) / (BareMassG + massG) - ShiftMm : 0;

    /// <summary>False where the limits forbid it.</summary>
    public bool Allows(double massG, double centroidMm)
    {
        double cg = BareCgMm + massG * (centroidMm - BareCgMm) / (BareMassG + massG);
        return !CgCounts || MassBalance.WithinLimits(cg, (ForwardLimitMm, AftLimitMm));
    }

    /// <summary>m M/(m + M), g: what a distance of the ballast's middle from the bare model's counts with.</summary>
    public double ReducedMassG(double massG) => massG * BareMassG / (massG + BareMassG);
}

/// <summary>A stack of chosen pieces at its place.</summary>
/// <param name="LeftCounts">Of each kind chosen, in the order of the search, how many lie in front of the heaviest kind.</param>
/// <param name="FrontMm">Front end of the stack.</param>
/// <param name="CentroidMm">Middle of its mass.</param>
/// <param name="CgOffMm">By how much the centre of gravity misses the wish.</param>
/// <param name="InertiaGMm2">Added pitch inertia, g mm².</param>
internal sealed record Stack(int[] LeftCounts, double FrontMm, double CentroidMm, double CgOffMm, double InertiaGMm2);

/// <summary>
/// The best order of chosen pieces in the tube: one stack without gaps, densities falling to both ends from one place, slid so that the centre of gravity is where it
/// was wished. docs/models/pieces.md has the proof.
/// </summary>
internal static class StackOrder
{
    /// <summary>Kinds in one stack of which every order is looked at, if one piece of each is taken; of more orders the most compact so far are carried on.</summary>
    public const int AllOrdersOfKinds = 12;

    private const int MostOrders = 1 << AllOrdersOfKinds, CarriedOn = 256;
    private const int MostGrown = 200_000; // thousands of pieces of one kind have thousands of places each: megabytes

    private readonly record struct Half(double Left, double Right, double First, double Second, int Parent, int LeftCount);

    /// <summary>Finds it; null where every place breaks a limit of the centre of gravity.</summary>
    /// <param name="kinds">The kinds chosen, by falling linear density.</param>
    /// <param name="counts">How many of each, at least one.</param>
    /// <param name="place">Tube and model.</param>
    /// <param name="massOffG">By how much their mass misses what was asked for.</param>
    /// <param name="rightMassG">By how much it may.</param>
    /// <param name="complete">False where there were so many orders that some were passed over.</param>
    /// <param name="looked">How many orders were looked at.</param>
    public static Stack? Best(IReadOnlyList<PieceKind> kinds, IReadOnlyList<int> counts, StackPlace place, double massOffG, double rightMassG, out bool complete, out int looked)
    {
        double mass = 0, length = 0, own = 0;
        int pieces = counts.Sum();
        for (int k = 0; k < kinds.Count; k++)
        {
            mass += counts[k] * kinds[k].MassG;
            length += counts[k] * kinds[k].LengthMm;
            own += counts[k] * kinds[k].MassG * kinds[k].DiameterMm * kinds[k].DiameterMm / 16;
        }
        List<Half[]> levels = [];
        Half[] now = [Start(kinds[0], counts[0])];
        double massSoFar = counts[0] * kinds[0].MassG;
        (complete, looked) = (true, 1);
        for (int k = 1; k < kinds.Count; k++)
        {
            // What is as dense as the innermost may lie on either side of it.
            int places = kinds[k].LinearDensityGMm > kinds[0].LinearDensityGMm * (1 - 1e-9) ? 1 : counts[k] + 1, room = Math.Max(MostGrown / places, 1);
            if (now.Length > room)
            {
                (now, complete) = (MostCompact(now, room, massSoFar), false);
            }
            levels.Add(now);
            now = Grow(now, kinds[k], counts[k], places);
            looked += now.Length;
            massSoFar += counts[k] * kinds[k].MassG;
            if (kinds[k].LinearDensityGMm > kinds[k - 1].LinearDensityGMm * (1 - 1e-9))
            {
                // Of one density, pieces may change places: what counts is how long each side has become.
                now = [.. now.DistinctBy(h => (Math.Round(h.Left * 1e6), Math.Round(h.First * 1e3), Math.Round(h.Second * 1e3)))];
            }
            if (now.Length > MostOrders)
            {
                (now, complete) = (MostCompact(now, CarriedOn, massSoFar), false);
            }
        }
        double wanted = place.AllowedCentroidMm(mass), slack = Math.Max(place.LengthMm - length, 0), reduced = place.ReducedMassG(mass);
        Stack? best = null;
        int bestAt = -1;
        FitKey bestKey = FitKey.Worst;
        for (int i = 0; i < now.Length; i++)
        {
            Half order = now[i];
            double fromFront = order.First / mass + order.Left;
            double front = Math.Clamp(wanted - fromFront, place.FrontMm, place.FrontMm + slack), centroid = front + fromFront;
            if (!place.Allows(mass, centroid))
            {
                continue;
            }
            double off = place.CgOffMm(mass, centroid), away = centroid - place.BareCgMm;
            double inertia = order.Second - order.First * order.First / mass + own + reduced * away * away;
            FitKey key = FitKey.Of(massOffG, rightMassG, off, inertia, pieces);
            if (key.CompareTo(bestKey, FitAim.AsAsked) < 0)
            {
                (best, bestAt, bestKey) = (new Stack([], front, centroid, off, inertia), i, key);
            }
        }
        return best is null ? null : best with { LeftCounts = LeftCounts(levels, now[bestAt], kinds.Count) };
    }

    /// <summary>The pieces of a stack from the front to the back: index of the kind and middle of the piece, mm.</summary>
    public static IEnumerable<(int Kind, double CentreMm)> Places(IReadOnlyList<PieceKind> kinds, IReadOnlyList<int> counts, Stack stack)
    {
        double at = stack.FrontMm;
        for (int k = kinds.Count - 1; k >= 0; k--)
        {
            for (int i = 0; i < stack.LeftCounts[k]; i++, at += kinds[k].LengthMm)
            {
                yield return (k, at + kinds[k].LengthMm / 2);
            }
        }
        for (int k = 0; k < kinds.Count; k++)
        {
            for (int i = stack.LeftCounts[k]; i < counts[k]; i++, at += kinds[k].LengthMm)
            {
                yield return (k, at + kinds[k].LengthMm / 2);
            }
        }
    }

    /// <summary>Those with the least inertia about their own middle: what lies inside matters most. Each keeps its parent's place.</summary>
    private static Half[] MostCompact(Half[] orders, int most, double massG) => [.. orders.OrderBy(h => h.Second - h.First * h.First / massG).Take(most)];

    private static Half Start(PieceKind kind, int count)
    {
        double right = count * kind.LengthMm, density = kind.LinearDensityGMm;
        return new Half(0, right, density * right * right / 2, density * right * right * right / 3, -1, 0);
    }

    /// <summary>Every way to put pieces of one more kind around what is there.</summary>
    private static Half[] Grow(Half[] inner, PieceKind kind, int count, int places)
    {
        double density = kind.LinearDensityGMm;
        Half[] grown = new Half[inner.Length * places];
        for (int i = 0; i < inner.Length; i++)
        {
            for (int left = 0; left < places; left++)
            {
                Half h = inner[i];
                double a = h.Left + left * kind.LengthMm, b = h.Right + (count - left) * kind.LengthMm;
                grown[i * places + left] = new Half(a, b,
                    h.First + density * (b * b - h.Right * h.Right - a * a + h.Left * h.Left) / 2,
                    h.Second + density * (b * b * b - h.Right * h.Right * h.Right + a * a * a - h.Left * h.Left * h.Left) / 3, i, left);
            }
        }
        return grown;
    }

    private static int[] LeftCounts(List<Half[]> levels, Half last, int kinds)
    {
        int[] left = new int[kinds];
        for (int k = kinds - 1; k > 0; k--)
        {
            left[k] = last.LeftCount;
            last = levels[k - 1][last.Parent];
        }
        return left;
    }
}

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
/// <param name="Order">Index of the kind of each piece, from the front to the back.</param>
/// <param name="FrontMm">Front end of the stack.</param>
/// <param name="CentroidMm">Middle of its mass.</param>
/// <param name="CgOffMm">By how much the centre of gravity misses the wish.</param>
/// <param name="InertiaGMm2">Added pitch inertia, g mm².</param>
internal sealed record Stack(int[] Order, double FrontMm, double CentroidMm, double CgOffMm, double InertiaGMm2);

/// <summary>
/// The best order of chosen pieces in the tube: one stack without gaps, slid so that the centre of gravity is where it was wished. Densities fall to both ends from one place,
/// unless an end of the tube or a limit stops the stack and another order comes nearer. docs/models/pieces.md has the proof.
/// </summary>
internal static class StackOrder
{
    /// <summary>Kinds in one stack of which every order is looked at, if one piece of each is taken; of more orders the most compact so far are carried on.</summary>
    public const int AllOrdersOfKinds = 12;

    /// <summary>Pieces in one stack of which every order is looked at where something stops the stack.</summary>
    public const int AnyOrderOfPieces = 7;

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
        Chooser chooser = new(place, mass, length, own, pieces, massOffG, rightMassG);
        int bestAt = -1;
        for (int i = 0; i < now.Length; i++)
        {
            if (chooser.Offer(now[i].First / mass + now[i].Left, now[i].Second - now[i].First * now[i].First / mass))
            {
                bestAt = i;
            }
        }
        int[]? order = bestAt < 0 ? null : Order(counts, LeftCounts(levels, now[bestAt], kinds.Count));
        if (!chooser.MostCompactIsAsWished && pieces <= AnyOrderOfPieces)
        {
            AnyOrder any = new(kinds, counts, mass, chooser);
            any.Try();
            order = any.Best ?? order;
            looked += any.Tried;
        }
        return order is null ? null : chooser.Best with { Order = order };
    }

    /// <summary>The pieces of a stack from the front to the back: index of the kind and middle of the piece, mm.</summary>
    public static IEnumerable<(int Kind, double CentreMm)> Places(IReadOnlyList<PieceKind> kinds, Stack stack)
    {
        double at = stack.FrontMm;
        foreach (int k in stack.Order)
        {
            yield return (k, at + kinds[k].LengthMm / 2);
            at += kinds[k].LengthMm;
        }
    }

    /// <summary>Slides each order offered to where it is best, and keeps the best.</summary>
    private sealed class Chooser(StackPlace place, double massG, double lengthMm, double ownGMm2, int pieces, double massOffG, double rightMassG)
    {
        private const double SameMm = 1e-9; // rounding of a sum

        private readonly double _wanted = place.AllowedCentroidMm(massG), _slack = Math.Max(place.LengthMm - lengthMm, 0), _reduced = place.ReducedMassG(massG);
        private FitKey _key = FitKey.Worst;
        private double _leastSpread = double.PositiveInfinity;

        /// <summary>The best so far, its order left out.</summary>
        public Stack Best { get; private set; } = new([], double.NaN, double.NaN, double.NaN, double.NaN);

        /// <summary>True where the most compact order could lie where it was wished: no other is better in anything.</summary>
        public bool MostCompactIsAsWished { get; private set; }

        /// <summary>Offers an order: the middle of its mass from its front end, mm, and its inertia along the stack about that middle, g mm². True where it is the best so far.</summary>
        public bool Offer(double fromFrontMm, double spreadGMm2)
        {
            double front = Math.Clamp(_wanted - fromFrontMm, place.FrontMm, place.FrontMm + _slack), centroid = front + fromFrontMm;
            bool allowed = place.Allows(massG, centroid);
            if (spreadGMm2 < _leastSpread)
            {
                (_leastSpread, MostCompactIsAsWished) = (spreadGMm2, allowed && Math.Abs(centroid - _wanted) < SameMm);
            }
            if (!allowed)
            {
                return false;
            }
            double off = place.CgOffMm(massG, centroid), away = centroid - place.BareCgMm, inertia = spreadGMm2 + ownGMm2 + _reduced * away * away;
            FitKey key = FitKey.Of(massOffG, rightMassG, off, inertia, pieces);
            if (key.CompareTo(_key, FitAim.AsAsked) >= 0)
            {
                return false;
            }
            (Best, _key) = (new Stack([], front, centroid, off, inertia), key);
            return true;
        }
    }

    /// <summary>Every order of few pieces, those of one kind not told apart.</summary>
    private sealed class AnyOrder(IReadOnlyList<PieceKind> kinds, IReadOnlyList<int> counts, double massG, Chooser chooser)
    {
        private readonly int[] _left = [.. counts], _order = new int[counts.Sum()];

        /// <summary>Better than all offered before; null where none is.</summary>
        public int[]? Best { get; private set; }

        /// <summary>How many there are.</summary>
        public int Tried { get; private set; }

        /// <summary>Tries them, from the front to the back.</summary>
        public void Try(int place = 0, double atMm = 0, double first = 0, double second = 0)
        {
            if (place == _order.Length)
            {
                Tried++;
                if (chooser.Offer(first / massG, second - first * first / massG))
                {
                    Best = [.. _order];
                }
                return;
            }
            for (int k = 0; k < _left.Length; k++)
            {
                if (_left[k] > 0)
                {
                    double density = kinds[k].LinearDensityGMm, end = atMm + kinds[k].LengthMm;
                    (_left[k], _order[place]) = (_left[k] - 1, k);
                    Try(place + 1, end, first + density * (end * end - atMm * atMm) / 2, second + density * (end * end * end - atMm * atMm * atMm) / 3);
                    _left[k]++;
                }
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

    /// <summary>From how many of each kind lie in front of the densest to the order of all.</summary>
    private static int[] Order(IReadOnlyList<int> counts, int[] left) =>
    [
        .. Enumerable.Range(0, counts.Count).Reverse().SelectMany(k => Enumerable.Repeat(k, left[k])),
        .. Enumerable.Range(0, counts.Count).SelectMany(k => Enumerable.Repeat(k, counts[k] - left[k])),
    ];
}

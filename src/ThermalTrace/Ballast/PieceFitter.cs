using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>A piece at its place.</summary>
/// <param name="Piece">Of the stock.</param>
/// <param name="CentreMm">Its middle, aft of the datum, mm.</param>
internal sealed record FittedPiece(BallastPiece Piece, double CentreMm);

/// <summary>One way to fit ballast.</summary>
/// <param name="Pieces">From the front to the back.</param>
/// <param name="MassG">g.</param>
/// <param name="FrontMm">Empty tube before the first piece, mm.</param>
/// <param name="RearMm">Empty tube behind the last piece, mm.</param>
/// <param name="CgOffMm">By how much the centre of gravity misses the wish, positive aft; 0 where it is not known.</param>
/// <param name="Key">How good it is.</param>
internal sealed record FittedWay(IReadOnlyList<FittedPiece> Pieces, double MassG, double FrontMm, double RearMm, double CgOffMm, FitKey Key);

/// <summary>The best ways, and whether that is proved.</summary>
/// <param name="Ways">Best first; the first alone where nothing else is worth a word; empty where limits of the centre of gravity forbid even the empty model.</param>
/// <param name="Proved">False where the search was cut short: a better way may be there.</param>
internal sealed record PieceAnswer(IReadOnlyList<FittedWay> Ways, bool Proved);

/// <summary>
/// Finds which pieces of the stock to take and where they lie: an exact search (branch and bound) over all choices of pieces, each in its best order and place.
/// docs/models/pieces.md has the bounds.
/// </summary>
internal sealed class PieceFitter
{
    /// <summary>Choices and orders looked at before a search is cut short: about a second.</summary>
    public const int MostLooks = 4_000_000;

    /// <summary>Where the stock has more kinds than <see cref="StackOrder.AllOrdersOfKinds"/>, stacks of more pieces than that are worked out to this share of what they add to the pitch inertia.</summary>
    public const double LongStackShare = 5e-3;

    private const int SpareWays = 4;                // some of the best are worse than others in every respect, and are left out
    private const double WorthInertiaShare = 0.10;  // less than this of what ballast adds is not worth another mass
    private const double FarMm = 1e4; // half of the tube's length where there is no tube: nothing ever meets its ends

    private readonly PieceKinds _kinds;
    private readonly PieceSums _sums;
    private readonly StackPlace _place;
    private readonly BallastTube _tube;
    private readonly int _mostUnits;
    private readonly double _rightG;
    private readonly double[] _leastDiameterSquare;
    private readonly int[] _lightest, _heaviest;

    /// <summary>Prepares the search for a model and a wish.</summary>
    /// <param name="airframe">The model, its tube and its stock.</param>
    /// <param name="shiftMm">How the centre of gravity is to move, positive aft.</param>
    /// <param name="heaviestG">No more ballast than this: the mass limit.</param>
    public PieceFitter(Airframe airframe, double shiftMm, double heaviestG)
    {
        BallastTube? tube = airframe.BallastTube;
        double cg = airframe.CgMm ?? tube?.CentreMm ?? 0;
        _tube = tube ?? new BallastTube(double.PositiveInfinity, 2 * FarMm, cg);
        bool known = airframe.CgMm is not null && tube is not null;
        _place = new StackPlace(_tube.CentreMm - _tube.LengthMm / 2, _tube.LengthMm, airframe.UnballastedMassG, cg, shiftMm, known,
            airframe.CgLimitsMm?.ForwardMm ?? double.NegativeInfinity, airframe.CgLimitsMm?.AftMm ?? double.PositiveInfinity);
        double owned = airframe.BallastStock.Where(p => PieceKinds.Fits(p, tube)).Sum(p => p.MassG * p.Count);
        double most = Math.Min(heaviestG, owned + 1);
        _kinds = PieceKinds.Of(airframe.BallastStock, tube, most);
        _mostUnits = (int)Math.Floor((most + FitTolerances.ScaleG * 1e-3) / _kinds.UnitG);
        _sums = new PieceSums(_kinds.Kinds, _mostUnits);
        _rightG = FitTolerances.RightMassG(airframe.UnballastedMassG);
        int n = _kinds.Kinds.Count;
        (_leastDiameterSquare, _lightest, _heaviest) = (new double[n + 1], new int[n + 1], new int[n + 1]);
        (_leastDiameterSquare[n], _lightest[n]) = (double.PositiveInfinity, int.MaxValue);
        for (int k = n - 1; k >= 0; k--)
        {
            PieceKind kind = _kinds.Kinds[k];
            _leastDiameterSquare[k] = Math.Min(_leastDiameterSquare[k + 1], kind.DiameterMm * kind.DiameterMm);
            _lightest[k] = Math.Min(_lightest[k + 1], kind.MassUnits);
            _heaviest[k] = Math.Max(_heaviest[k + 1], kind.MassUnits);
        }
    }

    /// <summary>The best ways to fit so much.</summary>
    /// <param name="askedG">g.</param>
    /// <param name="most">At most so many ways.</param>
    /// <param name="cancel">Ends the search.</param>
    public PieceAnswer Fit(double askedG, int most, CancellationToken cancel = default)
    {
        if (!(askedG > 0))
        {
            return new PieceAnswer(_place.Allows(0, _place.BareCgMm) ? [Nothing(0, 0)] : [], true);
        }
        Search search = new(this, askedG, FitAim.AsAsked, most == 1 ? 1 : most + SpareWays, null, cancel);
        search.NearestFirst();
        bool proved = search.Proved;
        if (search.Best is not [{ } first, ..])
        {
            return new PieceAnswer([], proved);
        }
        List<FittedWay> others = [.. search.Best.Skip(1)];
        if (most > 1 && first.Key.Off == 0)
        {
            foreach (FitAim aim in (FitAim[])[FitAim.FewestPieces, FitAim.LeastInertia])
            {
                Search other = new(this, askedG, aim, 1, first, cancel);
                other.AllThatAreRight();
                proved &= other.Proved;
                if (other.Best is [{ } way] && (aim == FitAim.FewestPieces || way.Key.Inertia < first.Key.Inertia * (1 - WorthInertiaShare)))
                {
                    others.Add(way);
                }
            }
        }
        List<FittedWay> ways = [first];
        foreach (FittedWay way in others.DistinctBy(w => w.Key).OrderBy(w => w.Key, Comparer<FitKey>.Create((a, b) => a.CompareTo(b, FitAim.AsAsked))))
        {
            if (ways.Count < most && !ways.Skip(1).Any(w => w.Key.IsNoWorse(way.Key)))
            {
                ways.Add(way);
            }
        }
        return new PieceAnswer(ways, proved);
    }

    /// <summary>The heaviest sum of pieces, tube's length not looked at, g.</summary>
    public double HeaviestSumG => _sums.Between(0, _mostUnits).Last() * _kinds.UnitG;

    /// <summary>The empty model, which moves its centre of gravity nowhere.</summary>
    private FittedWay Nothing(double askedG, double shiftMm) => new([], 0, _place.LengthMm, 0, _place.CgCounts ? -shiftMm : 0, FitKey.Of(askedG, _rightG, _place.CgCounts ? shiftMm : 0, 0, 0));

    /// <summary>One search with one aim.</summary>
    private sealed class Search(PieceFitter fitter, double askedG, FitAim aim, int most, FittedWay? toBeat, CancellationToken cancel)
    {
        private readonly IReadOnlyList<PieceKind> _kinds = fitter._kinds.Kinds;
        private readonly StackPlace _place = fitter._place;
        private readonly double _unitG = fitter._kinds.UnitG;
        private readonly List<FittedWay> _best = [];
        private readonly List<(int Kind, int Count)> _chosen = [];
        private int _looks, _entered;
        private bool _cutShort;
        private (int Low, int High) _below, _above;
        private double _leastOffG;
        private int _massStep;

        /// <summary>Best first.</summary>
        public IReadOnlyList<FittedWay> Best => _best;

        /// <summary>False where it was cut short.</summary>
        public bool Proved { get; private set; } = true;

        private FitKey Bar => _best.Count == most ? _best[^1].Key : toBeat?.Key ?? FitKey.Worst;

        /// <summary>Masses one step of the scale after the other, outwards from the one asked for, until no other can be better.</summary>
        public void NearestFirst()
        {
            int last = (int)Math.Ceiling(Math.Max(askedG, fitter._mostUnits * _unitG) / FitTolerances.ScaleG) + 1;
            for (_massStep = 0; _massStep <= last; _massStep++)
            {
                double near = Math.Max(_massStep - 0.5, 0) * FitTolerances.ScaleG, far = (_massStep + 0.5) * FitTolerances.ScaleG;
                int off = FitKey.OffSteps(near, fitter._rightG, 0);
                if (off > Bar.Off || (off == Bar.Off && _massStep > Bar.Mass))
                {
                    return;
                }
                _leastOffG = near;
                _below = Units(askedG - far, askedG - near);
                _above = _massStep == 0 ? (0, -1) : Units(askedG + near, askedG + far);
                if (_massStep == 0)
                {
                    _below = Units(askedG - far, askedG + far);
                }
                Begin();
            }
        }

        /// <summary>Every mass that is right, at once.</summary>
        public void AllThatAreRight()
        {
            _massStep = -1;
            _leastOffG = 0;
            (_below, _above) = (Units(askedG - fitter._rightG, askedG + fitter._rightG), (0, -1));
            Begin();
        }

        /// <summary>A little wide: what lies beyond the bound is turned away when its key is known.</summary>
        private (int, int) Units(double lowG, double highG) =>
            ((int)Math.Max(Math.Floor(lowG / _unitG - 1e-6), 0), (int)Math.Min(Math.Ceiling(highG / _unitG + 1e-6), fitter._mostUnits));

        private bool Within(int units) => (units >= _below.Low && units <= _below.High) || (units >= _above.Low && units <= _above.High);

        private bool Reachable(int kind, int units) => fitter._sums.Any(kind, _below.Low - units, _below.High - units)
            || (_above.High >= _above.Low && fitter._sums.Any(kind, _above.Low - units, _above.High - units));

        private void Begin()
        {
            if (!_cutShort && Reachable(0, 0))
            {
                Choose(0, new Partial(0, 0, 0, 0, 0, 0));
            }
        }

        /// <summary>What is chosen so far.</summary>
        /// <param name="Units">Mass.</param>
        /// <param name="LengthMm">Length.</param>
        /// <param name="Spread">The least that its length along the stack can bring, g mm²: each piece halved, one half to each side.</param>
        /// <param name="Own">What its thickness brings, g mm².</param>
        /// <param name="FrontMoment">Its moment about the front end, densest piece first: no order has less, g mm.</param>
        /// <param name="Count">Pieces.</param>
        private readonly record struct Partial(int Units, double LengthMm, double Spread, double Own, double FrontMoment, int Count)
        {
            public Partial With(PieceKind kind, double massG, int units, int count)
            {
                double density = kind.LinearDensityGMm, longer = LengthMm + massG / density;
                return new Partial(Units + units, longer, Spread + density * (longer * longer * longer - LengthMm * LengthMm * LengthMm) / 12,
                    Own, FrontMoment + density * (longer * longer - LengthMm * LengthMm) / 2, Count + count);
            }
        }

        private void Choose(int from, Partial chosen)
        {
            if (++_looks > MostLooks)
            {
                Proved = false;
                _cutShort = true;
                return;
            }
            if ((++_entered & 0xFFF) == 0)
            {
                cancel.ThrowIfCancellationRequested();
            }
            if (Within(chosen.Units))
            {
                Complete(chosen);
            }
            int highest = Math.Max(_below.High, _above.High);
            for (int k = from; k < _kinds.Count && !_cutShort; k++)
            {
                if (chosen.Units + fitter._lightest[k] > highest || !Reachable(k, chosen.Units))
                {
                    return; // what comes after k has fewer sums still
                }
                if (Hopeless(k, chosen))
                {
                    // Later kinds are less dense; but they may be thinner, or heavier so that fewer are needed: look at each.
                    continue;
                }
                PieceKind kind = _kinds[k];
                int count = (int)Math.Min(Math.Min(kind.Count, (highest - chosen.Units) / kind.MassUnits), (_place.LengthMm - chosen.LengthMm + PieceKinds.SizeRoundingMm) / kind.LengthMm);
                for (; count > 0; count--)
                {
                    int units = count * kind.MassUnits;
                    if (!Reachable(k + 1, chosen.Units + units))
                    {
                        continue;
                    }
                    Partial more = chosen.With(kind, count * kind.MassG, units, count) with { Own = chosen.Own + count * kind.MassG * kind.DiameterMm * kind.DiameterMm / 16 };
                    _chosen.Add((k, count));
                    if (!Hopeless(k + 1, more))
                    {
                        Choose(k + 1, more);
                    }
                    _chosen.RemoveAt(_chosen.Count - 1);
                }
            }
        }

        /// <summary>True where no completion from a kind on can be better than what is known.</summary>
        private bool Hopeless(int from, Partial chosen)
        {
            int lowest = _below.High >= _below.Low && chosen.Units <= _below.High ? _below.Low : _above.Low;
            int missing = Math.Max(lowest - chosen.Units, 0);
            Partial filled = chosen;
            double rest = missing * _unitG;
            for (int k = from; rest > 1e-9; k++)
            {
                if (k == _kinds.Count)
                {
                    return true;
                }
                PieceKind kind = _kinds[k];
                double take = Math.Min(rest, kind.Count * kind.MassG);
                filled = filled.With(kind, take, 0, 0);
                rest -= take;
            }
            if (filled.LengthMm > _place.LengthMm + PieceKinds.SizeRoundingMm)
            {
                return true;
            }
            FitKey bar = Bar;
            if (bar == FitKey.Worst)
            {
                return false;
            }
            double lightG = Math.Max(lowest, chosen.Units) * _unitG, heavyG = Math.Max(_below.High, _above.High) * _unitG;
            if (!(lightG > 0))
            {
                return false;
            }
            (double cgOff, double away) = CgBound(filled.FrontMoment / lightG, lightG, heavyG, bar);
            int massStep = _massStep >= 0 ? _massStep : 0;
            double inertia = filled.Spread + filled.Own + (missing > 0 ? missing * _unitG * fitter._leastDiameterSquare[from] / 16 : 0) + _place.ReducedMassG(lightG) * away * away;
            int count = chosen.Count + (missing == 0 ? 0 : (missing + fitter._heaviest[from] - 1) / fitter._heaviest[from]);
            double share = IsLong(count) ? 1 + LongStackShare : 1 - 1e-12;
            FitKey least = FitKey.Of(_leastOffG, fitter._rightG, cgOff, inertia * share, count) with { Mass = massStep };
            return least.CompareTo(bar, aim) >= 0;
        }

        /// <summary>The least by which the centre of gravity can miss the wish, and the least distance of the ballast's middle from the bare model's centre of gravity.</summary>
        private (double CgOffMm, double AwayMm) CgBound(double leastFromFrontMm, double lightG, double heavyG, FitKey bar)
        {
            if (!_place.CgCounts)
            {
                return (0, 0);
            }
            double a = _place.CentroidMm(lightG), b = _place.CentroidMm(heavyG), low = Math.Min(a, b), high = Math.Max(a, b);
            double front = _place.FrontMm + leastFromFrontMm, rear = _place.FrontMm + _place.LengthMm - leastFromFrontMm;
            double lever = lightG / (_place.BareMassG + lightG);
            double miss = Math.Max(Math.Max(front - high, low - rear), 0) * lever;
            double allowed = aim == FitAim.AsAsked ? Math.Min(bar.Cg, 1_000_000) * FitTolerances.BalanceMm + FitTolerances.BalanceMm / 2 : FitTolerances.RightCgMm;
            double wanted = low <= _place.BareCgMm && high >= _place.BareCgMm ? 0 : Math.Min(Math.Abs(low - _place.BareCgMm), Math.Abs(high - _place.BareCgMm));
            return (miss, Math.Max(wanted - allowed / lever, 0));
        }

        private void Complete(Partial chosen)
        {
            PieceKind[] kinds = [.. _chosen.Select(c => _kinds[c.Kind])];
            int[] counts = [.. _chosen.Select(c => c.Count)];
            FittedWay? way = kinds.Length == 0 ? fitter._place.Allows(0, _place.BareCgMm) ? fitter.Nothing(askedG, _place.ShiftMm) : null : Placed(kinds, counts, chosen);
            if (way is null || (_massStep >= 0 && way.Key.Mass != _massStep) || way.Key.CompareTo(Bar, aim) >= 0)
            {
                return;
            }
            int at = _best.FindIndex(b => way.Key.CompareTo(b.Key, aim) < 0);
            _best.Insert(at < 0 ? _best.Count : at, way);
            if (_best.Count > most)
            {
                _best.RemoveAt(most);
            }
        }

        private bool IsLong(int count) => count > StackOrder.AllOrdersOfKinds && _kinds.Count > StackOrder.AllOrdersOfKinds;

        private FittedWay? Placed(PieceKind[] kinds, int[] counts, Partial chosen)
        {
            double massOff = chosen.Units * _unitG - askedG;
            Stack? stack = StackOrder.Best(kinds, counts, _place, massOff, fitter._rightG, out bool complete, out int looked);
            _looks += looked;
            if (stack is null)
            {
                return null;
            }
            double away = stack.CentroidMm - _place.BareCgMm, mass = chosen.Units * _unitG;
            Proved &= complete || (Math.Abs(stack.CgOffMm) < FitTolerances.BalanceMm / 2
                && stack.InertiaGMm2 <= (chosen.Spread + chosen.Own + _place.ReducedMassG(mass) * away * away) * (1 + LongStackShare));
            int[] next = new int[kinds.Length];
            FittedPiece[] pieces = [.. StackOrder.Places(kinds, counts, stack).Select(p => new FittedPiece(kinds[p.Kind].Pieces[next[p.Kind]++], p.CentreMm))];
            double front = stack.FrontMm - _place.FrontMm;
            return new FittedWay(pieces, pieces.Sum(p => p.Piece.MassG), front, Math.Max(_place.LengthMm - chosen.LengthMm - front, 0), stack.CgOffMm,
                FitKey.Of(massOff, fitter._rightG, stack.CgOffMm, stack.InertiaGMm2, pieces.Length));
        }
    }
}

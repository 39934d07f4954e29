namespace ThermalTrace.Ballast;

// The search itself; PieceFitter.cs says what is asked and what comes of it.
internal sealed partial class PieceFitter
{
    /// <summary>One search with one aim.</summary>
    private sealed class Search(PieceFitter fitter, double askedG, FitAim aim, int most, FittedWay? toBeat, CancellationToken cancel)
    {
        private readonly IReadOnlyList<PieceKind> _kinds = fitter._kinds.Kinds;
        private readonly StackPlace _place = fitter._place;
        private readonly double _unitG = fitter._kinds.UnitG;
        private readonly List<Found> _best = [];
        private readonly List<(int Kind, int Count)> _chosen = [];
        private int _looks, _lastLook = MostLooks, _nextAsked;
        private bool _cutShort;
        private Window _below, _above;
        private double _leastOffG;
        private int _massStep;

        /// <summary>Best first.</summary>
        public IReadOnlyList<FittedWay> Best => [.. _best.Select(Placed)];

        /// <summary>False where it was cut short.</summary>
        public bool Proved { get; private set; } = true;

        private FitKey Bar => _best.Count == most ? _best[^1].Key : toBeat?.Key ?? FitKey.Worst;

        /// <summary>Masses one step of the scale after the other, outwards from the one asked for, until no other can be better.</summary>
        public void NearestFirst()
        {
            int again = MostLooks;
            double last = Math.Max(askedG, fitter._mostG) / FitTolerances.ScaleG + 1;
            for (_massStep = 0; _massStep <= last; _massStep++)
            {
                double near = Math.Max(_massStep - 0.5, 0) * FitTolerances.ScaleG, least = Math.Max(near - PieceKinds.MassRoundingG, 0), far = (_massStep + 0.5) * FitTolerances.ScaleG;
                int off = FitKey.OffSteps(least, fitter._rightG, 0);
                if (off > Bar.Off || (off == Bar.Off && _massStep > Bar.Mass))
                {
                    return;
                }
                _leastOffG = least;
                _below = Between(askedG - far, _massStep == 0 ? askedG + far : askedG - near);
                _above = _massStep == 0 ? Window.None : Between(askedG + near, askedG + far);
                Begin();
                if (_cutShort && _best.Count == 0 && _looks < 2 * MostLooks)
                {
                    // Masses a little farther may be easy to find; all together no more is looked at than the first time.
                    (_cutShort, again) = (false, again / 2);
                    _lastLook = _looks + again;
                }
            }
            if (!Proved && _best.Count == 0)
            {
                // The most of the densest first, up to what was asked for, is nearly always an answer; what time is left goes into making it better.
                (_cutShort, _lastLook) = (false, _looks + MostLooks);
                InOneGo(0, askedG + fitter._rightG);
            }
        }

        /// <summary>Every mass that is right, at once.</summary>
        public void AllThatAreRight() => InOneGo(askedG - fitter._rightG, askedG + fitter._rightG);

        private void InOneGo(double lowG, double highG)
        {
            (_massStep, _leastOffG) = (-1, 0);
            (_below, _above) = (Between(lowG, highG), Window.None);
            Begin();
        }

        /// <summary>Masses that are looked for.</summary>
        /// <param name="LowG">From.</param>
        /// <param name="HighG">To.</param>
        /// <param name="Low">The least sum of rounded masses that may belong to one; what lies beyond the bounds is turned away when its mass is known.</param>
        /// <param name="High">The greatest.</param>
        private readonly record struct Window(double LowG, double HighG, int Low, int High)
        {
            public static Window None => new(0, 0, 0, -1);

            public bool Holds(int units) => units >= Low && units <= High;
        }

        private Window Between(double lowG, double highG) => new(Math.Max(lowG - PieceKinds.MassRoundingG, 0), highG + PieceKinds.MassRoundingG,
            (int)Math.Max(Math.Floor(lowG / _unitG - 1e-3) - fitter._kinds.SlackUnits, 0), (int)Math.Min(Math.Ceiling(highG / _unitG + 1e-3) + fitter._kinds.SlackUnits, fitter._mostUnits));

        private bool Within(int units) => _below.Holds(units) || _above.Holds(units);

        private bool Reachable(int kind, int units) => fitter._sums.Any(kind, _below.Low - units, _below.High - units)
            || (_above.High >= _above.Low && fitter._sums.Any(kind, _above.Low - units, _above.High - units));

        private void Begin()
        {
            if (!_cutShort && Reachable(0, 0))
            {
                Choose(0, new Partial(0, 0, 0, 0, 0, 0, 0));
            }
        }

        /// <summary>Counts what was looked at; true where that is enough.</summary>
        private bool Enough(int looks)
        {
            _looks += looks;
            if (_looks >= _nextAsked)
            {
                cancel.ThrowIfCancellationRequested();
                _nextAsked = _looks + AskEvery;
            }
            if (_looks > _lastLook)
            {
                (Proved, _cutShort) = (false, true);
            }
            return _cutShort;
        }

        /// <summary>What is chosen so far.</summary>
        /// <param name="Units">Sum of rounded masses.</param>
        /// <param name="MassG">Mass.</param>
        /// <param name="LengthMm">Length.</param>
        /// <param name="Spread">The least that its length along the stack can bring, g mm²: each piece halved, one half to each side.</param>
        /// <param name="Own">What its thickness brings, g mm².</param>
        /// <param name="FrontMoment">Its moment about the front end, densest piece first: no order has less, g mm.</param>
        /// <param name="Count">Pieces.</param>
        private readonly record struct Partial(int Units, double MassG, double LengthMm, double Spread, double Own, double FrontMoment, int Count)
        {
            public Partial With(PieceKind kind, double massG, int units, int count)
            {
                double density = kind.LinearDensityGMm, longer = LengthMm + massG / density;
                return new Partial(Units + units, MassG + massG, longer, Spread + density * (longer * longer * longer - LengthMm * LengthMm * LengthMm) / 12,
                    Own, FrontMoment + density * (longer * longer - LengthMm * LengthMm) / 2, Count + count);
            }
        }

        /// <summary>All completions, those with the most of the densest first, and then what is chosen as it is.</summary>
        private void Choose(int from, Partial chosen)
        {
            if (Enough(DearLook))
            {
                return;
            }
            AddTo(from, chosen);
            if (Within(chosen.Units))
            {
                Complete(chosen);
            }
        }

        private void AddTo(int from, Partial chosen)
        {
            int highest = Math.Max(_below.High, _above.High);
            double mostG = Math.Max(_below.HighG, _above.HighG);
            for (int k = from; k < _kinds.Count && !_cutShort; k++)
            {
                if (Enough(DearLook) || chosen.Units + fitter._lightest[k] > highest || !Reachable(k, chosen.Units) || Hopeless(k, chosen))
                {
                    return; // what comes after k has fewer sums still, and no better ones
                }
                PieceKind kind = _kinds[k];
                int count = (int)Math.Min(Math.Min(kind.Count, (mostG - chosen.MassG) / kind.MassG), (_place.LengthMm - chosen.LengthMm + PieceKinds.SizeRoundingMm) / kind.LengthMm);
                for (; count > 0 && !Enough(DearLook); count--)
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
            double leastG = chosen.Units <= _below.High ? _below.LowG : _above.LowG, missing = Math.Max(leastG - chosen.MassG, 0), rest = missing;
            Partial filled = chosen;
            for (int k = from; rest > 1e-9; k++)
            {
                if (k == _kinds.Count)
                {
                    return true;
                }
                _looks += k % KindsALook == 0 ? DearLook : 0;
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
            double lightG = Math.Max(leastG, chosen.MassG), heavyG = Math.Max(Math.Max(_below.HighG, _above.HighG), lightG);
            if (!(lightG > 0))
            {
                return false;
            }
            (double cgOff, double away) = CgBound(filled.FrontMoment / lightG, lightG, heavyG, bar);
            int massStep = _massStep >= 0 ? _massStep : 0;
            double inertia = filled.Spread + filled.Own + (missing > 0 ? missing * fitter._leastDiameterSquare[from] / 16 : 0) + _place.ReducedMassG(lightG) * away * away;
            int count = chosen.Count + (missing > 1e-9 ? (int)Math.Ceiling(missing / fitter._heaviestG[from] - 1e-9) : 0);
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
            double lever = lightG / (_place.BareMassG + lightG), mostLever = heavyG / (_place.BareMassG + heavyG);
            double miss = Math.Max(Math.Max(Math.Max(front - high, low - rear), 0) * lever, _place.OutsideMm(_place.BareCgMm + _place.ShiftMm));
            double allowed = aim == FitAim.AsAsked ? Math.Min(bar.Cg, 1_000_000) * FitTolerances.BalanceMm + FitTolerances.BalanceMm / 2 : FitTolerances.RightCgMm;
            double wanted = low <= _place.BareCgMm && high >= _place.BareCgMm ? 0 : Math.Min(Math.Abs(low - _place.BareCgMm), Math.Abs(high - _place.BareCgMm));
            return (miss, Math.Max(Math.Max(wanted - allowed / lever, 0), _place.OutsideMm(_place.BareCgMm) / mostLever));
        }

        private void Complete(Partial chosen)
        {
            double massOff = chosen.MassG - askedG;
            if (chosen.MassG > fitter._mostG || FitKey.OffSteps(massOff, fitter._rightG, 0) > Bar.Off)
            {
                return;
            }
            PieceKind[] kinds = [.. _chosen.Select(c => _kinds[c.Kind])];
            int[] counts = [.. _chosen.Select(c => c.Count)];
            Stack? stack = kinds.Length == 0 ? null : Ordered(kinds, counts, chosen, massOff);
            FitKey key = kinds.Length == 0 ? _place.Allows(0, _place.BareCgMm) ? fitter.Nothing(askedG, _place.ShiftMm).Key : FitKey.Worst
                : stack is null ? FitKey.Worst : FitKey.Of(massOff, fitter._rightG, stack.CgOffMm, stack.InertiaGMm2, chosen.Count);
            if (key == FitKey.Worst || (_massStep >= 0 && key.Mass != _massStep) || key.CompareTo(Bar, aim) >= 0)
            {
                return;
            }
            int at = _best.FindIndex(b => key.CompareTo(b.Key, aim) < 0);
            _best.Insert(at < 0 ? _best.Count : at, new Found(kinds, counts, chosen.LengthMm, stack, key));
            if (_best.Count > most)
            {
                _best.RemoveAt(most);
            }
        }

        private bool IsLong(int count) => count > StackOrder.AllOrdersOfKinds && _kinds.Count > StackOrder.AllOrdersOfKinds;

        private Stack? Ordered(PieceKind[] kinds, int[] counts, Partial chosen, double massOffG)
        {
            Stack? stack = StackOrder.Best(kinds, counts, _place, massOffG, fitter._rightG, out bool complete, out int looked);
            Enough(looked + kinds.Length);
            if (!complete)
            {
                double away = stack is null ? 0 : stack.CentroidMm - _place.BareCgMm;
                Proved &= stack is not null && Math.Abs(stack.CgOffMm) < FitTolerances.BalanceMm / 2
                    && stack.InertiaGMm2 <= (chosen.Spread + chosen.Own + _place.ReducedMassG(chosen.MassG) * away * away) * (1 + LongStackShare);
            }
            return stack;
        }

        /// <summary>A choice of pieces in its best order; without a stack the empty model.</summary>
        private sealed record Found(PieceKind[] Kinds, int[] Counts, double LengthMm, Stack? Stack, FitKey Key);

        private FittedWay Placed(Found found)
        {
            if (found.Stack is not { } stack)
            {
                return fitter.Nothing(askedG, _place.ShiftMm);
            }
            int[] next = new int[found.Kinds.Length];
            FittedPiece[] pieces = [.. StackOrder.Places(found.Kinds, stack).Select(p => new FittedPiece(found.Kinds[p.Kind].Pieces[next[p.Kind]++], p.CentreMm))];
            double front = stack.FrontMm - _place.FrontMm;
            return new FittedWay(pieces, pieces.Sum(p => p.Piece.MassG), front, Math.Max(_place.LengthMm - found.LengthMm - front, 0), stack.CgOffMm, found.Key);
        }
    }
}

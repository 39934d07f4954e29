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
internal sealed partial class PieceFitter
{
    /// <summary>
    /// Orders looked at before a search is cut short, a choice counting as several: half a second or so. Where nothing was found by then, up to twice as many more are looked at.
    /// </summary>
    public const int MostLooks = 16_000_000;

    /// <summary>Where the stock has more kinds than <see cref="StackOrder.AllOrdersOfKinds"/>, stacks of more pieces than that are worked out to this share of what they add to the pitch inertia.</summary>
    public const double LongStackShare = 5e-3;

    private const double MostBallastG = 100_000;    // twice the most that may be asked for
    private const int AskEvery = 4096;              // looks between questions whether to go on
    private const int DearLook = 4;                 // a bound takes as long to work out as four orders, and longer where many kinds are needed to fill it
    private const int KindsALook = 8;
    private const int SpareWays = 4;                // some of the best are worse than others in every respect, and are left out
    private const double WorthInertiaShare = 0.10;  // less than this of what ballast adds is not worth another mass
    private const double FarMm = 1e10; // half of the tube's length where there is no tube: longer than a million of the longest pieces

    private readonly PieceKinds _kinds;
    private readonly PieceSums _sums;
    private readonly StackPlace _place;
    private readonly BallastTube _tube;
    private readonly int _mostUnits;
    private readonly double _mostG, _rightG;
    private readonly double[] _leastDiameterSquare, _heaviestG;
    private readonly int[] _lightest;

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
        _mostG = Math.Min(Math.Min(heaviestG, owned), MostBallastG) + PieceKinds.MassRoundingG;
        _kinds = PieceKinds.Of(airframe.BallastStock, tube, _mostG);
        _mostUnits = (int)Math.Floor(_mostG / _kinds.UnitG) + _kinds.SlackUnits + 1;
        _sums = new PieceSums(_kinds.Kinds, _mostUnits);
        _rightG = FitTolerances.RightMassG(airframe.UnballastedMassG);
        int n = _kinds.Kinds.Count;
        (_leastDiameterSquare, _heaviestG, _lightest) = (new double[n + 1], new double[n + 1], new int[n + 1]);
        (_leastDiameterSquare[n], _lightest[n]) = (double.PositiveInfinity, int.MaxValue);
        for (int k = n - 1; k >= 0; k--)
        {
            PieceKind kind = _kinds.Kinds[k];
            _leastDiameterSquare[k] = Math.Min(_leastDiameterSquare[k + 1], kind.DiameterMm * kind.DiameterMm);
            _lightest[k] = Math.Min(_lightest[k + 1], kind.MassUnits);
            _heaviestG[k] = Math.Max(_heaviestG[k + 1], kind.MassG);
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
            if (_place.Allows(0, _place.BareCgMm))
            {
                return new PieceAnswer([Nothing(0, 0)], true);
            }
            askedG = 0; // as little as brings the centre of gravity between its limits
        }
        Search search = new(this, askedG, FitAim.AsAsked, most == 1 ? 1 : most + SpareWays, null, cancel);
        search.NearestFirst();
        bool proved = search.Proved;
        if (search.Best is not [{ } first, ..])
        {
            return new PieceAnswer(!proved && _place.Allows(0, _place.BareCgMm) ? [Nothing(askedG, _place.ShiftMm)] : [], proved);
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

    /// <summary>The empty model, which moves its centre of gravity nowhere.</summary>
    private FittedWay Nothing(double askedG, double shiftMm) => new([], 0, _place.LengthMm, 0, _place.CgCounts ? -shiftMm : 0, FitKey.Of(askedG, _rightG, _place.CgCounts ? shiftMm : 0, 0, 0));
}

using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>A mass that pieces make.</summary>
/// <param name="MassG">Exact sum of the pieces, g.</param>
/// <param name="LengthMm">Least length in the tube that it takes; 0 without a tube.</param>
internal readonly record struct StockSum(double MassG, double LengthMm);

/// <summary>Every mass that the pieces owned can make, with the least length in the tube that it takes. docs/models/stock.md.</summary>
internal static class StockSums
{
    /// <summary>Sums that differ by less are one, g: a tenth of what a scale shows.</summary>
    public const double SameG = 0.01;

    /// <summary>
    /// Bound of the work: sums looked at, times portions of pieces added. Where limit and stock are so large that it bites (4 kg from 100 kinds, say), sums that differ by less than a
    /// larger step than <see cref="SameG"/> are one; each is still an exact sum of pieces.
    /// </summary>
    public const long MostWork = 40_000_000;

    private const int LeastPortions = 20; // so that the table stays below two million sums
    private const double AboveG = 1e-6; // rounding of a sum; a limit is a limit

    /// <summary>Sums of pieces that fit the tube, rising, the empty one first; without a tube all sums, of no length.</summary>
    /// <param name="airframe">Its stock and tube.</param>
    /// <param name="mostG">Heavier sums are left out.</param>
    public static IReadOnlyList<StockSum> Of(Airframe airframe, double mostG) => Of(airframe.BallastStock, airframe.BallastTube, mostG);

    /// <summary>The same for any stock and tube.</summary>
    public static IReadOnlyList<StockSum> Of(IEnumerable<BallastPiece> stock, BallastTube? tube, double mostG)
    {
        if (!(mostG > 0))
        {
            return [new StockSum(0, 0)];
        }
        List<(double MassG, double LengthMm)> portions = [];
        double owned = 0;
        foreach (BallastPiece piece in stock.Where(p => p.MassG > 0 && p.MassG <= mostG + AboveG && PieceKinds.Fits(p, tube)))
        {
            int useful = (int)Math.Min(piece.Count, (mostG + AboveG) / piece.MassG);
            owned += useful * piece.MassG;
            // One, two, four … of the piece, then the rest: every number from none to all is a sum of these.
            for (int portion = 1; useful > 0; portion *= 2)
            {
                int pieces = Math.Min(portion, useful);
                portions.Add((pieces * piece.MassG, tube is null ? 0 : pieces * piece.LengthMm));
                useful -= pieces;
            }
        }
        double most = Math.Min(mostG, owned) + AboveG, room = tube is null ? double.PositiveInfinity : tube.LengthMm + PieceKinds.SizeRoundingMm;
        double step = Math.Max(SameG, most * Math.Max(portions.Count, LeastPortions) / MostWork);
        StockSum[] sums = new StockSum[(int)(most / step) + 2];
        Array.Fill(sums, new StockSum(double.NaN, double.PositiveInfinity));
        sums[0] = new StockSum(0, 0);
        int last = 0;
        foreach ((double massG, double lengthMm) in portions)
        {
            // From above: no sum that this portion is already in is met again.
            for (int i = last; i >= 0; i--)
            {
                double mass = sums[i].MassG + massG, length = sums[i].LengthMm + lengthMm;
                if (!(mass <= most) || length > room)
                {
                    continue;
                }
                int at = (int)Math.Round(mass / step);
                if (!(sums[at].LengthMm <= length))
                {
                    sums[at] = new StockSum(mass, length);
                    last = Math.Max(last, at);
                }
            }
        }
        return [.. sums.Where(s => !double.IsNaN(s.MassG)).Select(s => s with { MassG = Math.Round(s.MassG, 6) }).OrderBy(s => s.MassG)];
    }
}

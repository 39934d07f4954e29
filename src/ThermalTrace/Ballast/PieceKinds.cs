using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>Pieces that are alike in mass and size.</summary>
/// <param name="Pieces">The entries of the stock; each stands here as often as it is owned.</param>
/// <param name="MassUnits">In units of <see cref="PieceKinds.UnitG"/>, rounded: only to tell which sums are near.</param>
/// <param name="MassG">g, as it was weighed.</param>
/// <param name="DiameterMm">mm.</param>
/// <param name="LengthMm">mm.</param>
internal sealed record PieceKind(IReadOnlyList<BallastPiece> Pieces, int MassUnits, double MassG, double DiameterMm, double LengthMm)
{
    /// <summary>How many are owned.</summary>
    public int Count => Pieces.Count;

    /// <summary>g/mm of stack.</summary>
    public double LinearDensityGMm => MassG / LengthMm;
}

/// <summary>The stock as the search sees it: kinds that fit the tube, the heaviest for their length first.</summary>
/// <param name="Kinds">By falling linear density.</param>
/// <param name="UnitG">Masses are rounded to whole numbers of it where sums are looked up.</param>
/// <param name="SlackUnits">No stack of them differs by more from the sum of its rounded masses; 0 where all are whole numbers of units.</param>
internal sealed record PieceKinds(IReadOnlyList<PieceKind> Kinds, double UnitG, int SlackUnits)
{
    // Bits of the tables of sums, a row for each kind: half a megabyte a row, fifty all together.
    private const int MostUnits = 4_000_000;
    private const long MostBits = 400_000_000;

    /// <summary>Room for rounding where masses are added up, g; a limit is a limit.</summary>
    public const double MassRoundingG = 1e-6;

    /// <summary>Room for rounding where sizes are compared, mm.</summary>
    public const double SizeRoundingMm = 1e-6;

    /// <summary>Sorts the stock.</summary>
    /// <param name="stock">What is owned.</param>
    /// <param name="tube">Pieces too thick or too long for it are left out; null for no tube.</param>
    /// <param name="mostG">More of a kind than weigh this are left out.</param>
    public static PieceKinds Of(IEnumerable<BallastPiece> stock, BallastTube? tube, double mostG)
    {
        BallastPiece[][] alike = [.. stock.Where(p => Fits(p, tube) && p.MassG <= mostG + MassRoundingG).GroupBy(p => (p.MassG, p.DiameterMm, p.LengthMm)).Select(g => g.ToArray())];
        double unit = 0.001; // a milligram, unless the sums would be many: kilograms are not weighed to that
        while (mostG / unit > Math.Min(MostUnits, MostBits / (alike.Length + 1)))
        {
            unit *= 10;
        }
        List<PieceKind> kinds = [];
        double slack = 0, farthest = 0, lightestG = double.PositiveInfinity, shortestMm = double.PositiveInfinity;
        foreach (BallastPiece[] entries in alike)
        {
            (double massG, double diameterMm, double lengthMm) = (entries[0].MassG, entries[0].DiameterMm, entries[0].LengthMm);
            int most = (int)Math.Min((mostG + MassRoundingG) / massG, tube is null ? int.MaxValue : (tube.LengthMm + SizeRoundingMm) / lengthMm), units = Math.Max((int)Math.Round(massG / unit), 1);
            BallastPiece[] pieces = [.. entries.SelectMany(p => Enumerable.Repeat(p, p.Count)).Take(most)];
            kinds.Add(new PieceKind(pieces, units, massG, diameterMm, lengthMm));
            double off = Math.Abs(massG / unit - units);
            (slack, farthest) = (slack + pieces.Length * off, Math.Max(farthest, off));
            (lightestG, shortestMm) = (Math.Min(lightestG, massG), Math.Min(shortestMm, lengthMm));
        }
        double inAStack = Math.Min(mostG / lightestG, (tube?.LengthMm ?? double.PositiveInfinity) / shortestMm) + 1;
        return new PieceKinds([.. kinds.OrderByDescending(k => k.LinearDensityGMm).ThenBy(k => k.LengthMm).ThenBy(k => k.DiameterMm)], unit, (int)Math.Min(Math.Ceiling(Math.Min(slack, farthest * inAStack) - 1e-6), mostG / unit));
    }

    /// <summary>True where a piece goes into the tube.</summary>
    public static bool Fits(BallastPiece piece, BallastTube? tube) =>
        tube is null || (piece.DiameterMm <= tube.BoreMm + SizeRoundingMm && piece.LengthMm <= tube.LengthMm + SizeRoundingMm);
}

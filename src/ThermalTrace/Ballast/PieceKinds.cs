using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>Pieces that are alike in mass and size.</summary>
/// <param name="Pieces">The entries of the stock; each stands here as often as it is owned.</param>
/// <param name="MassUnits">In units of <see cref="PieceKinds.UnitG"/>.</param>
/// <param name="MassG">g, a whole number of units.</param>
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
/// <param name="UnitG">Masses are whole numbers of it.</param>
internal sealed record PieceKinds(IReadOnlyList<PieceKind> Kinds, double UnitG)
{
    private const int MostUnits = 4_000_000; // bits of a table of sums: half a megabyte each

    /// <summary>Room for rounding where sizes are compared, mm.</summary>
    public const double SizeRoundingMm = 1e-6;

    /// <summary>Sorts the stock.</summary>
    /// <param name="stock">What is owned.</param>
    /// <param name="tube">Pieces too thick or too long for it are left out; null for no tube.</param>
    /// <param name="mostG">More of a kind than weigh this are left out.</param>
    public static PieceKinds Of(IEnumerable<BallastPiece> stock, BallastTube? tube, double mostG)
    {
        double unit = 0.001; // a milligram, unless the sums would be many: kilograms are not weighed to that
        while (mostG / unit > MostUnits)
        {
            unit *= 10;
        }
        List<PieceKind> kinds = [];
        foreach (IGrouping<(int Mass, double DiameterMm, double LengthMm), BallastPiece> alike in stock
            .Where(p => Fits(p, tube) && p.MassG <= mostG + unit / 2)
            .GroupBy(p => ((int)Math.Round(p.MassG / unit), p.DiameterMm, p.LengthMm)))
        {
            int mass = Math.Max(alike.Key.Mass, 1);
            int most = (int)Math.Min((mostG + unit / 2) / (mass * unit), tube is null ? int.MaxValue : (tube.LengthMm + SizeRoundingMm) / alike.Key.LengthMm);
            BallastPiece[] pieces = [.. alike.SelectMany(p => Enumerable.Repeat(p, p.Count)).Take(most)];
            if (pieces.Length > 0)
            {
                kinds.Add(new PieceKind(pieces, mass, mass * unit, alike.Key.DiameterMm, alike.Key.LengthMm));
            }
        }
        return new PieceKinds([.. kinds.OrderByDescending(k => k.LinearDensityGMm).ThenBy(k => k.LengthMm).ThenBy(k => k.DiameterMm)], unit);
    }

    /// <summary>True where a piece goes into the tube.</summary>
    public static bool Fits(BallastPiece piece, BallastTube? tube) =>
        tube is null || (piece.DiameterMm <= tube.BoreMm + SizeRoundingMm && piece.LengthMm <= tube.LengthMm + SizeRoundingMm);
}

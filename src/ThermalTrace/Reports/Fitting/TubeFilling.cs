namespace ThermalTrace.Reports.Fitting;

/// <summary>What lies in the tube from the front to the back: pieces and the spacers that keep them there.</summary>
/// <param name="FromMm">Its front end, aft of the wing root's leading edge.</param>
/// <param name="LengthMm">Along the tube.</param>
/// <param name="Piece">Null for a spacer.</param>
/// <param name="Place">Of the piece, counted from 1 at the front; 0 for a spacer.</param>
internal sealed record TubePart(double FromMm, double LengthMm, PieceEntry? Piece, int Place)
{
    /// <summary>All of it; null where there is no tube, or a piece without a place.</summary>
    public static IReadOnlyList<TubePart>? Of(FittingEntry fitting, TubeEntry? tube)
    {
        if (tube is not { LengthMm: > 0, BoreMm: > 0 } || fitting.Pieces.Count == 0 || fitting.Pieces.Any(p => p.CentreMm is null || !double.IsFinite(p.CentreMm.Value) || !(p.LengthMm > 0)))
        {
            return null;
        }
        List<TubePart> parts = [];
        double at = tube.CentreMm - tube.LengthMm / 2, end = at + tube.LengthMm;
        foreach ((int i, PieceEntry piece) in fitting.Pieces.Index())
        {
            double from = piece.CentreMm!.Value - piece.LengthMm / 2;
            Spacer(from);
            parts.Add(new TubePart(from, piece.LengthMm, piece, i + 1));
            at = from + piece.LengthMm;
        }
        Spacer(end);
        return parts;

        void Spacer(double until)
        {
            if (until - at >= FittingWords.Shown)
            {
                parts.Add(new TubePart(at, until - at, null, 0));
            }
        }
    }
}

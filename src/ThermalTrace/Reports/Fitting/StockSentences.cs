namespace ThermalTrace.Reports.Fitting;

/// <summary>What the pieces owned cannot make, and what to add to the box.</summary>
internal static class StockSentences
{
    private const int MostGaps = 6;

    /// <summary>One idea a sentence.</summary>
    public static IReadOnlyList<string> Of(StockEntry stock)
    {
        List<string> said =
        [
            $"The pieces make {Words.Plural(stock.Sums, "different mass", "different masses")} up to {FittingWords.Grams(stock.UpToG)}.",
            stock.Gaps.Count == 0
                ? "No mass up to there is farther from one of them than could be felt."
                : $"Out of reach, because nothing near enough can be made: {Gaps(stock.Gaps)}.",
        ];
        if (stock.NewPieces.Count > 0)
        {
            string many = stock.NewPieces.Count switch { 1 => "The new piece that would help most", 2 => "The two new pieces that would help most", _ => "The three new pieces that would help most" };
            said.Add($"{many}: {string.Join("; ", stock.NewPieces.Select(New))}.");
            said.Add(stock.GapsThen.Count == 0 ? "With them nothing is out of reach." : $"With them, still out of reach: {Gaps(stock.GapsThen)}.");
        }
        return said;
    }

    private static string New(NewPieceEntry piece) =>
        $"{Words.Tame(piece.Material)} {FittingWords.Grams(piece.MassG)}, {FittingWords.Number(piece.DiameterMm)} × {FittingWords.Mm(piece.LengthMm)}";

    private static string Gaps(IReadOnlyList<GapEntry> gaps) =>
        string.Join(", ", gaps.Take(MostGaps).Select(g => $"{FittingWords.Number(g.FromG)} to {FittingWords.Grams(g.ToG)}"))
        + (gaps.Count > MostGaps ? $" and {gaps.Count - MostGaps} narrower" : "");
}

namespace ThermalTrace.Reports.Fitting;

/// <summary>What the pieces owned make, what they cannot, and what to add to the box.</summary>
internal static class StockSentences
{
    private const int MostGaps = 3; // the widest; a longer list nobody reads

    /// <summary>One idea a sentence.</summary>
    public static IReadOnlyList<string> Of(StockEntry stock)
    {
        if (!(stock.UpToG > 0))
        {
            return ["The flying mass limit leaves no room for ballast."];
        }
        string limit = FittingWords.Grams(stock.UpToG);
        List<string> said = [stock.Sums == 0 ? $"No piece of the stock can be fitted up to {limit}." : $"Up to {limit} of ballast the pieces make {Words.Plural(stock.Sums, "different mass", "different masses")}."];
        if (!stock.FitKnown)
        {
            said.Add("No tube is given, so lengths and diameters were not checked.");
        }
        if (stock.Gaps.Count == 0)
        {
            said.Add("The stock makes every step you could feel.");
            return said;
        }
        said.Add($"Out of reach: {Gaps(stock.Gaps)}.");
        if (stock.FullTubeG is { } full)
        {
            said.Add($"Even full of tungsten alloy the tube holds no more than {FittingWords.Grams(full)}.");
        }
        if (stock.NewPieces.Count == 0)
        {
            said.Add("No three new pieces would make that better.");
            return said;
        }
        string pieces = stock.NewPieces.Count switch { 1 => "The new piece", 2 => "The two new pieces", _ => "The three new pieces" };
        said.Add($"{pieces} that would help most: {string.Join("; ", stock.NewPieces.GroupBy(New).Select(n => (n.Count() > 1 ? FittingWords.Number(n.Count()) + "\u00A0×\u00A0" : "") + n.Key))}.");
        if (stock is { MeanOffG: { } mean, WorstOffG: { } worst, MeanOffThenG: { } meanThen, WorstOffThenG: { } worstThen })
        {
            string still = worstThen < worst - FittingWords.Shown ? $", at worst {FittingWords.Grams(worstThen)} instead of {FittingWords.Grams(worst)}" : $", still {FittingWords.Grams(worst)} at worst";
            said.Add($"The nearest you can fit is then {FittingWords.Grams(meanThen)} off on average instead of {FittingWords.Grams(mean)}{still}.");
        }
        string with = stock.NewPieces.Count == 1 ? "With it" : "With them";
        said.Add(stock.GapsThen.Count == 0 ? $"{with} every step you could feel can be made." : $"{with}, still out of reach: {Gaps(stock.GapsThen)}.");
        return said;
    }

    private static string New(NewPieceEntry piece)
    {
        string size = double.IsFinite(piece.DiameterMm) ? $", {FittingWords.Number(piece.DiameterMm)} × {FittingWords.Mm(piece.LengthMm)}" : "";
        return $"{Words.Tame(piece.Material)} {FittingWords.Grams(piece.MassG)}{size}";
    }

    private static string Gaps(IReadOnlyList<GapEntry> gaps) =>
        string.Join(", ", gaps.Take(MostGaps).Select(g => $"{FittingWords.Number(g.FromG)} to {FittingWords.Grams(g.ToG)}")) + (gaps.Count > MostGaps ? " and others" : "");
}

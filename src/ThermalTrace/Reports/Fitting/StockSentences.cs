using System.Globalization;

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
            return ["The flying mass limit leaves no room for ballast, or there is neither a limit, nor a list of ballasts, nor a piece that fits."];
        }
        string limit = Grams(stock.UpToG);
        List<string> said = [stock.Sums == 0 ? $"No piece of the stock can be fitted up to {limit}." : $"The pieces make {Words.Plural(stock.Sums, "different mass", "different masses")} up to {limit}."];
        if (!stock.FitKnown)
        {
            said.Add("No tube is given, so lengths and diameters were not checked.");
        }
        if (stock.Gaps.Count == 0)
        {
            said.Add("The stock makes every step you could feel.");
            return said;
        }
        said.Add($"Out of reach: {string.Join(", ", stock.Gaps.Take(MostGaps).Select(g => $"{Number(g.FromG)} to {Grams(g.ToG)}"))}{(stock.Gaps.Count > MostGaps ? " and others" : "")}.");
        if (stock.FullTubeG is { } full)
        {
            said.Add($"Even full of tungsten alloy the tube holds no more than {Grams(full)}.");
        }
        if (stock.NewPieces.Count == 0)
        {
            said.Add("No three new pieces would make that better.");
            return said;
        }
        string pieces = stock.NewPieces.Count switch { 1 => "One new piece", 2 => "Two new pieces", _ => "Three new pieces" };
        said.Add($"{pieces} would help most: {string.Join("; ", stock.NewPieces.Select(New))}.");
        if (stock is { MeanOffG: { } mean, WorstOffG: { } worst, MeanOffThenG: { } meanThen, WorstOffThenG: { } worstThen })
        {
            string still = worstThen < worst - 0.05 ? $", at worst {Grams(worstThen)} instead of {Grams(worst)}" : $", still {Grams(worst)} at worst";
            said.Add($"The nearest you can fit is then {Grams(meanThen)} off on average instead of {Grams(mean)}{still}.");
        }
        said.Add(stock.GapsThen.Count == 0 ? "With them every step you could feel can be made."
            : $"Still out of reach with them: {string.Join(", ", stock.GapsThen.Take(MostGaps).Select(g => $"{Number(g.FromG)} to {Grams(g.ToG)}"))}{(stock.GapsThen.Count > MostGaps ? " and others" : "")}.");
        return said;
    }

    private static string New(NewPieceEntry piece)
    {
        string size = double.IsFinite(piece.DiameterMm) ? $", {Number(piece.DiameterMm)} x {Number(piece.LengthMm)} mm" : "";
        return $"{Words.Tame(piece.Material)} {Grams(piece.MassG)}{size}";
    }

    private static string Grams(double massG) => Number(massG) + " g";

    private static string Number(double value) => (Math.Round(value, 1) + 0.0).ToString("0.#", CultureInfo.InvariantCulture);
}

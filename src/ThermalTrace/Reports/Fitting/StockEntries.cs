using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports.Fitting;

/// <summary>What a stock makes and lacks, as the document lists it.</summary>
internal static class StockEntries
{
    private const int MostGaps = 6; // more are no help to anybody

    /// <summary>For a model.</summary>
    /// <param name="airframe">The model, its stock, its tube and its limits.</param>
    /// <param name="cancel">Ends the search.</param>
    public static StockEntry Of(Airframe airframe, CancellationToken cancel = default)
    {
        StockSense sense = StockSense.Of(airframe, cancel);
        return new StockEntry(sense.UpToG, sense.Now?.Sums ?? 0, Gaps(sense.Now),
            [.. sense.NewPieces.Select(p => new NewPieceEntry(p.Material, p.MassG, p.DiameterMm, p.LengthMm))], Gaps(sense.Then))
        {
            MeanOffG = sense.Now?.MeanOffG,
            WorstOffG = sense.Now?.WorstOffG,
            MeanOffThenG = sense.Then?.MeanOffG,
            WorstOffThenG = sense.Then?.WorstOffG,
            FullTubeG = sense.FullTubeG,
            FitKnown = sense.FitKnown,
        };
    }

    private static IReadOnlyList<GapEntry> Gaps(StockReach? reach) => [.. (reach?.Gaps ?? []).Take(MostGaps).Select(g => new GapEntry(g.FromG, g.ToG))];
}

using ThermalTrace.Sessions;

namespace ThermalTrace.Advice;

/// <summary>Every mass that the pieces owned can make, with the least length in the tube that it takes.</summary>
internal static class StockSums
{
    private const double StepG = 0.1;   // finer than any scale on a field
    private const int MostSums = 20_000;

    /// <summary>Sums of pieces that fit the tube, g, rising; without a tube all sums, of no length.</summary>
    /// <param name="airframe">Its stock and tube.</param>
    /// <param name="mostG">Heavier sums are left out.</param>
    public static IReadOnlyList<(double MassG, double LengthMm)> Of(Airframe airframe, double mostG)
    {
        BallastTube? tube = airframe.BallastTube;
        Dictionary<long, double> lengths = new() { [0] = 0 };
        foreach (BallastPiece piece in airframe.BallastStock.Where(p => p.MassG > 0 && (tube is null || p.DiameterMm <= tube.BoreMm)))
        {
            for (int used = 0; used < piece.Count; used++)
            {
                // One more of the piece on all that was there: a sum that it does not shorten stops there.
                bool grew = false;
                foreach ((long mass, double length) in lengths.ToArray())
                {
                    long heavier = mass + (long)Math.Round(piece.MassG / StepG);
                    double longer = length + (tube is null ? 0 : piece.LengthMm);
                    if (heavier * StepG > mostG + StepG / 2 || (tube is not null && longer > tube.LengthMm + 1e-9) || (lengths.TryGetValue(heavier, out double known) && known <= longer)
                        || lengths.Count >= MostSums)
                    {
                        continue;
                    }
                    lengths[heavier] = longer;
                    grew = true;
                }
                if (!grew)
                {
                    break;
                }
            }
        }
        return [.. lengths.Select(l => (Math.Round(l.Key * StepG, 1), l.Value)).OrderBy(s => s.Item1)];
    }
}

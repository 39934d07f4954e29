using ThermalTrace.Ballast;
using ThermalTrace.Learning;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports.Fitting;

/// <summary>Writes the document of "pieces".</summary>
internal static class PiecesEntries
{
    /// <summary>The document.</summary>
    /// <param name="model">What is known of the airframe.</param>
    /// <param name="askedG">Ballast, or null for the steps alone.</param>
    /// <param name="forwardMm">The wish.</param>
    /// <param name="ways">Best first; empty where nothing was asked for.</param>
    /// <param name="steps">From empty to the limit, or none.</param>
    /// <param name="stock">What the stock makes; null where one mass alone was asked for.</param>
    /// <param name="seed">Seed of the draws behind the effects.</param>
    public static PiecesDocument Document(SeasonModel model, double? askedG, double forwardMm, IReadOnlyList<FittingEntry> ways, IReadOnlyList<FittingEntry> steps, StockEntry? stock, int seed)
    {
        Airframe airframe = model.Airframe;
        FittingEntry? best = ways is [{ } first, ..] ? first : null;
        return new PiecesDocument
        {
            Program = DocumentBuilder.Program,
            Airframe = DocumentBuilder.Airframe(airframe),
            Tube = FittingEntries.Tube(airframe),
            BareCgMm = airframe.CgMm,
            CgLimitsMm = FittingEntries.Limits(airframe),
            CgForwardMm = forwardMm,
            BallastAskedG = askedG,
            BallastG = best?.BallastG,
            FlyingMassG = best?.FlyingMassG,
            Pieces = best?.Pieces ?? [],
            SpacerFrontMm = best?.SpacerFrontMm,
            SpacerRearMm = best?.SpacerRearMm,
            CgMm = best?.CgMm,
            CgChordPercent = best?.CgChordPercent,
            CgShiftMm = best?.CgShiftMm,
            StaticMarginPercent = best?.StaticMarginPercent,
            PitchInertiaAddedKgM2 = best?.PitchInertiaAddedKgM2,
            PitchPeriodRatio = best?.PitchPeriodRatio ?? Interval.Unknown,
            AsWished = best?.AsWished ?? steps.All(s => s.AsWished),
            TradeOff = "",
            OwnCautions = best?.Cautions.Count ?? 0,
            Cautions = [.. best?.Cautions ?? [], .. stock is { UpToG: > 0 } && best is null && PieceCheck.BeyondBalance(airframe, stock.UpToG) is { } beyond ? [beyond] : Array.Empty<string>(), .. PieceCheck.Cautions(airframe, askedG ?? 0), .. Secure(airframe, [.. ways, .. steps])],
            Alternatives = [.. ways.Skip(1)],
            Steps = steps,
            Stock = stock,
            Effects = best?.BallastG is { } fitted and > 0 ? MassEffectEntries.Of(model, [0, fitted], seed) : [],
        };
    }

    /// <summary>What can hurt, once; nothing where nothing is fitted.</summary>
    private static IEnumerable<string> Secure(Airframe airframe, IReadOnlyList<FittingEntry> all) => all.All(f => f.Pieces.Count == 0) ? []
        : [.. PieceCheck.Loose(airframe, all.SelectMany(f => f.Pieces).Select(p => (p.Name, p.DiameterMm))), .. BallastCautions.Always, .. BallastCautions.ForLaunch(airframe.Launch), .. BallastCautions.ByMaterial(all.SelectMany(f => f.Pieces).Select(p => p.Material).Distinct(StringComparer.Ordinal))];
}

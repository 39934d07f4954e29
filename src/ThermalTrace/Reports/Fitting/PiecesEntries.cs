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
    public static PiecesDocument Document(SeasonModel model, double? askedG, double forwardMm, IReadOnlyList<FittingEntry> ways, IReadOnlyList<FittingEntry> steps)
    {
        Airframe airframe = model.Airframe;
        FittingEntry? best = ways is [{ } first, ..] ? first : null;
        return new PiecesDocument
        {
            Program = DocumentBuilder.Program,
            Airframe = DocumentBuilder.Airframe(airframe),
            Tube = airframe.BallastTube is { } tube ? new TubeEntry(tube.BoreMm, tube.LengthMm, tube.CentreMm) : null,
            BareCgMm = airframe.CgMm,
            CgLimitsMm = airframe.CgLimitsMm is { } limits ? [limits.ForwardMm, limits.AftMm] : [],
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
            Cautions = [.. best?.Cautions ?? [], .. PieceCheck.Cautions(airframe, askedG ?? 0)],
            Alternatives = [.. ways.Skip(1)],
            Steps = steps,
            Stock = null,
            Effects = [],
        };
    }
}

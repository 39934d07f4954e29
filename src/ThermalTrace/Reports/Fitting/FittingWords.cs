using System.Globalization;

namespace ThermalTrace.Reports.Fitting;

/// <summary>A fitting in a pilot's words; page, report, advice and terminal say the same thing the same way.</summary>
internal static class FittingWords
{
    /// <summary>Less is not shown by any scale or any balancing on a field, g and mm.</summary>
    public const double Shown = 0.05;

    private const double KgMm2PerKgM2 = 1e6;

    /// <summary>"12.5 mm".</summary>
    public static string Mm(double lengthMm) => Estimate.Number(lengthMm, 1) + "\u00A0mm";

    /// <summary>"45 g", "44.6 g".</summary>
    public static string Grams(double massG) => Number(massG) + "\u00A0g";

    /// <summary>To a tenth, without a zero behind the point.</summary>
    public static string Number(double value) => double.IsFinite(value) ? (Math.Round(value, 1) + 0.0).ToString("0.#", CultureInfo.InvariantCulture) : "-";

    /// <summary>The answer in one sentence, without its full stop: "Fit 45 g: 2 × brass 15 and tungsten 15; CG stays at 72.0 mm".</summary>
    public static IReadOnlyList<Phrase> Headline(FittingEntry fitting)
    {
        double asked = fitting.BallastAskedG ?? fitting.BallastG ?? 0;
        if (fitting.Pieces.Count == 0)
        {
            return asked < Shown ? ["Nothing to fit: the model as it is"] : [$"{Grams(asked)} cannot be fitted with these pieces"];
        }
        string together = fitting.BallastG is { } ballast && Math.Abs(ballast - asked) >= Shown ? $", together {Grams(ballast)}" : "";
        string cg = Cg(fitting, withPlace: true);
        return [$"Fit {Grams(asked)}: ", .. Listed(fitting.Pieces, " and "), together + (cg.Length > 0 ? $"; CG {cg}" : "")];
    }

    /// <summary>One of several ways: "44 g: brass 15 and tungsten 14; CG stays at 72.0 mm."</summary>
    public static IReadOnlyList<Phrase> Other(FittingEntry fitting)
    {
        string cg = Cg(fitting, withPlace: true);
        return [fitting.BallastG is { } ballast ? $"{Grams(ballast)}: " : "", .. fitting.Pieces.Count == 0 ? ["none"] : Listed(fitting.Pieces, " and "), cg.Length > 0 ? $"; CG {cg}." : "."];
    }

    /// <summary>One line beside other advice: pieces, spacers, what becomes of the centre of gravity.</summary>
    public static IReadOnlyList<Phrase> Line(FittingEntry fitting)
    {
        if (fitting.Pieces.Count == 0)
        {
            return [fitting.BallastAskedG is { } asked and >= Shown ? $"Fit: {Grams(asked)} cannot be fitted with these pieces." : "Fit: nothing."];
        }
        string spacers = Spacers(fitting), cg = Cg(fitting, withPlace: false);
        string mass = fitting is { BallastAskedG: { } wanted, BallastG: { } got } && Math.Abs(wanted - got) >= Shown ? $", together {Grams(got)}" : "";
        return ["Fit: ", .. Listed(fitting.Pieces, ", "), mass + (spacers.Length > 0 ? $" ({spacers})" : "") + (cg.Length > 0 ? $"; CG {cg}." : ".")];
    }

    /// <summary>"spacers 12.5 mm in front, 7.5 mm behind"; empty where there is no tube.</summary>
    public static string Spacers(FittingEntry fitting) => (fitting.SpacerFrontMm, fitting.SpacerRearMm) switch
    {
        ({ } front, { } rear) when front < Shown && rear < Shown => "no spacers: the tube is full",
        ({ } front, { } rear) when rear < Shown => $"spacer {Mm(front)} in front",
        ({ } front, { } rear) when front < Shown => $"spacer {Mm(rear)} behind",
        ({ } front, { } rear) => $"spacers {Mm(front)} in front, {Mm(rear)} behind",
        _ => "",
    };

    /// <summary>"stays at 72.0 mm", "moves 0.7 mm forward, to 71.3 mm"; empty where it is not known.</summary>
    public static string Cg(FittingEntry fitting, bool withPlace) => fitting switch
    {
        { CgShiftMm: not { } } => "",
        { CgShiftMm: { } shift, CgMm: { } cg } when withPlace => Math.Abs(shift) < Shown ? $"stays at {Mm(cg)}" : $"moves {Moved(shift)}, to {Mm(cg)}",
        { CgShiftMm: { } shift } => Math.Abs(shift) < Shown ? "stays" : $"moves {Moved(shift)}",
    };

    /// <summary>"0.7 mm forward".</summary>
    public static string Moved(double shiftMm) => $"{Mm(Math.Abs(shiftMm))} {(shiftMm < 0 ? "forward" : "aft")}";

    /// <summary>The wish for the centre of gravity.</summary>
    public static string Wish(double cgForwardMm) => Math.Abs(cgForwardMm) < Shown ? "CG to stay" : $"CG to move {Moved(-cgForwardMm)}";

    /// <summary>What is taken from the box, kinds counted.</summary>
    public static IReadOnlyList<Phrase> Listed(IReadOnlyList<PieceEntry> pieces, string last)
    {
        IReadOnlyList<PieceRun> kinds = PieceRun.ByKind(pieces);
        List<Phrase> said = [];
        foreach ((int i, PieceRun run) in kinds.Index())
        {
            said.AddRange(i == 0 ? [] : [i == kinds.Count - 1 ? last : ", "]);
            said.AddRange(run.Counted());
        }
        return said;
    }

    /// <summary>Pitch inertia in kg mm², a size that one can read.</summary>
    public static string InertiaKgMm2(double kgM2) => Estimate.Significant(kgM2 * KgMm2PerKgM2);

    /// <summary>By how many per cent the model answers more slowly in pitch; unknown where the ratio is.</summary>
    public static Interval SlowerPercent(Interval periodRatio) => Estimate.Known(periodRatio)
        ? new Interval(100 * (periodRatio.Value!.Value - 1), 100 * (periodRatio.Low!.Value - 1), 100 * (periodRatio.High!.Value - 1))
        : Interval.Unknown;

    /// <summary>What one of several ways gains and costs, as a sentence; by how much it misses the wish is in it.</summary>
    public static string Cost(FittingEntry other)
    {
        string tradeOff = other.TradeOff.Trim();
        return tradeOff.Length == 0 || tradeOff[^1] == '.' ? tradeOff : Words.Capital(tradeOff) + ".";
    }
}

using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Fitting;

/// <summary>One fitting on a page: drawing, places, totals. For the pieces page and for the report.</summary>
internal static class FittingTables
{
    private const int MostPlaces = 14; // more, and pieces alike that lie together share a row

    /// <summary>The drawing with what must be said of it; empty where there is no tube.</summary>
    public static Html Drawing(FittingEntry fitting, TubeEntry? tube, double? bareCgMm, string id, double paperMm = TubeDrawing.PaperMm)
    {
        if (TubeDrawing.Of(fitting, tube, bareCgMm, paperMm) is not { } drawing)
        {
            return Html.Empty;
        }
        Html key = drawing.Key.Count == 0 ? Html.Empty
            : Html.Of($"<ul class=\"letters\">{Html.Join(drawing.Key.Select(k => Html.Of($"<li><b>{k.Letter}</b> {Html.Foreign(PieceRun.Name(k.Piece))}, {FittingWords.Grams(k.Piece.MassG)}</li>")))}</ul>");
        string size = drawing.Scale == 1
            ? "Drawn 1:1. Print it at 100 %, not fitted to the page, and each piece lies on its own outline."
            : $"Drawn 1:{drawing.Scale.ToString("0.##", System.Globalization.CultureInfo.InvariantCulture)}, because the tube is longer than the paper: lengths are in the table.";
        return Html.Of($"""
            <figure class="tube"><div class="scroll" role="region" aria-label="Drawing of the tube" tabindex="0">{drawing.Svg(bareCgMm, fitting.CgMm, id)}</div>{key}<figcaption>{size} The line of 50 mm shows whether the printer kept the size.</figcaption></figure>
            """);
    }

    /// <summary>Pieces and spacers in order from the front.</summary>
    public static Html Places(FittingEntry fitting, TubeEntry? tube, double? bareCgMm, double paperMm = TubeDrawing.PaperMm)
    {
        if (fitting.Pieces.Count == 0)
        {
            return Html.Empty;
        }
        TubeDrawing? drawing = TubeDrawing.Of(fitting, tube, bareCgMm, paperMm);
        IReadOnlyList<TubePart> parts = TubePart.Of(fitting, tube) ?? [.. fitting.Pieces.Select((p, i) => new TubePart(0, p.LengthMm, p, i + 1))];
        bool placed = drawing is not null;
        List<Html> heads = [Parts.Head("From the front"), Parts.Head("Mass", "g"), Parts.Head("Length", "mm")];
        if (placed)
        {
            heads.Add(Parts.Head("Middle", "mm behind the leading edge"));
        }
        return Parts.Table("What goes in, in this order", heads, Rows(parts, placed, drawing));
    }

    private static IEnumerable<(bool, IReadOnlyList<Html>)> Rows(IReadOnlyList<TubePart> parts, bool placed, TubeDrawing? drawing)
    {
        bool together = parts.Count(p => p.Piece is not null) > MostPlaces;
        for (int i = 0, next; i < parts.Count; i = next)
        {
            TubePart part = parts[i], last = part;
            next = i + 1;
            if (part.Piece is not { } piece)
            {
                yield return (false, [Html.Of($"<span class=\"none\">spacer, cut to</span>"), Html.Empty, Html.Of($"<b>{Estimate.Number(part.LengthMm, 1)}</b>"), Html.Empty]);
                continue;
            }
            while (together && next < parts.Count && parts[next].Piece is { } other && PieceRun.Alike(piece, other))
            {
                last = parts[next++];
            }
            int count = next - i;
            Html letter = drawing?.LetterOf(piece) is { Length: > 0 } a ? Html.Of($"<b>{a}</b> ") : Html.Empty;
            Html where = count > 1 ? Html.Of($"{part.Place} to {last.Place}") : Html.Of($"{part.Place}");
            List<Html> cells =
            [
                Html.Of($"<span class=\"place\">{where}</span> {letter}{(count > 1 ? Html.Of($"{count} × ") : Html.Empty)}{Html.Foreign(PieceRun.Name(piece, int.MaxValue))}"),
                Html.Of($"{FittingWords.Number(piece.MassG)}{Each(count)}"),
                Html.Of($"{Estimate.Number(piece.LengthMm, 1)}{Each(count)}"),
            ];
            if (placed)
            {
                cells.Add(count > 1 ? Html.Of($"{Estimate.Number(piece.CentreMm!.Value, 1)} to {Estimate.Number(last.Piece!.CentreMm!.Value, 1)}") : Html.Of($"{Estimate.Number(piece.CentreMm!.Value, 1)}"));
            }
            yield return (false, cells);
        }
    }

    private static Html Each(int count) => count > 1 ? Html.Of($" <span class=\"iv\">each</span>") : Html.Empty;

    /// <summary>Mass, balance and what it costs in pitch.</summary>
    /// <param name="fitting">The fitting.</param>
    /// <param name="airframe">The model.</param>
    /// <param name="bareCgMm">Without ballast; null where not known.</param>
    /// <param name="cgLimitsMm">Forward and aft, empty where not given; null where nothing is to be said of them.</param>
    public static Html Totals(FittingEntry fitting, AirframeEntry airframe, double? bareCgMm, IReadOnlyList<double>? cgLimitsMm)
    {
        List<Html> cells = [];
        void Add(string name, Html value, string remark) => cells.Add(Html.Of($"<div><dt>{name}</dt><dd>{value}{(remark.Length > 0 ? Html.Of($" <span class=\"remark\">{remark}</span>") : Html.Empty)}</dd></div>"));
        Add("Ballast", Known(fitting.BallastG, FittingWords.Grams), fitting is { BallastAskedG: { } asked, BallastG: { } got } && Math.Abs(asked - got) >= FittingWords.Shown ? $"asked for: {FittingWords.Grams(asked)}" : "");
        Add("Flying mass", Known(fitting.FlyingMassG, FittingWords.Grams), airframe.MaxFlyingMassG is { } most ? $"limit {FittingWords.Grams(most)}" : "no limit given");
        Add("CG", Known(fitting.CgMm, FittingWords.Mm), Balance(fitting, bareCgMm, cgLimitsMm));
        if (fitting.StaticMarginPercent is { } margin)
        {
            Add("Static margin", Html.Of($"<b>{Parts.Number(margin, 1)}&nbsp;%</b>"), "of the mean chord");
        }
        if (fitting is { PitchInertiaAddedKgM2: { } inertia, Pieces.Count: > 0 })
        {
            Add("Pitch inertia added", Html.Of($"<b>{FittingWords.InertiaKgMm2(inertia)}&nbsp;kg&nbsp;mm²</b>"), "");
        }
        if (fitting.Pieces.Count > 0 && Estimate.Known(fitting.PitchPeriodRatio))
        {
            Add("Slower in pitch, by", Parts.Estimated(FittingWords.SlowerPercent(fitting.PitchPeriodRatio), unit: "%"), "at the same speed");
        }
        return Html.Of($"<dl class=\"conditions\">{Html.Join(cells)}</dl>");
    }

    private static string Balance(FittingEntry fitting, double? bareCgMm, IReadOnlyList<double>? cgLimitsMm) => fitting.CgMm is null
        ? "needs cg_mm and ballast_tube in airframe.json"
        : string.Join("; ", new[]
        {
            fitting.CgChordPercent is { } percent ? $"{Estimate.Number(percent, 1)} % of the mean chord" : "",
            fitting.CgShiftMm is { } shift ? Math.Abs(shift) < FittingWords.Shown ? "not moved" : $"moved {FittingWords.Moved(shift)}{(bareCgMm is { } bare ? $", from {FittingWords.Mm(bare)}" : "")}" : "",
            cgLimitsMm switch
            {
                null => "",
                [var forward, var aft] => $"limits {FittingWords.Number(forward)} to {FittingWords.Number(aft)} mm",
                _ => "no limits given",
            },
        }.Where(s => s.Length > 0));

    private static Html Known(double? value, Func<double, string> written) => value is { } known && double.IsFinite(known)
        ? Html.Of($"<b>{written(known)}</b>") : Html.Of($"<b class=\"none\">not known</b>");
}

using System.Globalization;
using System.Text;
using ThermalTrace.Ballast;
using ThermalTrace.Reports.Page;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Fitting;

/// <summary>
/// Side view of a filled tube, one millimetre of the viewBox to a millimetre of paper, nose to the left. By hand, because the plotting library knows no
/// millimetres. Colours are classes of tube.css, so that it stands on any page.
/// </summary>
internal sealed class TubeDrawing
{
    /// <summary>What A4 has between the margins of the pieces page, and of the report.</summary>
    public const double PaperMm = 190, ReportPaperMm = 182;

    /// <summary>Of the line that shows whether a printer kept the size.</summary>
    public const double RulerMm = 50;

    private const double TextMm = 3, SmallMm = 2.6, LeastWidthMm = 112, EdgeMm = 12, RowMm = 3.4;
    private static readonly double[] Scales = [1, 2, 2.5, 4, 5, 10, 20, 25, 50, 100];

    private readonly StringBuilder svg = new();
    private readonly IReadOnlyList<TubePart> parts;
    private readonly double scale, low, left, width;
    private readonly TubeEntry tube;

    /// <summary>Paper to model: 2.5 where a millimetre of paper is 2.5 mm of the model.</summary>
    public double Scale => scale;

    /// <summary>Letters that stand for kinds of pieces whose names do not fit inside them.</summary>
    public IReadOnlyList<(string Letter, PieceEntry Piece)> Key { get; }

    private TubeDrawing(IReadOnlyList<TubePart> parts, TubeEntry tube, double?[] cgs, double paperMm)
    {
        (this.parts, this.tube) = (parts, tube);
        double[] ends = [tube.CentreMm - tube.LengthMm / 2, tube.CentreMm + tube.LengthMm / 2, .. cgs.OfType<double>().Where(double.IsFinite)];
        (low, double span) = (ends.Min(), ends.Max() - ends.Min());
        scale = Scales.FirstOrDefault(s => span / s <= paperMm - 2, span / (paperMm - 2));
        width = Math.Min(paperMm, Math.Max(LeastWidthMm, span / scale + 2 * EdgeMm));
        left = (width - span / scale) / 2;
        Key = [.. parts.Where(p => p.Piece is not null).GroupBy(p => PieceRun.Kind(p.Piece!)).Where(g => Inside(g.First()) is null).Select((g, i) => (Letter(i), g.Key))];
    }

    /// <summary>The drawing; null where there is nothing to draw or no tube to draw it in.</summary>
    public static TubeDrawing? Of(FittingEntry fitting, TubeEntry? tube, double? bareCgMm, double paperMm) =>
        TubePart.Of(fitting, tube) is { } parts ? new TubeDrawing(parts, tube!, [bareCgMm, fitting.CgMm], paperMm) : null;

    /// <summary>The letter of a piece; empty where its name stands in it.</summary>
    public string LetterOf(PieceEntry piece) => Key.FirstOrDefault(k => k.Piece == PieceRun.Kind(piece)).Letter ?? "";

    /// <summary>The picture as it stands in a page.</summary>
    /// <param name="bareCgMm">Without ballast; null where not known.</param>
    /// <param name="cgMm">With ballast; null where not known.</param>
    /// <param name="id">Begins the ids within; once a page.</param>
    public Html Svg(double? bareCgMm, double? cgMm, string id)
    {
        svg.Clear();
        (List<(double X, string Text)> above, int rows) = Above(bareCgMm is { } bare ? X(bare) : double.NaN);
        double top = (bareCgMm is null ? 7 : 11) + rows * RowMm, bore = tube.BoreMm / scale, bottom = top + bore, axis = bottom + (cgMm is null ? 2 : 6.5), ruler = axis + 14.5;
        double from = X(tube.CentreMm - tube.LengthMm / 2), until = X(tube.CentreMm + tube.LengthMm / 2);
        Text(from, 3.6, "front", "start", SmallMm, "soft");
        Path($"M{N(from + 9)} 2.7h7m-7 0l1.6 -1m-1.6 1l1.6 1", "thin");
        foreach (TubePart part in parts)
        {
            Part(part, bottom);
        }
        Path($"M{N(from)} {N(top)}H{N(until)}M{N(from)} {N(bottom)}H{N(until)}", "wall");
        Path($"M{N(from)} {N(top)}V{N(bottom)}M{N(until)} {N(top)}V{N(bottom)}", "thin");
        foreach ((double x, string text) in above)
        {
            Text(x, top - 1 - RowMm * Row(above, x, text), text, "middle", SmallMm, "halo");
        }
        Axis(axis, from, until);
        Mark(bareCgMm, 7.2, top, "without ballast: CG ");
        Mark(cgMm, bottom + 4.6, bottom, "with ballast: CG ");
        Ruler(ruler);
        double height = ruler + 6;
        string inside = string.Join(", ", parts.Select(p => p.Piece is { } piece ? $"{PieceRun.Name(piece)} {FittingWords.Grams(piece.MassG)}" : $"spacer {FittingWords.Mm(p.LengthMm)}"));
        return Html.Of($"""
            <svg class="tube-drawing" role="img" aria-labelledby="{id}-title {id}-desc" width="{N(width)}mm" height="{N(height)}mm" viewBox="0 0 {N(width)} {N(height)}"><title id="{id}-title">The tube from the side, filled</title><desc id="{id}-desc">From the front: {inside}.</desc>{new Html(svg.ToString())}</svg>
            """);
    }

    private double X(double mm) => left + (mm - low) / scale;

    private void Part(TubePart part, double bottom)
    {
        double x = X(part.FromMm), length = part.LengthMm / scale, bore = tube.BoreMm / scale;
        if (part.Piece is not { } piece)
        {
            svg.Append($"<rect class=\"spacer\" x=\"{N(x)}\" y=\"{N(bottom - bore)}\" width=\"{N(length)}\" height=\"{N(bore)}\"/>");
            if (SpacerInside(part) is { } said)
            {
                Text(x + length / 2, bottom - bore / 2 + 1, said, "middle", SmallMm, "soft");
            }
            return;
        }
        // It lies on the floor of the tube; what is left above it is what it rattles in.
        double across = Math.Min(piece.DiameterMm / scale, bore), middle = bottom - across / 2;
        svg.Append($"<rect class=\"metal {Metal(piece)}\" x=\"{N(x)}\" y=\"{N(bottom - across)}\" width=\"{N(length)}\" height=\"{N(across)}\"/>");
        string[] lines = Inside(part) ?? (Fits(LetterOf(piece), part) ? [LetterOf(piece)] : []);
        foreach ((int i, string line) in lines.Index())
        {
            Text(x + length / 2, middle + 1 + (i - (lines.Length - 1) / 2.0) * RowMm, line, "middle", SmallMm, "");
        }
    }

    /// <summary>Name and mass as they fit inside a piece; null where not even the name does.</summary>
    private string[]? Inside(TubePart part)
    {
        PieceEntry piece = part.Piece!;
        string name = PieceRun.Name(piece), mass = FittingWords.Grams(piece.MassG).Replace('\u00A0', ' ');
        string[][] ways = [[$"{name}, {mass}"], [name, mass]];
        return ways.FirstOrDefault(w => w.All(l => Fits(l, part)) && piece.DiameterMm / scale >= w.Length * RowMm - 0.4);
    }

    private bool Fits(string text, TubePart part) => text.Length > 0 && WidthMm(text, SmallMm) + 1 <= part.LengthMm / scale && (part.Piece?.DiameterMm ?? tube.BoreMm) / scale >= RowMm - 0.6;

    private string? SpacerInside(TubePart part) =>
        new[] { $"spacer {FittingWords.Mm(part.LengthMm)}", FittingWords.Mm(part.LengthMm), Estimate.Number(part.LengthMm, 1) }.FirstOrDefault(t => Fits(t, part));

    /// <summary>What does not fit inside stands above, pieces alike and together named once.</summary>
    private (List<(double X, string Text)> Labels, int Rows) Above(double arrowX)
    {
        List<(double X, string Text)> labels = [];
        for (int i = 0, next; i < parts.Count; i = next)
        {
            TubePart part = parts[i];
            next = i + 1;
            if (part.Piece is not { } piece)
            {
                if (SpacerInside(part) is null)
                {
                    labels.Add((X(part.FromMm + part.LengthMm / 2), Estimate.Number(part.LengthMm, 1)));
                }
                continue;
            }
            if (Inside(part) is not null || Fits(LetterOf(piece), part))
            {
                continue;
            }
            while (next < parts.Count && parts[next].Piece is { } other && PieceRun.Alike(piece, other))
            {
                next++;
            }
            string letter = LetterOf(piece);
            labels.Add((X((part.FromMm + parts[next - 1].FromMm + parts[next - 1].LengthMm) / 2), next - i > 1 ? string.Create(CultureInfo.InvariantCulture, $"{next - i} × {letter}") : letter));
        }
        // The arrow of the bare balance comes down there.
        for (int i = 0; i < labels.Count; i++)
        {
            (double x, string text) = labels[i];
            double clear = WidthMm(text, SmallMm) / 2 + 1.8;
            labels[i] = Math.Abs(x - arrowX) < clear ? (x < arrowX ? arrowX - clear : arrowX + clear, text) : (x, text);
        }
        return (labels, labels.Count == 0 ? 0 : 1 + labels.Max(l => Row(labels, l.X, l.Text)));
    }

    /// <summary>The first row above the tube in which a label is clear of those before it.</summary>
    private static int Row(List<(double X, string Text)> labels, double x, string text)
    {
        List<double> ends = [];
        foreach ((double at, string said) in labels)
        {
            double half = WidthMm(said, SmallMm) / 2 + 0.4;
            int row = ends.FindIndex(e => e <= at - half);
            if (row < 0)
            {
                row = ends.Count;
                ends.Add(0);
            }
            ends[row] = at + half;
            if (at == x && said == text)
            {
                return row;
            }
        }
        return 0;
    }

    /// <summary>Where the centre of gravity is: an arrow that ends at the wall, so that it crosses out no name.</summary>
    private void Mark(double? cgMm, double labelY, double wall, string said)
    {
        if (cgMm is not { } cg || !double.IsFinite(cg))
        {
            return;
        }
        double x = X(cg), down = wall > labelY ? 1 : -1, tip = wall - 0.5 * down;
        Path($"M{N(x)} {N(labelY - (down > 0 ? 2.2 : 0))}V{N(tip - 2 * down)}", "cg");
        svg.Append($"<path class=\"cg-head\" d=\"M{N(x - 1.2)} {N(tip - 2.2 * down)}h2.4L{N(x)} {N(tip)}z\"/>");
        string text = said + FittingWords.Mm(cg).Replace('\u00A0', ' ');
        bool right = x + 2.4 + WidthMm(text, TextMm) <= width;
        Text(right ? x + 2.4 : x - 2.4, labelY, text, right ? "start" : "end", TextMm, "halo");
    }

    /// <summary>Distances behind the wing root's leading edge.</summary>
    private void Axis(double y, double from, double until)
    {
        double[] steps = [10, 20, 50, 100, 200, 500, 1000, 2000, 5000];
        double step = steps.FirstOrDefault(s => s / scale >= 9.9, steps[^1]), tenth = step / 10, first = tube.CentreMm - tube.LengthMm / 2, last = tube.CentreMm + tube.LengthMm / 2;
        StringBuilder ticks = new($"M{N(from)} {N(y)}H{N(until)}");
        for (int i = (int)Math.Ceiling(first / tenth - 1e-6); i <= last / tenth + 1e-6; i++)
        {
            bool full = i % 10 == 0;
            if (tenth / scale >= 0.9 || i % 5 == 0)
            {
                ticks.Append($"M{N(X(i * tenth))} {N(y)}v{(full ? "2.4" : i % 5 == 0 ? "1.8" : "1.1")}");
            }
            if (full)
            {
                Text(X(i * tenth), y + 5.2, Estimate.Number(i * tenth, 0), "middle", SmallMm, "soft");
            }
        }
        Path(ticks.ToString(), "thin");
        Text(width / 2, y + 9, "mm behind the wing root’s leading edge", "middle", SmallMm, "soft");
    }

    private void Ruler(double y)
    {
        double x = 1;
        string ticks = string.Concat(Enumerable.Range(0, 6).Select(i => $"M{N(x + 10 * i)} {N(y - (i % 5 == 0 ? 2 : 1.2))}V{N(y + (i % 5 == 0 ? 2 : 1.2))}"));
        Path($"M{N(x)} {N(y)}h{N(RulerMm)}", "ruler");
        Path(ticks, "thin");
        Text(x + RulerMm + 2.5, y + 1, scale == 1 ? "must measure 50 mm on paper" : $"must measure 50 mm on paper, {Estimate.Number(RulerMm * scale, 0)} mm of the tube", "start", SmallMm, "");
    }

    private void Path(string d, string kind) => svg.Append($"<path class=\"{kind}\" d=\"{d}\"/>");

    private void Text(double x, double y, string text, string anchor, double size, string kind) =>
        svg.Append(Html.Of($"<text x=\"{N(x)}\" y=\"{N(y)}\" font-size=\"{N(size)}\" text-anchor=\"{anchor}\"{(kind.Length > 0 ? Html.Of($" class=\"{kind}\"") : Html.Empty)}>{text}</text>").Source);

    /// <summary>Of a line of text, mm; letters that the font does not have are taken as wide as they are high.</summary>
    public static double WidthMm(string text, double sizeMm, bool bold = false)
    {
        // Every digit as the widest: tables set them all alike.
        string known = string.Concat(text.Where(c => c <= '\u024F' || c is '…' or '’' or '–').Select(c => char.IsAsciiDigit(c) ? '0' : c));
        return (PictureFont.WidthPx(known, 100, bold) / 100 + (text.Length - known.Length)) * sizeMm;
    }

    private static string Metal(PieceEntry piece) => Materials.Find(piece.Material) switch
    {
        null => "other",
        var m when m == Materials.Brass => "brass",
        var m when m == Materials.Lead => "lead",
        var m when m == Materials.Steel => "steel",
        _ => "tungsten",
    };

    private static string Letter(int index) => (index >= 26 ? Letter(index / 26 - 1) : "") + (char)('A' + index % 26);

    private static string N(double value) => (Math.Round(value, 2) + 0.0).ToString("0.##", CultureInfo.InvariantCulture);
}

using System.Globalization;
using ScottPlot;
using Range = System.Range;

namespace ThermalTrace.Reports.Pictures;

/// <summary>The range of an axis; low may exceed high, which turns the axis over.</summary>
internal readonly record struct AxisRange(double Low, double High)
{
    public double Span => High - Low;
}

/// <summary>
/// One plot of the report: axes in the house's look, drawn by ScottPlot in place-holder colours that
/// <see cref="SvgText"/> turns into classes, so that one picture serves light, dark and print.
/// </summary>
internal sealed class Picture : IDisposable
{
    public const float TextPx = 14;
    private const int TopPx = 30;
    private const int LeftPx = 44;
    private const int BottomPx = 46;
    private const int RightPx = 12;

    private readonly Plot plot = new();
    private readonly List<Stroke> strokes = [];
    private readonly List<PlainText> outside = [];
    private readonly int widthPx;
    private readonly int heightPx;
    private readonly AxisRange x;
    private readonly AxisRange y;

    public Picture(int widthPx, int heightPx, AxisRange x, AxisRange y)
    {
        PictureFont.Register();
        (this.widthPx, this.heightPx, this.x, this.y) = (widthPx, heightPx, x, y);
        plot.FigureBackground.Color = Colors.Transparent;
        plot.DataBackground.Color = Colors.Transparent;
        plot.Layout.Fixed(new PixelPadding(LeftPx, RightPx, BottomPx, TopPx));
        plot.Axes.SetLimits(x.Low, x.High, y.Low, y.High);
        plot.HideLegend();
        foreach (IAxis axis in plot.Axes.GetAxes())
        {
            axis.FrameLineStyle.Width = axis == plot.Axes.Bottom ? 1 : 0;
            axis.FrameLineStyle.Color = Colour(Inks.Muted);
            axis.TickLabelStyle.FontName = PictureFont.Family;
            axis.TickLabelStyle.FontSize = TextPx;
            axis.TickLabelStyle.ForeColor = Colour(Inks.Muted);
            axis.MajorTickStyle.Color = Colour(Inks.Muted);
            axis.MajorTickStyle.Length = axis == plot.Axes.Bottom ? 4 : 0;
            axis.MinorTickStyle.Length = 0;
        }

        plot.Grid.YAxisStyle.MajorLineStyle.Color = Colour(Inks.Rule);
        plot.Grid.YAxisStyle.MajorLineStyle.Width = 1;
        plot.Grid.XAxisStyle.IsVisible = false;
    }

    /// <summary>Pixels a unit of each axis.</summary>
    private double PxPerX => (widthPx - LeftPx - RightPx) / Math.Abs(x.Span);

    private double PxPerY => (heightPx - TopPx - BottomPx) / Math.Abs(y.Span);

    /// <summary>Where the area inside the axes lies and what it shows.</summary>
    public PlotArea Area => new(widthPx, heightPx, LeftPx, TopPx, widthPx - LeftPx - RightPx, heightPx - TopPx - BottomPx, x.Low, x.High, y.Low, y.High);

    /// <summary>Width and height of the area inside the axes, px, for a picture of that size.</summary>
    public static (int WidthPx, int HeightPx) Inside(int widthPx, int heightPx) => (widthPx - LeftPx - RightPx, heightPx - TopPx - BottomPx);

    /// <summary>Names the axes: x below at the right, y above at the left, both upright.</summary>
    public void Axes(string xName, IEnumerable<(double At, string Label)> xTicks, string yName, IEnumerable<(double At, string Label)> yTicks)
    {
        (double At, string Label)[] xs = [.. xTicks], ys = [.. yTicks];
        plot.Axes.Bottom.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. xs.Select(t => t.At)], [.. xs.Select(t => t.Label)]);
        plot.Axes.Left.TickGenerator = new ScottPlot.TickGenerators.NumericManual([.. ys.Select(t => t.At)], [.. ys.Select(t => t.Label)]);
        outside.Add(new PlainText(yName, 0, 15, "start", Inks.Muted));
        outside.Add(new PlainText(xName, widthPx - RightPx, heightPx - 6, "end", Inks.Muted));
    }

    public void Line(IReadOnlyList<double> xs, IReadOnlyList<double> ys, Ink ink, float widthPx = 2, string dash = "")
    {
        foreach (Range run in Runs(xs, ys))
        {
            int[] keep = Thinning.Keep(run, i => xs[i] * PxPerX, i => ys[i] * PxPerY, 0.3);
            if (keep.Length < 2)
            {
                continue;
            }

            var line = plot.Add.ScatterLine(keep.Select(i => xs[i]).ToArray(), keep.Select(i => ys[i]).ToArray(), Colour(ink, dash));
            line.LineWidth = widthPx;
        }
    }

    public void Band(IReadOnlyList<double> xs, IReadOnlyList<double> low, IReadOnlyList<double> high, Ink ink, double opacity = 0.16)
    {
        foreach (Range run in Runs(xs, low, high))
        {
            (int start, int length) = run.GetOffsetAndLength(xs.Count);
            if (length < 2)
            {
                continue;
            }

            var band = plot.Add.FillY(
                xs.Skip(start).Take(length).ToArray(), low.Skip(start).Take(length).ToArray(), high.Skip(start).Take(length).ToArray());
            band.LineWidth = 0;
            band.FillColor = Colour(ink).WithAlpha(opacity);
        }
    }

    public void Points(IReadOnlyList<double> xs, IReadOnlyList<double> ys, Ink ink, MarkerShape shape, float sizePx, double opacity = 1)
    {
        int[] known = [.. Enumerable.Range(0, xs.Count).Where(i => double.IsFinite(xs[i]) && double.IsFinite(ys[i]))];
        if (known.Length == 0)
        {
            return;
        }

        var points = plot.Add.ScatterPoints(known.Select(i => xs[i]).ToArray(), known.Select(i => ys[i]).ToArray());
        points.MarkerShape = shape;
        points.MarkerSize = sizePx;
        points.MarkerFillColor = Colour(ink).WithAlpha(opacity);
        points.MarkerLineColor = Colour(ink).WithAlpha(opacity);
        points.MarkerLineWidth = 2;
    }

    /// <summary>A filled arrow between two points of the plot.</summary>
    public void Arrow(double fromX, double fromY, double toX, double toY, Ink ink)
    {
        var arrow = plot.Add.Arrow(fromX, fromY, toX, toY);
        arrow.ArrowFillColor = Colour(ink);
        arrow.ArrowLineWidth = 0;
        arrow.ArrowWidth = 3;
        arrow.ArrowheadWidth = 12;
        arrow.ArrowheadAxisLength = 12;
        arrow.ArrowheadLength = 13;
    }

    /// <summary>Words in the plot, at a place and so many pixels from it.</summary>
    public void Words(string text, double atX, double atY, Ink ink, Alignment alignment, float offsetXPx = 0, float offsetYPx = 0, bool bold = false)
    {
        var label = plot.Add.Text(text, atX, atY);
        label.LabelFontName = PictureFont.Family;
        label.LabelFontSize = TextPx;
        label.LabelBold = bold;
        label.LabelFontColor = Colour(ink);
        label.LabelAlignment = alignment;
        label.OffsetX = offsetXPx;
        label.OffsetY = offsetYPx;
    }

    /// <summary>The picture as an svg element. The id must be unique in the page; title and description are plain text.</summary>
    public string Svg(string id, string title, string description)
    {
        plot.Axes.SetLimits(x.Low, x.High, y.Low, y.High);
        return SvgText.Clean(plot.GetSvgXml(widthPx, heightPx), id, title, description, strokes, outside);
    }

    public void Dispose() => plot.Dispose();

    /// <summary>Every combination of ink and dash gets a colour of its own, which stands for it until the picture is cleaned.</summary>
    private Color Colour(Ink ink, string dash = "")
    {
        var stroke = new Stroke(ink, dash);
        int index = strokes.IndexOf(stroke);
        if (index < 0)
        {
            index = strokes.Count;
            strokes.Add(stroke);
        }

        return Color.FromHex(SvgText.PlaceHolder(index));
    }

    private static IEnumerable<Range> Runs(IReadOnlyList<double> first, params IReadOnlyList<double>[] others)
    {
        int start = -1;
        for (int i = 0; i <= first.Count; i++)
        {
            bool known = i < first.Count && double.IsFinite(first[i]) && others.All(o => double.IsFinite(o[i]));
            if (known && start < 0)
            {
                start = i;
            }
            else if (!known && start >= 0)
            {
                yield return start..i;
                start = -1;
            }
        }
    }

    /// <summary>Round steps over a range, about <paramref name="wanted"/> of them.</summary>
    public static IEnumerable<(double At, string Label)> Ticks(AxisRange range, int wanted = 5, bool labelled = true)
    {
        double low = Math.Min(range.Low, range.High), high = Math.Max(range.Low, range.High);
        double raw = (high - low) / wanted, unit = Math.Pow(10, Math.Floor(Math.Log10(raw)));
        double step = unit * (raw / unit) switch { <= 1.2 => 1, <= 2.4 => 2, <= 6 => 5, _ => 10 };
        int decimals = Math.Max(0, -(int)Math.Floor(Math.Log10(step) + 1e-9));
        for (double k = Math.Ceiling(low / step - 1e-6); k * step <= high + step * 1e-6; k++)
        {
            yield return (k * step, labelled ? Minus(Estimate.Number(k * step, decimals)) : "");
        }
    }

    /// <summary>A true minus in place of the hyphen.</summary>
    public static string Minus(string number) => number.Replace('-', '\u2212');
}

/// <summary>What a place-holder colour stands for.</summary>
internal sealed record Stroke(Ink Ink, string Dash);

/// <summary>Words outside the axes, placed in pixels.</summary>
internal sealed record PlainText(string Text, double XPx, double YPx, string Anchor, Ink Ink);

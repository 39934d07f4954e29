using System.Globalization;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Stick;

/// <summary>A stick in its tube from the side, in millimetres: printed at 100 % it is full size. Untrusted text is escaped.</summary>
internal static class StickDrawing
{
    /// <summary>What a sheet of A4 or US Letter has room for inside its margins, upright and on its side, mm.</summary>
    public const double UprightMm = 185, SidewaysMm = 250;

    private const string Mark = "<!-- thermaltrace.stick/1 drawing -->";
    private const double LeastWidthMm = 140, LeftMm = 16, RightMm = 40; // room for the rulers; for numbers beside the tube
    private const double TubeTopMm = 53, LabelFootMm = 43, LabelStepMm = 4.2, CharacterMm = 1.65, WallMm = 0.6;
    private const string Spacer = " spacer";
    private const double LeastRoomMm = 4.5; // for a line of text between two others
    private const int LongestName = 24;

    /// <summary>True where a file's first lines say that it is such a drawing.</summary>
    public static bool IsDrawing(string head) => head.Contains(Mark, StringComparison.Ordinal);

    /// <summary>True where it needs the paper on its side.</summary>
    public static bool IsWide(StickDocument document, StickOptionEntry option) => Layout(document, option).PaperMm > UprightMm;

    /// <summary>The drawing alone, with its own colours.</summary>
    public static void WriteFile(TextWriter writer, StickDocument document, StickOptionEntry option) =>
        writer.Write((Mark + "\n" + Draw(document, option, new Html("""
             xmlns="http://www.w3.org/2000/svg"
            """), new Html("<style>svg{--paper:#fff;--text:#16222b;--muted:#52626b;--accent:#0a6b55;--metal:#c9d3d6;--spacer:#eef2f3}" + Css() + "</style>"))
            .Source + "\n").ReplaceLineEndings("\n"));

    /// <summary>The drawing within a page that has the colours.</summary>
    public static Html Draw(StickDocument document, StickOptionEntry option) => Draw(document, option, Html.Empty, Html.Empty);

    /// <summary>The classes of the drawing.</summary>
    public static string Css() => StyleSheet.Resource("Stick.drawing.css");

    private static Html Draw(StickDocument document, StickOptionEntry option, Html attributes, Html style)
    {
        (BrokenScale scale, double paper, Places at) = Layout(document, option);
        double X(double place) => LeftMm + scale.At(place);
        double bore = document.Tube.BoreMm, foot = TubeTopMm + bore, middle = TubeTopMm + bore / 2, radius = option.DiameterMm / 2, end = LeftMm + scale.WidthMm, ruler = foot + 30, height = ruler + 15;
        string title = $"{StickSentences.Name(option with { Material = Shortened(option.Material, LongestName) })}, {Words.Grams(option.MassG)}";
        List<Html> parts =
        [
            style,
            Html.Of($"<rect class=\"paper\" width=\"{N(paper)}\" height=\"{N(height)}\"/>"),
            Text(4, 6, title, "title"),
            Text(4, 10.5, $"{Number(option.DiameterMm, "0.##")} mm thick, {Estimate.Plain(StickSentences.Length(option), 1)} mm long."),
            Text(4, 14.5, "Numbers above the tube: mm aft of the wing root’s leading edge." + (scale.BreaksMm.Count > 0 ? " Cut short at the zigzags, full size elsewhere." : "")),
            // The tube's wall is not known: two lines stand for it.
            Box("spacer", X(at.TubeFront), TubeTopMm, X(at.TubeRear) - X(at.TubeFront), bore),
            Box("stick", X(at.StickFront), middle - radius, X(at.StickRear) - X(at.StickFront), 2 * radius),
            Box("wall", X(at.TubeFront), TubeTopMm - WallMm, X(at.TubeRear) - X(at.TubeFront), WallMm),
            Box("wall", X(at.TubeFront), foot, X(at.TubeRear) - X(at.TubeFront), WallMm),
            Line("end", X(at.TubeFront), TubeTopMm, X(at.TubeFront), foot),
            Line("end", X(at.TubeRear), TubeTopMm, X(at.TubeRear), foot),
            Line("axis", LeftMm - 3, middle, end + 3, middle),
            .. scale.BreaksMm.Select(b => Zigzag(LeftMm + b, TubeTopMm - 2.5, foot + 2.5)),
            .. Labels(document, option, at, X, paper),
            .. Span(X(at.TubeFront), X(at.StickFront), foot, foot + 9, Number(at.StickFront - at.TubeFront), -1, Spacer),
            .. Span(X(at.StickFront), X(at.StickRear), foot, foot + 9, $"{Estimate.Plain(StickSentences.Length(option), 1)} stick", 0),
            .. Span(X(at.StickRear), X(at.TubeRear), foot, foot + 9, Number(at.TubeRear - at.StickRear), 1, Spacer),
            .. Span(X(at.TubeFront), X(at.TubeRear), foot, foot + 19, $"{Number(document.Tube.LengthMm)} tube", 0),
            .. Across(X(at.StickRear), end + 6, middle, radius, $"Ø {Number(option.DiameterMm, "0.##")}", bore >= LeastRoomMm ? middle + 1 : TubeTopMm - 1.5),
            .. Across(X(at.TubeRear), end + 20, middle, bore / 2, $"bore {Number(bore, "0.##")}", bore >= LeastRoomMm ? middle + 1 : foot + 4),
            .. Ruler(4, ruler, 50, 5, "50 mm"),
            .. Ruler(64, ruler, 50.8, 12.7, "2 in"),
            Text(4, ruler + 9, "Full size only where these measure 50 mm and 2 in on the paper:"),
            Text(4, ruler + 13, "print at 100 %, not “fit to page”."),
        ];
        return Html.Of($"<svg{attributes} class=\"drawing\" width=\"{N(paper)}mm\" height=\"{N(height)}mm\" viewBox=\"0 0 {N(paper)} {N(height)}\" role=\"img\" aria-label=\"{title}\">\n{Html.Join(parts)}</svg>");
    }

    private static (BrokenScale Scale, double PaperMm, Places At) Layout(StickDocument document, StickOptionEntry option)
    {
        double front = document.Tube.CentreMm - document.Tube.LengthMm / 2, rear = document.Tube.CentreMm + document.Tube.LengthMm / 2;
        double centre = option.CentreMm ?? throw new ArgumentException("a stick that does not fit has no place to be drawn at", nameof(option));
        Places at = new(front, rear, centre - option.LengthMm / 2, centre + option.LengthMm / 2);
        double[] places = [at.TubeFront, at.TubeRear, at.StickFront, at.StickRear, centre, .. document.BareCgMm is { } bare ? [bare] : Array.Empty<double>(), .. option.CgMm is { } cg ? [cg] : Array.Empty<double>()];
        double needed = places.Max() - places.Min() + LeftMm + RightMm, paper = needed <= LeastWidthMm ? LeastWidthMm : needed <= UprightMm ? UprightMm : SidewaysMm;
        return (new BrokenScale(places, paper - LeftMm - RightMm), paper, at);
    }

    /// <summary>The places' numbers, upright and apart, each with a line to its place; the centres of gravity with their marks.</summary>
    private static IEnumerable<Html> Labels(StickDocument document, StickOptionEntry option, Places at, Func<double, double> x, double paper)
    {
        double foot = TubeTopMm + document.Tube.BoreMm;
        List<(double Place, string Name, string Class)> labels =
        [
            (at.TubeFront, "tube", ""), (at.TubeRear, "tube", ""), (at.StickFront, "stick", ""), (at.StickRear, "stick", ""), (option.CentreMm!.Value, "middle", ""),
        ];
        if (document.BareCgMm is { } bare && option.CgMm is { } cg)
        {
            labels.AddRange([(bare, "CG before", "cg"), (cg, "CG after", "cg")]);
            yield return Html.Of($"<path class=\"before\" d=\"M{N(x(bare))} {N(TubeTopMm - WallMm)}l-1.7 -3h3.4z\"/>");
            yield return Html.Of($"<path class=\"after\" d=\"M{N(x(cg))} {N(foot + WallMm)}l-1.7 3h3.4z\"/>");
            yield return Line("after-line", x(cg), TubeTopMm - 4, x(cg), foot);
        }
        labels = [.. labels.OrderBy(l => l.Place)];
        double[] where = Apart([.. labels.Select(l => x(l.Place))], 3, paper - 3);
        foreach ((int i, (double place, string name, string kind)) in labels.Index())
        {
            yield return Html.Of($"<path class=\"leader\" d=\"M{N(where[i])} {N(LabelFootMm + 0.8)}V{N(LabelFootMm + 2)}L{N(x(place))} {N(TubeTopMm - 4.5)}V{N(TubeTopMm - 3.6)}\"/>");
            yield return Html.Of($"<text class=\"{kind}\" transform=\"translate({N(where[i] + 1)} {N(LabelFootMm)}) rotate(-90)\">{name} {Number(place)}</text>");
        }
    }

    /// <summary>Moves sorted places apart so that none is nearer to the next than a line of text, each run of them staying around where it was.</summary>
    internal static double[] Apart(double[] wanted, double least, double most)
    {
        // Runs that touch are joined and centred on the mean of what they want.
        List<(double Sum, int Count)> runs = [];
        double Start((double Sum, int Count) run) =>
            Math.Clamp(run.Sum / run.Count - (run.Count - 1) * LabelStepMm / 2, least, Math.Max(least, most - (run.Count - 1) * LabelStepMm));
        foreach (double place in wanted)
        {
            runs.Add((place, 1));
            while (runs.Count > 1 && Start(runs[^1]) < Start(runs[^2]) + runs[^2].Count * LabelStepMm)
            {
                runs[^2] = (runs[^2].Sum + runs[^1].Sum, runs[^2].Count + runs[^1].Count);
                runs.RemoveAt(runs.Count - 1);
            }
        }
        return [.. runs.SelectMany(r => Enumerable.Range(0, r.Count).Select(i => Start(r) + i * LabelStepMm))];
    }

    /// <summary>A dimension along the tube; where its number has no room in it, it stands before (-1), below (0) or behind (1).</summary>
    private static IEnumerable<Html> Span(double from, double to, double foot, double y, string number, int side, string name = "")
    {
        number += to - from >= CharacterMm * (number.Length + name.Length) + 2 ? name : "";
        double room = CharacterMm * number.Length;
        yield return Line("dim", from, y, to, y);
        yield return Line("dim", from, foot + 1.5, from, y + 1.5);
        yield return Line("dim", to, foot + 1.5, to, y + 1.5);
        yield return Tick(from, y);
        yield return Tick(to, y);
        yield return to - from >= room + 2 ? Text((from + to) / 2, y - 1, number, "mid")
            : side == 0 ? Text((from + to) / 2, y + 4.5, number, "mid")
            : side < 0 ? Text(from - 1.5, y - 1, number, "last") : Text(to + 1.5, y - 1, number);
    }

    /// <summary>A dimension across the tube, its number beside it.</summary>
    private static IEnumerable<Html> Across(double from, double x, double middle, double radius, string number, double textY)
    {
        yield return Line("dim", from + 1, middle - radius, x + 1.5, middle - radius);
        yield return Line("dim", from + 1, middle + radius, x + 1.5, middle + radius);
        yield return Line("dim", x, middle - radius, x, middle + radius);
        yield return Tick(x, middle - radius);
        yield return Tick(x, middle + radius);
        yield return Text(x + 1, textY, number);
    }

    private static IEnumerable<Html> Ruler(double x, double y, double length, double step, string name)
    {
        yield return Line("ruler", x, y, x + length, y);
        for (int i = 0; i * step <= length + 1e-9; i++)
        {
            yield return Line("ruler", x + i * step, y, x + i * step, y - (i % 2 == 0 ? 3 : 1.8));
        }
        yield return Text(x + length / 2, y + 4, name, "mid");
    }

    private static Html Zigzag(double x, double top, double foot)
    {
        double half = (foot - top) / 2;
        string line = $"l-1.2 {N(half - 1)}l2.4 2l-1.2 {N(half - 1)}";
        string back = $"l1.2 -{N(half - 1)}l-2.4 -2l1.2 -{N(half - 1)}";
        return Html.Of($"<path class=\"gap\" d=\"M{N(x - 1)} {N(top)}{line}h2{back}z\"/><path class=\"zigzag\" d=\"M{N(x - 1)} {N(top)}{line}M{N(x + 1)} {N(top)}{line}\"/>");
    }

    private static Html Box(string kind, double x, double y, double width, double height) =>
        Html.Of($"<rect class=\"{kind}\" x=\"{N(x)}\" y=\"{N(y)}\" width=\"{N(width)}\" height=\"{N(height)}\"/>\n");

    private static Html Line(string kind, double x1, double y1, double x2, double y2) => Html.Of($"<path class=\"{kind}\" d=\"M{N(x1)} {N(y1)}L{N(x2)} {N(y2)}\"/>\n");

    private static Html Tick(double x, double y) => Html.Of($"<path class=\"tick\" d=\"M{N(x - 0.9)} {N(y + 0.9)}l1.8 -1.8\"/>\n");

    private static Html Text(double x, double y, string text, string kind = "") => Html.Of($"<text class=\"{kind}\" x=\"{N(x)}\" y=\"{N(y)}\">{text}</text>\n");

    private static string Shortened(string text, int most) => text.Length <= most ? text : text[..(most - 1)] + "…";

    private static string Number(double value, string format = "0.0") => value.ToString(format, CultureInfo.InvariantCulture);

    private static string N(double value) => Estimate.Number(value, 3).TrimEnd('0').TrimEnd('.');

    private readonly record struct Places(double TubeFront, double TubeRear, double StickFront, double StickRear);
}

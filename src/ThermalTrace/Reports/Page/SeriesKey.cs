using ScottPlot;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>Which style each ballast has throughout the page, and the samples of it that stand in keys and tables.</summary>
internal sealed class SeriesKey
{
    private readonly List<double> ballastsG;
    private readonly List<string?> cambers;

    public SeriesKey(ResultsDocument doc)
    {
        ballastsG = [.. doc.Comparison.Options.Select(o => o.BallastG)
            .Concat(doc.Polars.Select(p => p.BallastG))
            .Concat(doc.Flights.Select(f => f.BallastG).OfType<double>())
            .Where(double.IsFinite).Distinct().Order()];
        cambers = [.. doc.Polars.Select(p => p.Camber).Distinct().Order(StringComparer.Ordinal)];
    }

    /// <summary>A key whose ballasts keep their styles when others come to them.</summary>
    public SeriesKey(ResultsDocument doc, IEnumerable<OptionEntry> also) : this(doc) =>
        ballastsG.AddRange(also.Select(o => o.BallastG).Except(ballastsG).ToArray());

    public IReadOnlyList<double> BallastsG => ballastsG;

    public SeriesStyle Style(double ballastG) => SeriesStyle.At(Math.Max(0, ballastsG.IndexOf(ballastG)));

    public SeriesStyle Style(PolarEntry polar) =>
        SeriesStyle.At(Math.Max(0, ballastsG.IndexOf(polar.BallastG)), Math.Max(0, cambers.IndexOf(polar.Camber)));

    /// <summary>Line and marker of a polar, then its ballast and wing setting.</summary>
    public Html Name(PolarEntry polar) => Html.Of($"<span class=\"name\">{LineAndMarker(Style(polar))}{Words.Grams(polar.BallastG)}</span>{Camber(polar)}");

    /// <summary>The key of a picture with these polars.</summary>
    public Html Of(IEnumerable<PolarEntry> polars) =>
        Parts.Key(polars.Select(p => (LineAndMarker(Style(p)), Html.Of($"<span>{Words.Grams(p.BallastG)}{Camber(p)}</span>"))));

    public static Html Camber(PolarEntry polar) => polar.Camber is null ? Html.Empty : Html.Of($", {Html.Foreign(polar.Camber)}");

    /// <summary>Line and marker of a ballast as a small picture; decorative, for its name always stands beside it.</summary>
    public Html Sample(double ballastG, bool line = true)
    {
        SeriesStyle style = Style(ballastG);
        return line ? LineAndMarker(style) : Marker(style.Ink, style.Marker);
    }

    public Html Name(double ballastG) => Html.Of($"<span class=\"name\">{Sample(ballastG)}{Words.Grams(ballastG)}</span>");

    public static Html Line(Ink ink, string dash = "", string width = "2") =>
        Html.Of($"<svg class=\"sample\" viewBox=\"0 0 34 14\" aria-hidden=\"true\">{LineSample(ink, dash, width)}</svg>");

    public static Html Band(Ink ink) =>
        Html.Of($"<svg class=\"sample\" viewBox=\"0 0 34 14\" aria-hidden=\"true\"><rect class=\"f-{ink.Name}\" fill=\"{ink.Light}\" fill-opacity=\"0.25\" x=\"1\" y=\"2\" width=\"32\" height=\"10\"/></svg>");

    public static Html Marker(Ink ink, MarkerShape shape) =>
        Html.Of($"<svg class=\"sample dot\" viewBox=\"10 0 14 14\" aria-hidden=\"true\">{MarkerSample(ink, shape)}</svg>");

    private static Html LineAndMarker(SeriesStyle style) =>
        Html.Of($"<svg class=\"sample\" viewBox=\"0 0 34 14\" aria-hidden=\"true\">{LineSample(style.Ink, style.Dash)}{MarkerSample(style.Ink, style.Marker)}</svg>");

    private static Html LineSample(Ink ink, string dash, string width = "2") => Html.Of(
        $"<path class=\"s-{ink.Name}\" stroke=\"{ink.Light}\" stroke-width=\"{width}\" stroke-dasharray=\"{(dash.Length > 0 ? dash : "none")}\" fill=\"none\" d=\"M1 7H33\"/>");

    /// <summary>Outline of a marker around (17, 7) as path data, and whether it is open.</summary>
    public static (string Path, bool Open) Outline(MarkerShape shape) => (shape switch
    {
        MarkerShape.FilledCircle or MarkerShape.OpenCircle => "M12.5 7a4.5 4.5 0 1 0 9 0a4.5 4.5 0 1 0-9 0Z",
        MarkerShape.FilledSquare or MarkerShape.OpenSquare => "M13 3H21V11H13Z",
        MarkerShape.FilledTriangleUp or MarkerShape.OpenTriangleUp => "M17 2L22 11H12Z",
        _ => "M17 1.5L22.5 7L17 12.5L11.5 7Z",
    }, shape.ToString().StartsWith("Open", StringComparison.Ordinal));

    private static Html MarkerSample(Ink ink, MarkerShape shape)
    {
        (string path, bool open) = Outline(shape);
        return open
            ? Html.Of($"<path class=\"s-{ink.Name}\" stroke=\"{ink.Light}\" stroke-width=\"2\" fill=\"none\" d=\"{path}\"/>")
            : Html.Of($"<path class=\"f-{ink.Name}\" fill=\"{ink.Light}\" d=\"{path}\"/>");
    }
}

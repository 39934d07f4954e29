using ScottPlot;

namespace ThermalTrace.Reports.Pictures;

/// <summary>A colour of the report, for white paper and for a dark screen. Name is its CSS variable and class.</summary>
internal sealed record Ink(string Name, string Light, string Dark);

/// <summary>
/// The report's colours. Those that carry meaning keep apart under the three kinds of colour blindness and stand out
/// from both backgrounds by 3 to 1 and more (tested), and each comes with its own marker, dash or label.
/// </summary>
internal static class Inks
{
    public static readonly Ink Paper = new("paper", "#ffffff", "#12181f");
    public static readonly Ink Shade = new("shade", "#f2f6f6", "#1a222b");
    public static readonly Ink Rule = new("rule", "#d3dddd", "#33404c");
    public static readonly Ink Text = new("text", "#16222b", "#e8eef0");
    public static readonly Ink Muted = new("muted", "#52626b", "#a3b3bb");
    public static readonly Ink Accent = new("accent", "#0a6b55", "#5ed3b0");
    public static readonly Ink Caution = new("caution", "#8a4b00", "#ffc27a");

    /// <summary>Ballasts, lightest first.</summary>
    public static readonly IReadOnlyList<Ink> Series =
    [
        new("s1", "#005a9d", "#6bb4fd"),
        new("s2", "#b36303", "#fec597"),
        new("s3", "#9d0367", "#fc7cbe"),
        new("s4", "#028a9b", "#5fe8fe"),
        new("s5", "#413801", "#9d8d2a"),
        new("s6", "#301195", "#7a7cf0"),
        new("s7", "#735101", "#cda86b"),
        new("s8", "#63034f", "#cd5cac"),
    ];

    public static readonly Ink Ground = new("ground", "#7b8990", "#7d8c95");
    public static readonly Ink Launch = new("launch", "#814706", "#fb9018");
    public static readonly Ink Glide = new("glide", "#24384a", "#dfe7ec");
    public static readonly Ink Climb = new("climb", "#0a7d5c", "#2fd39f");
    public static readonly Ink Landing = new("landing", "#7c44c3", "#cbb0fe");

    public static readonly IReadOnlyList<Ink> All =
        [Paper, Shade, Rule, Text, Muted, Accent, Caution, .. Series, Ground, Launch, Glide, Climb, Landing];
}

/// <summary>How one ballast is drawn everywhere: colour, dash and marker together, never colour alone.</summary>
/// <param name="Ink">Colour.</param>
/// <param name="Dash">SVG dash pattern; empty for a solid line.</param>
/// <param name="Marker">Marker.</param>
internal sealed record SeriesStyle(Ink Ink, string Dash, MarkerShape Marker)
{
    private static readonly string[] Dashes = ["", "9 4", "2.5 3", "10 3.5 2.5 3.5", "16 4", "5 3", "14 3 2.5 3 2.5 3", "1.5 5"];

    private static readonly MarkerShape[] Markers =
    [
        MarkerShape.FilledCircle, MarkerShape.FilledSquare, MarkerShape.FilledTriangleUp, MarkerShape.FilledDiamond,
        MarkerShape.OpenCircle, MarkerShape.OpenSquare, MarkerShape.OpenTriangleUp, MarkerShape.OpenDiamond,
    ];

    /// <summary>The style of the option at a place in the list; past eight the colours come again with other markers.</summary>
    /// <param name="index">From 0.</param>
    /// <param name="variant">Of the same ballast, such as another camber: same colour, open marker for filled, another dash.</param>
    public static SeriesStyle At(int index, int variant = 0) => new(
        Inks.Series[index % Inks.Series.Count],
        Dashes[(index + 3 * variant) % Dashes.Length],
        Markers[(index + index / Inks.Series.Count + 4 * variant) % Markers.Length]);
}

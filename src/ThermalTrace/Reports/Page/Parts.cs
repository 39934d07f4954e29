using System.Globalization;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>Small parts that the sections share: estimates, figures, keys, tables.</summary>
internal static class Parts
{
    public const string Dash = "\u2013";

    /// <summary>A value with its 90 % interval beside it, rounded to it.</summary>
    public static Html Estimated(Interval interval, int? decimals = null, string unit = "")
    {
        if (!Estimate.Known(interval))
        {
            return Html.Of($"<span class=\"none\">not known</span>");
        }

        int d = decimals ?? Estimate.Decimals(interval.Low!.Value, interval.High!.Value);
        Html of = unit.Length > 0 ? Html.Of($"&nbsp;{unit}") : Html.Empty;
        return Html.Of($"<span class=\"est\"><b>{Number(interval.Value!.Value, d)}{of}</b> <span class=\"iv\">{Number(interval.Low!.Value, d)} to {Number(interval.High!.Value, d)}</span></span>");
    }

    public static string Number(double value, int decimals) => Picture.Minus(Estimate.Number(value, decimals));

    public static string Significant(double? value, int digits = 2) =>
        value is { } known && double.IsFinite(known) ? Picture.Minus(Estimate.Significant(known, digits)) : Dash;

    /// <summary>A number that was chosen, not estimated: no more digits than it needs.</summary>
    public static string Chosen(double value) => Picture.Minus(value.ToString("0.##", CultureInfo.InvariantCulture));

    /// <summary>A picture with its caption and, where given, the key to its lines.</summary>
    public static Html Figure(string svg, Html caption, Html key = default, string kind = "")
    {
        Html keyed = key.Source is { Length: > 0 } ? key : Html.Empty;
        Html under = caption.Source.Length > 0 ? Html.Of($"<figcaption>{caption}</figcaption>") : Html.Empty;
        return Html.Of($"<figure class=\"{kind}\">{new Html(svg)}{keyed}{under}</figure>");
    }

    /// <summary>The key of a picture: a sample of each line or marker, then its name.</summary>
    public static Html Key(IEnumerable<(Html Sample, Html Name)> entries) =>
        Html.Of($"<ul class=\"key\">{Html.Join(entries.Select(e => Html.Of($"<li>{e.Sample}{e.Name}</li>")))}</ul>");

    /// <summary>A section with its heading.</summary>
    public static Html Section(string id, string heading, Html body) =>
        Html.Of($"<section id=\"{id}\"><h2>{heading}</h2>{body}</section>");

    /// <summary>A table that scrolls by itself on a narrow screen; the first column names the row.</summary>
    public static Html Table(string caption, IEnumerable<Html> heads, IEnumerable<(bool Marked, IReadOnlyList<Html> Cells)> rows)
    {
        Html head = Html.Join(heads.Select(h => Html.Of($"<th scope=\"col\">{h}</th>")));
        Html body = Html.Join(rows.Select(r => Html.Of(
            $"<tr{(r.Marked ? new Html(" class=\"best\"") : Html.Empty)}><th scope=\"row\">{r.Cells[0]}</th>{Html.Join(r.Cells.Skip(1).Select(c => Cell(c)))}</tr>")));
        return Html.Of($"<div class=\"table\" role=\"region\" aria-label=\"{caption}\" tabindex=\"0\"><table><caption>{caption}</caption><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table></div>");
    }

    /// <summary>Words read from the left, numbers line up at the right.</summary>
    private static Html Cell(Html cell) => (cell.Source is [var first, ..] && char.IsAsciiLetter(first)) || cell.Source.StartsWith("<span class=\"name\">", StringComparison.Ordinal)
        ? Html.Of($"<td class=\"words\">{cell}</td>")
        : Html.Of($"<td>{cell}</td>");

    /// <summary>The unit of turbulence as readers of print know it.</summary>
    public static Html EdrUnit => Html.Of($"m<sup>2/3</sup>/s");

    /// <summary>A heading of a column with its unit beneath.</summary>
    public static Html Head(string name, string unit = "") => unit.Length > 0 ? Head(name, Html.Of($"{unit}")) : Html.Of($"{name}");

    public static Html Head(string name, Html unit) => Html.Of($"{name} <span class=\"unit\">{unit}</span>");
}

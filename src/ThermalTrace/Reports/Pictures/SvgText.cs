using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace ThermalTrace.Reports.Pictures;

/// <summary>
/// Makes the plotting library's SVG fit for a page: a view box so that it scales, classes in place of colours, words as
/// whole words, clip paths named once for the page, one decimal of a pixel, alt text.
/// </summary>
internal static partial class SvgText
{
    /// <summary>The colour that stands for the stroke at that place.</summary>
    public static string PlaceHolder(int index) => string.Create(CultureInfo.InvariantCulture, $"#07BF{index + 1:X2}");

    public static string Clean(string svg, string id, string title, string description, IReadOnlyList<Stroke> strokes, IReadOnlyList<PlainText> outside)
    {
        XElement root = XDocument.Parse(svg).Root ?? throw new InvalidOperationException("the picture is empty");
        var cleaner = new Cleaner(id, strokes);
        cleaner.Text.Append("<svg class=\"plot\" viewBox=\"0 0 ").Append((string?)root.Attribute("width")).Append(' ').Append((string?)root.Attribute("height"))
            .Append("\" role=\"img\" aria-labelledby=\"").Append(id).Append("-t ").Append(id).Append("-d\">")
            .Append("<title id=\"").Append(id).Append("-t\">").Append(Escape(title)).Append("</title>")
            .Append("<desc id=\"").Append(id).Append("-d\">").Append(Escape(description)).Append("</desc>");
        cleaner.Children(root);
        cleaner.EndClip();
        foreach (PlainText text in outside)
        {
            cleaner.Words(text.Text, text.XPx, text.YPx, text.Anchor, $" class=\"f-{text.Ink.Name}\" fill=\"{text.Ink.Light}\"", Picture.TextPx, false);
        }

        return cleaner.Text.Append("</svg>").ToString();
    }

    private static string Escape(string text) => Page.Markup.Escape(text);

    private sealed class Cleaner(string id, IReadOnlyList<Stroke> strokes)
    {
        private readonly Dictionary<string, string> clips = [];
        private readonly Dictionary<string, string> clipIds = [];
        private string? openClip;

        public StringBuilder Text { get; } = new();

        public void Children(XElement parent)
        {
            foreach (XElement element in parent.Elements())
            {
                Element(element);
            }
        }

        /// <summary>Neighbours under the same clip share one group.</summary>
        public void EndClip()
        {
            if (openClip is not null)
            {
                Text.Append("</g>");
                openClip = null;
            }
        }

        public void Words(string words, double x, double y, string anchor, string paint, double sizePx, bool bold)
        {
            Text.Append("<text x=\"").Append(Px(x)).Append("\" y=\"").Append(Px(y)).Append("\" font-size=\"").Append(Px(sizePx)).Append('"');
            if (anchor != "start")
            {
                Text.Append(" text-anchor=\"").Append(anchor).Append('"');
            }

            Text.Append(bold ? " font-weight=\"700\"" : "").Append(paint).Append('>').Append(Escape(words)).Append("</text>");
        }

        private void Element(XElement element)
        {
            switch (element.Name.LocalName)
            {
                case "clipPath":
                    Clip(element);
                    break;
                case "g":
                    string clip = clipIds[((string?)element.Attribute("clip-path") ?? "")[5..^1]];
                    if (clip != openClip)
                    {
                        EndClip();
                        Text.Append("<g clip-path=\"url(#").Append(clip).Append(")\">");
                        openClip = clip;
                    }

                    Children(element);
                    break;
                default:
                    if (element.Parent?.Name.LocalName != "g")
                    {
                        EndClip();
                    }

                    Shape(element);
                    break;
            }
        }

        private void Clip(XElement element)
        {
            string shape = string.Concat(element.Elements().Select(e => "<" + e.Name.LocalName + Geometry(e) + "/>"));
            if (!clips.TryGetValue(shape, out string? name))
            {
                EndClip();
                name = string.Create(CultureInfo.InvariantCulture, $"{id}-c{clips.Count + 1}");
                clips.Add(shape, name);
                Text.Append("<clipPath id=\"").Append(name).Append("\">").Append(shape).Append("</clipPath>");
            }

            clipIds[(string?)element.Attribute("id") ?? ""] = name;
        }

        private void Shape(XElement element)
        {
            string paint = Paint(element, "fill", "f-") + Paint(element, "stroke", "s-");
            if (paint.Length == 0)
            {
                return;
            }

            if (element.Name.LocalName == "text")
            {
                WholeWords(element, paint);
                return;
            }

            if (element.Attribute("fill")?.Value == "none")
            {
                paint += " fill=\"none\"";
            }

            Text.Append('<').Append(element.Name.LocalName).Append(Geometry(element)).Append(paint).Append("/>");
        }

        /// <summary>The library places every glyph; a reader without the font would see gaps. Centred whole words err least.</summary>
        private void WholeWords(XElement element, string paint)
        {
            string words = element.Value.Trim();
            double size = Number(element, "font-size");
            bool bold = element.Attribute("font-weight") is { } weight && weight.Value is not ("normal" or "400");
            double left = FirstNumber(element, "x"), baseline = FirstNumber(element, "y");
            Match move = Translate().Match((string?)element.Attribute("transform") ?? "");
            if (move.Success)
            {
                left += Parse(move.Groups[1].Value);
                baseline += Parse(move.Groups[2].Value);
            }

            Words(words, left + PictureFont.WidthPx(words, (float)size, bold) / 2, baseline, "middle", paint, size, bold);
        }

        private string Paint(XElement element, string property, string prefix)
        {
            string? colour = (string?)element.Attribute(property);
            if (colour is null or "none" || !colour.StartsWith("#07BF", StringComparison.OrdinalIgnoreCase))
            {
                return "";
            }

            Stroke stroke = strokes[int.Parse(colour.AsSpan(5), NumberStyles.HexNumber, CultureInfo.InvariantCulture) - 1];
            var paint = new StringBuilder($" class=\"{prefix}{stroke.Ink.Name}\" {property}=\"{stroke.Ink.Light}\"");
            if ((string?)element.Attribute(property + "-opacity") is { } opacity)
            {
                paint.Append(CultureInfo.InvariantCulture, $" {property}-opacity=\"{Math.Round(Parse(opacity), 2)}\"");
            }

            if (property == "stroke")
            {
                paint.Append(" stroke-width=\"").Append(Px(Number(element, "stroke-width", 1))).Append('"');
                paint.Append(stroke.Dash.Length > 0 ? $" stroke-dasharray=\"{stroke.Dash}\"" : "");
            }

            return paint.ToString();
        }

        private static string Geometry(XElement element)
        {
            var geometry = new StringBuilder();
            foreach (string name in (string[])["x", "y", "width", "height", "cx", "cy", "rx", "ry", "transform", "d"])
            {
                if ((string?)element.Attribute(name) is { } value)
                {
                    geometry.Append(' ').Append(name).Append("=\"").Append(name == "transform" ? value : Shorten(value)).Append('"');
                }
            }

            return geometry.ToString();
        }

        private static string Shorten(string numbers) =>
            Decimal().Replace(numbers, n => Px(Parse(n.Value))).Replace("L", " ", StringComparison.Ordinal);

        private static double FirstNumber(XElement element, string name) => Parse(((string?)element.Attribute(name) ?? "0").Split(',')[0]);

        private static double Number(XElement element, string name, double otherwise = 0) =>
            (string?)element.Attribute(name) is { } value ? Parse(value) : otherwise;

        private static double Parse(string number) => double.Parse(number, CultureInfo.InvariantCulture);

        private static string Px(double value) => Math.Round(value, 1).ToString(CultureInfo.InvariantCulture);
    }

    [GeneratedRegex(@"translate\(([-\d.e]+)[ ,]([-\d.e]+)\)")]
    private static partial Regex Translate();

    [GeneratedRegex(@"-?\d+(\.\d+)?(e-?\d+)?")]
    private static partial Regex Decimal();
}

using System.Text;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>The page's style: the font, the colours of <see cref="Inks"/> for light and dark, and report.css.</summary>
internal static class StyleSheet
{
    public static string Write()
    {
        var css = new StringBuilder();
        css.Append(Faces());
        css.Append(":root{").Append(Variables(i => i.Light)).Append("}\n");
        css.Append("@media screen and (prefers-color-scheme:dark){:root{").Append(Variables(i => i.Dark)).Append("}}\n");
        foreach (Ink ink in Inks.All)
        {
            css.Append($".f-{ink.Name}{{fill:var(--{ink.Name})}}.s-{ink.Name}{{stroke:var(--{ink.Name})}}");
        }

        return css.Append('\n').Append(Resource("Page.report.css")).Append(Resource("Fitting.tube.css")).ToString();
    }

    /// <summary>A style sheet of the library.</summary>
    public static string Resource(string name)
    {
        using Stream stream = typeof(StyleSheet).Assembly.GetManifestResourceStream("ThermalTrace.Reports." + name)
            ?? throw new InvalidOperationException($"{name} is missing from the library");
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    /// <summary>The library's own font, within the page.</summary>
    public static string Faces()
    {
        var css = new StringBuilder();
        Face(css, "Figtree-Regular.woff2", 400);
        Face(css, "Figtree-Bold.woff2", 700);
        return css.ToString();
    }

    private static string Variables(Func<Ink, string> shade) => string.Concat(Inks.All.Select(i => $"--{i.Name}:{shade(i)};"));

    private static void Face(StringBuilder css, string file, int weight) =>
        css.Append($"@font-face{{font-family:\"{PictureFont.Family}\";font-weight:{weight};src:url(data:font/woff2;base64,")
            .Append(Convert.ToBase64String(PictureFont.File(file))).Append(") format(\"woff2\")}\n");
}

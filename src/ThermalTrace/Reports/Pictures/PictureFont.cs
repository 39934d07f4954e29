using ScottPlot;
using SkiaSharp;

namespace ThermalTrace.Reports.Pictures;

/// <summary>The font that ships with the library, so that pictures have words on a machine without fonts.</summary>
internal static class PictureFont
{
    /// <summary>Figtree, SIL Open Font License 1.1 (Fonts/OFL.txt).</summary>
    public const string Family = "Figtree";

    private static readonly Lazy<(SKTypeface Regular, SKTypeface Bold)> Faces = new(() =>
    {
        var faces = (Load("Figtree-Regular.ttf"), Load("Figtree-Bold.ttf"));
        Fonts.FontResolvers.Insert(0, new Resolver());
        return faces;
    });

    /// <summary>Makes the family known to the plotting library; once is enough, and any thread may ask.</summary>
    public static void Register() => _ = Faces.Value;

    /// <summary>Width of a line of text, px.</summary>
    public static float WidthPx(string text, float sizePx, bool bold)
    {
        using var font = new SKFont(bold ? Faces.Value.Bold : Faces.Value.Regular, sizePx);
        return font.MeasureText(text);
    }

    /// <summary>A font file of the library, for embedding in a page.</summary>
    public static byte[] File(string name)
    {
        using Stream stream = Open(name);
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    private static Stream Open(string name) =>
        typeof(PictureFont).Assembly.GetManifestResourceStream("ThermalTrace.Reports.Fonts." + name)
        ?? throw new InvalidOperationException($"the font {name} is missing from the library");

    private static SKTypeface Load(string name)
    {
        using var data = SKData.CreateCopy(File(name));
        return SKTypeface.FromData(data) ?? throw new InvalidOperationException($"the font {name} cannot be read");
    }

    private sealed class Resolver : IFontResolver
    {
        public SKTypeface? CreateTypeface(string fontName, FontWeight weight, FontSlant slant, FontSpacing spacing) =>
            CreateTypeface(fontName, weight >= FontWeight.SemiBold, false);

        public SKTypeface? CreateTypeface(string fontName, bool bold, bool italic) =>
            fontName != Family ? null : bold ? Load("Figtree-Bold.ttf") : Load("Figtree-Regular.ttf");
    }
}

using System.Globalization;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Tests.Reports;

/// <summary>The page's colours, held against published measures of contrast and of colour blindness.</summary>
public sealed class InkTests
{
    /// <summary>
    /// Complete protanopia, deuteranopia and tritanopia on linear sRGB: Machado, Oliveira and Fernandes, A Physiologically-based
    /// Model for Simulation of Color Vision Deficiency, IEEE TVCG 15 (2009), table 1, severity 1.0 (figures from memory).
    /// </summary>
    private static readonly double[][,] Sights =
    [
        new double[,] { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } },
        new double[,] { { 0.152286, 1.052583, -0.204868 }, { 0.114503, 0.786281, 0.099216 }, { -0.003882, -0.048116, 1.051998 } },
        new double[,] { { 0.367322, 0.860646, -0.227968 }, { 0.280085, 0.672501, 0.047413 }, { -0.011820, 0.042940, 0.968881 } },
        new double[,] { { 1.255528, -0.076749, -0.178779 }, { -0.078411, 0.930809, 0.147602 }, { 0.004733, 0.691367, 0.303900 } },
    ];

    private static IEnumerable<Ink> Phases => [Inks.Launch, Inks.Glide, Inks.Climb, Inks.Landing];

    [Fact]
    public void BallastColours_KeepApart_ForEveryCommonKindOfSight()
    {
        // 0.02 in OKLab is about a just noticeable difference; the first four, the usual number of ballasts, keep well clear.
        Assert.True(Closest(Inks.Series) > 0.085, $"closest {Closest(Inks.Series)}");
        Assert.True(Closest([.. Inks.Series.Take(4)]) > 0.1, $"closest of four {Closest([.. Inks.Series.Take(4)])}");
    }

    [Fact]
    public void PhaseColours_KeepApart_ForEveryCommonKindOfSight() =>
        Assert.True(Closest([.. Phases]) > 0.08, $"closest {Closest([.. Phases])}");

    [Fact]
    public void Marks_StandOutFromTheirBackground() =>
        // WCAG 2.2, 1.4.11: 3 to 1 for graphical objects.
        Assert.All([.. Inks.Series, .. Phases, Inks.Ground, Inks.Climb], ink => Assert.True(Contrast(ink.Light, Inks.Paper.Light) >= 3 && Contrast(ink.Dark, Inks.Paper.Dark) >= 3, ink.Name));

    [Fact]
    public void Words_CanBeRead() =>
        // WCAG 2.2, 1.4.3: 4.5 to 1 for text, on plain and on shaded ground.
        Assert.All([Inks.Text, Inks.Muted, Inks.Accent, Inks.Caution], ink =>
        {
            Assert.True(Contrast(ink.Light, Inks.Shade.Light) >= 4.5 && Contrast(ink.Dark, Inks.Shade.Dark) >= 4.5, ink.Name);
            Assert.True(Contrast(ink.Light, Inks.Paper.Light) >= 4.5 && Contrast(ink.Dark, Inks.Paper.Dark) >= 4.5, ink.Name);
        });

    [Fact]
    public void EveryInk_HasItsOwnName() => Assert.Equal(Inks.All.Count, Inks.All.Select(i => i.Name).Distinct().Count());

    [Fact]
    public void Styles_NeverRestOnColourAlone()
    {
        SeriesStyle[] styles = [.. Enumerable.Range(0, 24).Select(i => SeriesStyle.At(i))];

        Assert.Equal(24, styles.Select(s => (s.Ink, s.Marker)).Distinct().Count());
        Assert.Equal(8, styles.Take(8).Select(s => s.Marker).Distinct().Count());
        Assert.Equal(8, styles.Take(8).Select(s => s.Dash).Distinct().Count());
        Assert.NotEqual(SeriesStyle.At(1).Marker, SeriesStyle.At(1, 1).Marker);
    }

    private static double Closest(IReadOnlyList<Ink> inks) =>
        (from i in Enumerable.Range(0, inks.Count)
         from j in Enumerable.Range(0, i)
         from sight in Sights
         from shade in (Func<Ink, string>[])[k => k.Light, k => k.Dark]
         select Distance(Seen(shade(inks[i]), sight), Seen(shade(inks[j]), sight))).Min();

    private static double[] Linear(string hex) => [.. Enumerable.Range(0, 3).Select(i =>
    {
        double c = int.Parse(hex.AsSpan(1 + 2 * i, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0;
        return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
    })];

    private static double Contrast(string a, string b)
    {
        double[] luminance = [.. new[] { a, b }.Select(h => Linear(h)).Select(c => 0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]).Order()];
        return (luminance[1] + 0.05) / (luminance[0] + 0.05);
    }

    private static double[] Seen(string hex, double[,] sight)
    {
        double[] c = Linear(hex);
        double[] s = [.. Enumerable.Range(0, 3).Select(i => Math.Clamp(sight[i, 0] * c[0] + sight[i, 1] * c[1] + sight[i, 2] * c[2], 0, 1))];
        // OKLab: Ottosson, A perceptual color space for image processing (2020).
        double l = Math.Cbrt(0.4122214708 * s[0] + 0.5363325363 * s[1] + 0.0514459929 * s[2]);
        double m = Math.Cbrt(0.2119034982 * s[0] + 0.6806995451 * s[1] + 0.1073969566 * s[2]);
        double k = Math.Cbrt(0.0883024619 * s[0] + 0.2817188376 * s[1] + 0.6299787005 * s[2]);
        return
        [
            0.2104542553 * l + 0.7936177850 * m - 0.0040720468 * k,
            1.9779984951 * l - 2.4285922050 * m + 0.4505937099 * k,
            0.0259040371 * l + 0.7827717662 * m - 0.8086757660 * k,
        ];
    }

    private static double Distance(double[] a, double[] b) => Math.Sqrt(a.Zip(b, (x, y) => (x - y) * (x - y)).Sum());
}

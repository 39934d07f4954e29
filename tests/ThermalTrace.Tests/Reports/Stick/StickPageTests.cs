using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using CsCheck;
using ThermalTrace.Ballast;
using ThermalTrace.Reports.Stick;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Reports.Stick;

public sealed class StickPageTests
{
    private const string Hostile = "<script>alert(1)</script>\"'&\u202E\u001b[31m";

    private static string Page(StickDocument document)
    {
        using StringWriter writer = new();
        StickPage.Write(writer, document);
        return writer.ToString();
    }

    private static XElement Drawing(StickDocument document)
    {
        using StringWriter writer = new();
        Assert.True(StickPage.WriteDrawing(writer, document));
        return XDocument.Parse(writer.ToString()).Root!;
    }

    private static double Number(string? text) => double.Parse(text!, CultureInfo.InvariantCulture);

    [Fact]
    public void Drawing_IsFullSize()
    {
        StickDocument document = StickDocumentTests.Run(forward: 0.7);
        XElement svg = Drawing(document);
        string[] box = svg.Attribute("viewBox")!.Value.Split(' ');
        Assert.Equal($"0 0 {svg.Attribute("width")!.Value[..^2]} {svg.Attribute("height")!.Value[..^2]}", string.Join(' ', box));
        Assert.EndsWith("mm", svg.Attribute("width")!.Value, StringComparison.Ordinal);
        XElement[] rectangles = [.. svg.Descendants().Where(e => e.Name.LocalName == "rect")];
        XElement stick = rectangles.Single(e => (string?)e.Attribute("class") == "stick"), tube = rectangles.Single(e => (string?)e.Attribute("class") == "spacer");
        Assert.Equal(document.Options[0].LengthMm, Number(stick.Attribute("width")!.Value), 0.001);
        Assert.Equal(8, Number(stick.Attribute("height")!.Value), 0.001);
        Assert.Equal((90, 8.2), (Number(tube.Attribute("width")!.Value), Number(tube.Attribute("height")!.Value)));
        Assert.Equal(document.Options[0].SpacerFrontMm!.Value, Number(stick.Attribute("x")!.Value) - Number(tube.Attribute("x")!.Value), 0.0015);
        Assert.DoesNotContain("zigzag", string.Concat(svg.Elements().Where(e => e.Name.LocalName != "style").Select(e => (string?)e.Attribute("class"))), StringComparison.Ordinal);
    }

    [Fact]
    public void Rulers_AreFiftyMillimetresAndTwoInches()
    {
        string[] lines = [.. Drawing(StickDocumentTests.Run()).Descendants().Where(e => (string?)e.Attribute("class") == "ruler").Select(e => e.Attribute("d")!.Value)];
        double[] lengths = [.. lines.Select(d => Regex.Match(d, @"^M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)$")).Where(m => m.Groups[2].Value == m.Groups[4].Value).Select(m => Number(m.Groups[3].Value) - Number(m.Groups[1].Value))];
        Assert.Equal([50, 50.8], lengths.Select(l => Math.Round(l, 6)));
    }

    [Fact]
    public void Tube_LongerThanThePaper_IsCutShortAndNotShrunk()
    {
        Airframe large = StickDocumentTests.Tansy with { UnballastedMassG = 1720, MaxFlyingMassG = 3400, CgMm = 95, CgLimitsMm = null, BallastTube = new BallastTube(20, 600, 120) };
        StickDocument document = StickDocumentTests.Run(large, grams: 900, forward: 1, materials: Materials.Tungsten);
        XElement svg = Drawing(document);
        Assert.Equal(StickDrawing.SidewaysMm, Number(svg.Attribute("width")!.Value[..^2]));
        Assert.Contains(svg.Descendants(), e => (string?)e.Attribute("class") == "zigzag");
        Assert.Contains("Cut short at the zigzags, full size elsewhere.", svg.Value, StringComparison.Ordinal);
        Assert.Contains("@page{size:landscape}", Page(document), StringComparison.Ordinal);
    }

    [Fact]
    public void BrokenScale_KeepsOrder_FitsThePaper_AndCutsOnlyWhatIsLong() => Gen.Double[-500, 2000].Array[2, 8].Sample(places =>
    {
        const double room = 200;
        BrokenScale scale = new(places, room);
        double[] sorted = [.. places.Distinct().Order()];
        Assert.True(scale.WidthMm <= room + 1e-6);
        Assert.Equal(sorted[^1] - sorted[0] <= room, scale.BreaksMm.Count == 0);
        for (int i = 1; i < sorted.Length; i++)
        {
            double drawn = scale.At(sorted[i]) - scale.At(sorted[i - 1]), whole = sorted[i] - sorted[i - 1];
            bool cut = scale.BreaksMm.Any(b => b > scale.At(sorted[i - 1]) && b < scale.At(sorted[i]));
            Assert.True(cut ? drawn < whole : Math.Abs(drawn - whole) < 1e-6);
        }
    });

    [Fact]
    public void Labels_NeverLieOnEachOther() => Gen.Double[10, 170].Array[1, 8].Sample(wanted =>
    {
        double[] sorted = [.. wanted.Order()], apart = StickDrawing.Apart(sorted, 3, 182);
        Assert.Equal(sorted.Length, apart.Length);
        Assert.All(apart, a => Assert.InRange(a, 3, 182));
        Assert.All(apart.Zip(apart.Skip(1)), p => Assert.True(p.Second - p.First >= 4.2 - 1e-9));
    });

    [Fact]
    public void UntrustedNames_StayText()
    {
        StickDocument document = StickDocumentTests.Run(StickDocumentTests.Tansy with { Name = Hostile }, materials: Material.Of(Hostile, 15, 15));
        string page = Page(document);
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain('\u202E', page);
        Assert.DoesNotContain('\u001b', page);
        XElement svg = Drawing(document); // which is well formed
        Assert.DoesNotContain(svg.Descendants(), e => e.Name.LocalName == "script");
        Assert.Contains("<script>alert(1)", svg.Value, StringComparison.OrdinalIgnoreCase);
        string terminal = StickSummary.Write(document, 80);
        Assert.DoesNotContain('\u202E', terminal);
        Assert.DoesNotContain('\u001b', terminal);
    }

    [Fact]
    public void Page_NeedsNothingElse_AndDrawsEveryStickThatFits()
    {
        StickDocument document = StickDocumentTests.Run();
        string page = Page(document);
        Assert.True(StickPage.IsPage(page[..500]));
        Assert.DoesNotContain("http:", page, StringComparison.Ordinal);
        Assert.DoesNotContain("https:", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        Assert.Contains("default-src 'none'", page, StringComparison.Ordinal);
        Assert.Equal(document.Options.Count(o => o.Fits), Regex.Count(page, "<svg "));
        Assert.Equal(1, Regex.Count(page, "Lead is poisonous"));
        Assert.Equal(page, Page(document));
    }

    [Fact]
    public void Page_WhereNothingFits_SaysSo_AndDrawsNothing()
    {
        StickDocument document = StickDocumentTests.Run(grams: 150);
        Assert.Contains("No stick of 150 g fits the tube; the most is 86.1", Page(document), StringComparison.Ordinal);
        using StringWriter writer = new();
        Assert.False(StickPage.WriteDrawing(writer, document));
        Assert.Empty(writer.ToString());
    }
}

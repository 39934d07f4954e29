using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Tests.Reports.Fitting;

public sealed class PiecesPageTests
{
    public static TheoryData<string> Cases => [.. ExamplePieces.All.Keys];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Page_AsksForNothingFromOutside_AndRunsNothing(string name)
    {
        string page = Page(name);
        XElement root = Tree(page);

        Assert.DoesNotMatch("(?i)https?:|<script|javascript:|@import|<iframe|<object|<embed|<base|<img", page);
        Assert.All(Regex.Matches(page, @"url\(([^)]*)\)"), m => Assert.StartsWith("data:font/woff2;base64,", m.Groups[1].Value, StringComparison.Ordinal));
        Assert.DoesNotContain(root.Descendants().Attributes(), a => a.Name.LocalName.StartsWith("on", StringComparison.Ordinal) || a.Name.LocalName is "src" or "href");
        Assert.Contains("default-src 'none'", page, StringComparison.Ordinal);
        Assert.True(PiecesPage.IsPage(page[..1024]));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Page_NamesEveryIdOnce_AndEveryPictureIsToldInWords(string name)
    {
        XElement root = Tree(Page(name));
        string[] ids = [.. root.Descendants().Attributes("id").Select(a => a.Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.Empty(root.Descendants().Attributes("aria-labelledby").SelectMany(a => a.Value.Split(' ')).Except(ids));
        Assert.All(root.Descendants("svg"), svg => Assert.True(svg.Element("desc")!.Value.Length > 20));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Drawing_IsAMillimetreToAMillimetre_AndFitsThePaper(string name)
    {
        foreach (XElement svg in Tree(Page(name)).Descendants("svg"))
        {
            double[] box = [.. svg.Attribute("viewBox")!.Value.Split(' ').Select(Number)];
            Assert.Equal(svg.Attribute("width")!.Value, svg.Attribute("viewBox")!.Value.Split(' ')[2] + "mm");
            Assert.Equal(svg.Attribute("height")!.Value, svg.Attribute("viewBox")!.Value.Split(' ')[3] + "mm");
            Assert.InRange(box[2], 100, 190);
            Assert.InRange(box[3], 20, 120);
            Assert.All(svg.Descendants("rect"), r =>
            {
                Assert.InRange(Of(r, "x"), 0, box[2]);
                Assert.InRange(Of(r, "x") + Of(r, "width"), 0, box[2]);
                Assert.InRange(Of(r, "y") + Of(r, "height"), 0, box[3]);
            });
            Assert.All(svg.Descendants("text"), t => Assert.InRange(Of(t, "y"), 2, box[3]));
        }
    }

    [Fact]
    public void Pieces_AreDrawnAtTheirPlaces_InTheirSizes()
    {
        PiecesDocument document = ExamplePieces.Tern45;
        XElement svg = Tree(Page("tern-45")).Descendants("svg").Single();
        XElement[] metal = [.. svg.Descendants("rect").Where(r => r.Attribute("class")!.Value.StartsWith("metal", StringComparison.Ordinal))];
        XElement tube = svg.Descendants("path").First(p => p.Attribute("class")!.Value == "wall");
        double front = Number(Regex.Match(tube.Attribute("d")!.Value, @"^M([0-9.]+)").Groups[1].Value);

        Assert.Equal(document.Pieces.Count, metal.Length);
        Assert.All(metal.Zip(document.Pieces), p =>
        {
            Assert.Equal(p.Second.LengthMm, Of(p.First, "width"), 0.011);
            Assert.Equal(p.Second.DiameterMm, Of(p.First, "height"), 0.011);
            Assert.Equal(p.Second.CentreMm!.Value - 17, Of(p.First, "x") + Of(p.First, "width") / 2 - front, 0.02);
        });
        Assert.Equal(["metal brass", "metal tungsten", "metal brass"], metal.Select(m => m.Attribute("class")!.Value));
        double[] spacers = [.. svg.Descendants("rect").Where(r => r.Attribute("class")!.Value == "spacer").Select(r => Of(r, "width"))];
        Assert.Equal([document.SpacerFrontMm!.Value, document.SpacerRearMm!.Value], spacers, (a, b) => Math.Abs(a - b) < 0.02);
    }

    [Fact]
    public void Heading_IsTheAnswerInOneSentence() =>
        Assert.Equal("Fit 45 g: 2 × brass 15 and tungsten 15; CG stays at 72.0 mm", Text(Tree(Page("tern-45")).Descendants("h1").Single()));

    [Fact]
    public void NamesThatDoNotFit_GetLetters_WithAKey()
    {
        XElement root = Tree(Page("tern-45"));
        string[] inside = [.. root.Descendants("svg").Single().Descendants("text").Select(t => t.Value)];
        Assert.Equal(2, inside.Count(t => t.StartsWith("brass 15", StringComparison.Ordinal)));
        Assert.Contains("A", inside);
        Assert.Equal("A tungsten 15, 15 g", Text(root.Descendants("ul").Single(u => (string?)u.Attribute("class") == "letters")));
        Assert.Contains(root.Descendants("tbody").First().Descendants("th"), th => Text(th) == "2 A tungsten 15");
    }

    [Fact]
    public void ATubeLongerThanThePaper_IsDrawnSmaller_AndSaysSo()
    {
        XElement root = Tree(Page("osprey"));
        XElement svg = root.Descendants("svg").Single();
        Assert.Contains("Drawn 1:2.5, because the tube is longer than the paper", Text(root), StringComparison.Ordinal);
        Assert.Contains(svg.Descendants("text"), t => t.Value == "must measure 50 mm on paper, 125 mm of the tube");
        Assert.Contains(svg.Descendants("rect"), r => Math.Abs(Of(r, "width") - 82 / 2.5) < 0.01);
        Assert.Contains("The mass is 10 g over the 950 g asked for.", Text(root), StringComparison.Ordinal);
    }

    [Fact]
    public void WithoutATube_NothingIsDrawn_AndThatIsSaid()
    {
        XElement root = Tree(Page("without-tube"));
        Assert.Empty(root.Descendants("svg"));
        Assert.Contains("airframe.json gives no ballast_tube", Text(root), StringComparison.Ordinal);
        Assert.Equal("Fit 45 g: 2 × brass 15 and tungsten 15", Text(root.Descendants("h1").Single()));
        Assert.Contains("not known needs cg_mm and ballast_tube", Text(root), StringComparison.Ordinal);
    }

    [Fact]
    public void LidCard_HasARowForEachStep_InOrderFromTheFront()
    {
        XElement[] cards = [.. Cards("tern-steps")];
        XElement[] rows = [.. cards.Descendants("tbody").Elements("tr")];
        Assert.Equal(12, rows.Length);
        Assert.Equal("45 307 Br15 · W15 · Br15", string.Join(' ', rows[9].Elements().Take(3).Select(Text)));
        Assert.Equal("10 272 2 × W5", string.Join(' ', rows[2].Elements().Take(3).Select(Text)));
        Assert.Equal("42* is 40", Text(rows[8].Elements().First()));
        Assert.Contains("* mass or CG farther from the wish than goes unnoticed", Text(cards[0]), StringComparison.Ordinal);
        Assert.Contains("bare 262 g · limit 345 g all up · CG 72.0 mm bare · CG to stay", Text(cards[0]), StringComparison.Ordinal);
        Assert.Contains("W15 = tungsten 15", Text(cards[0]), StringComparison.Ordinal);
    }

    [Fact]
    public void LidCard_IsNotThere_WhereOneMassAloneWasAskedFor() => Assert.Empty(Cards("tern-45"));

    [Fact]
    public void Stock_SaysWhatIsOutOfReach_AndWhatToAdd()
    {
        string text = Text(Tree(Page("tern-steps")));
        Assert.Contains("Up to 83 g of ballast the pieces make 31 different masses.", text, StringComparison.Ordinal);
        Assert.Contains("63.5 to 70 g, 1.3 to 3.7 g", text, StringComparison.Ordinal);
        Assert.Contains("The three new pieces that would help most: brass 2 g, 9.5 × 3.3 mm; tungsten 7.5 g, 9.5 × 5.5 mm; tungsten 20 g, 9.5 × 14.7 mm.", text, StringComparison.Ordinal);
        Assert.Contains("With them, still out of reach: 79 to 83 g.", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Effects_HaveTheirIntervalsBesideThem()
    {
        XElement table = Tree(Page("tern-45")).Descendants("table").Last();
        Assert.Equal(["Stall m/s", "Least sink at m/s", "Best glide at m/s", "Circle at 30° of bank, radius m", "Launch height m"], table.Descendants("tbody").Descendants("th").Select(Text));
        Assert.All(table.Descendants("td"), td => Assert.Matches(@"^[0-9.]+ [0-9.]+ to [0-9.]+$", Text(td)));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Cautions_AreSaidOnce(string name)
    {
        string text = Text(Tree(Page(name)));
        Assert.All(BallastCautions.Always, c => Assert.Single(Regex.Matches(text, Regex.Escape(c))));
    }

    [Fact]
    public void UntrustedText_IsShownAsText_AndNeverActs()
    {
        string page = Page("hostile");
        XElement root = Tree(page);
        Assert.Contains("<script>alert('air')</script>", root.Value, StringComparison.Ordinal);
        Assert.Contains("<script>alert(1)</script>", root.Value, StringComparison.Ordinal);
        Assert.Contains(new string('W', 200), root.Value, StringComparison.Ordinal);
        Assert.Contains("<i>none</i>", root.Value, StringComparison.Ordinal);
        Assert.Contains("</li><script>alert(3)</script>", root.Value, StringComparison.Ordinal);
        Assert.Empty(root.Descendants("script").Concat(root.Descendants("img")).Concat(root.Descendants("u")));
        Assert.DoesNotContain(page, c => c is '\u202E' or '\u2066' or '\u0007' or '\u001b' or '\0');
        Assert.All(root.Descendants("bdi"), b => Assert.Empty(b.Elements()));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Words_AreAPilots_AndNumbersThatAreNotKnownNeverShow(string name)
    {
        XElement root = Tree(Page(name));
        root.Descendants("style").Remove();
        Assert.DoesNotMatch("_kg|_percent|NaN|Infinity|∞|-0[^.0-9]", Text(root));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void SameDocument_SameBytes(string name) => Assert.Equal(Page(name), Page(name));

    internal static string Page(string name)
    {
        using StringWriter writer = new(CultureInfo.InvariantCulture);
        PiecesPage.Write(writer, ExamplePieces.All[name]());
        return writer.ToString();
    }

    internal static XElement Tree(string page)
    {
        string xml = Regex.Replace(page, "<(meta|col)( [^>]*)?>", "<$1$2/>").Replace("<!DOCTYPE html>", "", StringComparison.Ordinal).Replace("&nbsp;", " ", StringComparison.Ordinal);
        return XDocument.Parse(xml).Root!;
    }

    private static IEnumerable<XElement> Cards(string name) => Tree(Page(name)).Descendants("div").Where(d => (string?)d.Attribute("class") == "card");

    private static string Text(XElement element) => Regex.Replace(string.Join(' ', element.DescendantNodes().OfType<XText>().Where(t => t.Parent!.Name != "style").Select(t => t.Value)), @"[\s\u00A0]+", " ").Trim()
        .Replace(" ;", ";", StringComparison.Ordinal).Replace(" ,", ",", StringComparison.Ordinal);

    private static double Of(XElement element, string attribute) => Number(element.Attribute(attribute)!.Value);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}

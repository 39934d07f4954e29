using System.Collections.Concurrent;
using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Tests.Reports;

public sealed class ReportPageTests
{
    private static readonly ConcurrentDictionary<string, Lazy<string>> Pages = new();

    public static TheoryData<string> Cases => [.. ExampleSession.All.Keys];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Page_AsksForNothingFromOutside_AndRunsNothing(string name)
    {
        string page = Cached(name);
        XElement root = Tree(page);

        Assert.DoesNotMatch("(?i)https?:|<script|javascript:|@import|<iframe|<object|<embed|<base", page.Replace("&#x", "", StringComparison.Ordinal));
        Assert.All(Regex.Matches(page, @"url\(([^)]*)\)"), m => Assert.Matches("^(data:font/woff2;base64,|#)", m.Groups[1].Value));
        Assert.DoesNotContain(root.Descendants().Attributes(), a => a.Name.LocalName.StartsWith("on", StringComparison.Ordinal) || a.Name.LocalName is "src" or "srcset" or "xlink");
        Assert.All(root.Descendants().Attributes("href"), a => Assert.StartsWith("#", a.Value, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Page_NamesEveryIdOnce_AndEveryReferenceLeadsToOne(string name)
    {
        XElement root = Tree(Cached(name));
        string[] ids = [.. root.Descendants().Attributes("id").Select(a => a.Value)];

        IEnumerable<string> wanted = root.Descendants().Attributes("href").Select(a => a.Value[1..])
            .Concat(root.Descendants().Attributes("aria-labelledby").SelectMany(a => a.Value.Split(' ')))
            .Concat(root.Descendants().Attributes("clip-path").Select(a => a.Value[5..^1]));

        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.Empty(wanted.Except(ids));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void EveryPicture_Scales_HasWords_AndIsToldInWords(string name)
    {
        XElement[] pictures = [.. Tree(Cached(name)).Descendants("svg").Where(s => (string?)s.Attribute("class") == "plot")];

        Assert.NotEmpty(pictures);
        Assert.All(pictures, svg =>
        {
            Assert.Matches(@"^0 0 \d+ \d+$", (string?)svg.Attribute("viewBox"));
            Assert.Null(svg.Attribute("width"));
            Assert.Equal("img", (string?)svg.Attribute("role"));
            Assert.True(svg.Element("title")!.Value.Length > 10);
            Assert.True(svg.Element("desc")!.Value.Length > 20);
            Assert.True(svg.Descendants("text").Count() >= 4);
            Assert.All(svg.Descendants("text"), t => Assert.DoesNotContain(',', t.Attribute("x")!.Value));
            Assert.NotEmpty(svg.Descendants("path").Concat(svg.Descendants("ellipse")));
        });
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void EveryPicture_UsesOnlyThePagesColours(string name)
    {
        HashSet<string> known = [.. Inks.All.Select(i => i.Light), "none"];
        XElement[] drawn = [.. Tree(Cached(name)).Descendants("svg").Descendants()];

        foreach (string property in (string[])["fill", "stroke"])
        {
            Assert.All(drawn.Attributes(property), a => Assert.Contains(a.Value, known));
            Assert.All(drawn.Attributes(property).Where(a => a.Value != "none"), a => Assert.StartsWith(property[..1] + "-", (string?)a.Parent!.Attribute("class"), StringComparison.Ordinal));
        }
    }

    [Fact]
    public void UntrustedText_IsShownAsText_AndNeverActs()
    {
        XElement root = Tree(Cached("hostile"));

        string text = root.Value;
        Assert.Contains("<script>alert('air')</script>", text, StringComparison.Ordinal);
        Assert.Contains("<img src=x onerror=alert(1)> ملف.csv", text, StringComparison.Ordinal);
        Assert.Contains("@speed\"><svg onload=alert(2)>", text, StringComparison.Ordinal);
        Assert.Contains("<b>bold</b>&copy;", text, StringComparison.Ordinal);
        Assert.Contains("<b>Höhe</b> [ft]", text, StringComparison.Ordinal);
        Assert.Empty(root.Descendants("script").Concat(root.Descendants("img")));
        Assert.DoesNotContain(text, c => c is '\u202E' or '\u0007');
        Assert.All(root.Descendants("bdi"), b => Assert.Empty(b.Elements()));
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Words_AreAPilots_NotTheDocuments(string name)
    {
        XElement root = Tree(Cached(name));
        root.Descendants("style").Remove();

        Assert.DoesNotMatch("_mps|_g\\b|round_trip|still_air|no_difference|NaN|Infinity|∞", root.Value);
        Assert.Contains("all-up weight without ballast", root.Value, StringComparison.Ordinal);
        Assert.Contains("What this session could not tell", root.Value, StringComparison.Ordinal);
        Assert.Contains("What to fly next", root.Value, StringComparison.Ordinal);
        Assert.Contains("How it was computed", root.Value, StringComparison.Ordinal);
        Assert.Contains("Secure the ballast", root.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void Page_OfAFullSession_HasEverySection()
    {
        string text = Tree(Cached("plain")).Value;

        Assert.All(
            (string[])["40 g of ballast probably flew best.", "about 7 chances in 10", "Net climb after coming home", "Glide over the ground into wind",
                "Height to come home", "Launch height", "Thrown about", "Measured against predicted", "predicted from geometry", "Flight 9", "Set aside by the pilot",
                "line 812", "the row was skipped"],
            expected => Assert.Contains(expected, text, StringComparison.Ordinal));
    }

    [Fact]
    public void Page_WithoutGps_SaysSo_AndDrawsNoTrackAndNoPolar()
    {
        XElement root = Tree(Cached("no-gps"));

        Assert.Contains("No polar could be measured", root.Value, StringComparison.Ordinal);
        Assert.Contains("would probably have flown best", root.Value, StringComparison.Ordinal);
        Assert.Contains("rests on the prediction alone", root.Value, StringComparison.Ordinal);
        Assert.Contains("No position in this log", root.Value, StringComparison.Ordinal);
        Assert.DoesNotContain(root.Descendants("svg").Attributes("aria-labelledby"), a => a.Value.Contains("track", StringComparison.Ordinal) || a.Value.Contains("polar", StringComparison.Ordinal));
    }

    [Fact]
    public void Page_WithoutLift_ComparesTimeAloft()
    {
        string text = Tree(Cached("no-lift")).Value;

        Assert.Contains("Time aloft in still air", text, StringComparison.Ordinal);
        Assert.Contains("no lift was worked", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Net climb", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Climbs_AreNumberedInTheTrace()
    {
        XElement svg = Tree(Cached("plain")).Descendants("svg").Single(s => ((string?)s.Attribute("aria-labelledby"))?.StartsWith("flight-1-height", StringComparison.Ordinal) == true);

        Assert.Equal(["1", "2"], svg.Descendants("text").Where(t => (string?)t.Attribute("class") == "f-climb").Select(t => t.Value));
        Assert.All((string[])["s-launch", "s-glide", "s-climb", "s-landing"], phase => Assert.Contains(svg.Descendants("path").Attributes("class"), c => c.Value == phase));
    }

    [Fact]
    public void TwoWingSettingsOfOneBallast_AreTwoPolars_EachWithItsOwnGlides()
    {
        ResultsDocument doc = (ExampleSession.Plain with { BallastsG = [0], Camber = "thermal" }).Document();
        doc = doc with
        {
            Flights = [.. doc.Flights.Select((f, i) => f with { Camber = i < 4 ? "thermal" : "speed" })],
            Polars = [doc.Polars[0], doc.Polars[0] with { Camber = "speed" }],
        };
        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        ReportHtml.Write(writer, doc, (ExampleSession.Plain with { BallastsG = [0] }).Traces());

        XElement root = Tree(writer.ToString());

        string[] captions = [.. root.Descendants("section").Single(s => (string?)s.Attribute("id") == "polars-each").Descendants("figcaption").Select(c => c.Value)];
        Assert.Contains("thermal, all up 262 g. 56 pieces", captions[0], StringComparison.Ordinal);
        Assert.Contains("speed, all up 262 g. 70 pieces", captions[1], StringComparison.Ordinal);
        XElement[] samples = [.. root.Descendants("div").First(d => (string?)d.Attribute("class") == "first").Descendants("ul").First().Descendants("svg")];
        Assert.Equal(2, samples.Length);
        Assert.NotEqual(samples[0].ToString(), samples[1].ToString());
    }

    [Fact]
    public void ThousandsOfProblems_AreCounted_NotPouredOut()
    {
        ResultsDocument doc = ExampleSession.OneFlight.Document();
        doc = doc with { Logs = [doc.Logs[0] with { Problems = [.. Enumerable.Range(1, 5000).Select(i => new ProblemEntry(i, "is not a number"))] }] };
        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        ReportHtml.Write(writer, doc, ExampleSession.OneFlight.Traces());

        Assert.Contains("and 4940 more, all of them in results.json", writer.ToString(), StringComparison.Ordinal);
        Assert.InRange(writer.ToString().Length, 0, 200_000);
    }

    [Fact]
    public void Font_ComesWithTheLibrary()
    {
        PictureFont.Register();

        Assert.InRange(PictureFont.WidthPx("Sink, m/s", 14, bold: false), 50, 75);
        Assert.True(PictureFont.WidthPx("Sink, m/s", 14, bold: true) > PictureFont.WidthPx("Sink, m/s", 14, bold: false));
        Assert.Contains("SIL OPEN FONT LICENSE", System.Text.Encoding.UTF8.GetString(PictureFont.File("OFL.txt")), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void EmptySession_IsAPage_NotAnError()
    {
        ResultsDocument doc = ExampleSession.NoGps.Document();
        doc = doc with { Flights = [], Logs = [], Limits = [], Comparison = doc.Comparison with { Options = [], BestBallastG = null, Verdict = "unknown", FlyNext = "" } };

        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        ReportHtml.Write(writer, doc, new SessionTraces([], []));

        Assert.Contains("nothing to compare", Tree(writer.ToString()).Value, StringComparison.Ordinal);
        Assert.Contains("nothing to compare", PlainSummary.Write(doc, 80), StringComparison.Ordinal);
    }

    [Fact]
    public void NumbersThatAreNotKnown_NeverReachThePage()
    {
        ResultsDocument doc = ExampleSession.Plain.Document();
        var nan = new Interval(double.NaN, double.NaN, double.NaN);
        doc = doc with
        {
            Flights = [.. doc.Flights.Select(f => f with { Wind = new WindEntry(double.NaN, double.NaN, double.NaN, double.NaN, double.NaN), Turbulence = new TurbulenceEntry(double.NaN, null, null) })],
            Polars = [.. doc.Polars.Select(p => p with { MinSink = new MinSinkEntry(nan, nan), Curve = [.. p.Curve.Select(c => c with { SinkMps = double.NaN })] })],
            Comparison = doc.Comparison with { Options = [.. doc.Comparison.Options.Select(o => o with { RoundTripClimbMps = nan, ProbabilityBest = double.NaN, ReturnGlideRatio = double.NaN })] },
        };

        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        ReportHtml.Write(writer, doc, ExampleSession.Plain.Traces());

        XElement root = Tree(writer.ToString());
        root.Descendants("style").Remove();
        Assert.DoesNotContain("NaN", root.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", PlainSummary.Write(doc, 80), StringComparison.Ordinal);
    }

    [Fact]
    public void Page_IsSmall()
    {
        Assert.InRange(Page(ExampleSession.Plain with { Flights = 15 }).Length, 50_000, 400_000);
        Assert.InRange(Cached("forty-flights").Length, 50_000, 1_500_000);
    }

    [Fact]
    public void Page_IsTheSameEveryTime_OnAnyThread()
    {
        string[] pages = new string[4];
        Parallel.For(0, pages.Length, i => pages[i] = Page(ExampleSession.Plain));

        Assert.All(pages, page => Assert.True(page == pages[0], "two runs gave two pages"));
        Assert.DoesNotContain('\r', pages[0]);
    }

    private static string Cached(string name) => Pages.GetOrAdd(name, n => new Lazy<string>(() => Page(ExampleSession.All[n]))).Value;

    private static string Page(ExampleSession session)
    {
        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        ReportHtml.Write(writer, session.Document(), session.Traces());
        return writer.ToString();
    }

    /// <summary>The page as a tree: it is written so strictly that an XML reader takes it once its few void tags are closed.</summary>
    private static XElement Tree(string page)
    {
        string xml = Regex.Replace(page, "<meta ([^>]*)>", "<meta $1/>").Replace("<!DOCTYPE html>", "", StringComparison.Ordinal).Replace("&nbsp;", " ", StringComparison.Ordinal);
        return XDocument.Parse(xml).Root!;
    }
}

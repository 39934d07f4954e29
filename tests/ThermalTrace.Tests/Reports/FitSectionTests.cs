using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ThermalTrace.Advice;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Reports.Fitting;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Reports;

[Collection(ChromiumTests.Name)]
public sealed class FitSectionTests(Chromium chromium)
{
    private static readonly Lazy<SuggestionDocument> Advice = new(() => Suggestion.Run(Season.Tune(new Airframe
    {
        Name = "Tern 15",
        WingSpanMm = 1500,
        WingAreaDm2 = 22.4,
        UnballastedMassG = 262,
        MaxFlyingMassG = 345,
        Launch = LaunchKind.Discus,
        BallastOptionsG = [0, 45],
    }, []), new AskedConditions { WindMps = new AskedRange(7, 7), LiftMps = new AskedRange(2, 2) }, new SuggestionOptions()));

    [Fact]
    public void Report_NamesThePieces_ForTheBallastAhead_AndForTheOthers()
    {
        string page = Report(ExampleSession.WithStock.Document());
        string section = Regex.Match(page, "<section id=\"fit\">.*?</section>", RegexOptions.Singleline).Value;

        Assert.Contains("href=\"#fit\"", page, StringComparison.Ordinal);
        Assert.Contains("Fit 40\u00A0g: ", System.Net.WebUtility.HtmlDecode(section), StringComparison.Ordinal);
        Assert.Equal(1, Regex.Count(section, "<svg class=\"tube-drawing\""));
        Assert.Contains("How to fit the other choices", section, StringComparison.Ordinal);
        Assert.Contains("spacer, cut to", section, StringComparison.Ordinal);
        Assert.Equal(1, Regex.Count(section, "pushrods"));
    }

    [Fact]
    public void Report_WithoutPieces_SaysNothingOfThem() => Assert.DoesNotContain("id=\"fit\"", Report(ExampleSession.Plain.Document()), StringComparison.Ordinal);

    [Fact]
    public void Report_WhereNoBallastIsAhead_ListsHowToFitEach()
    {
        ResultsDocument doc = ExampleSession.WithStock.Document();
        string page = Report(doc with { Comparison = doc.Comparison with { BestBallastG = 0 } });
        Assert.Contains("How to fit each choice", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<svg class=\"tube-drawing\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public void ResultsOfEarlierPrograms_WithoutFittings_AreRead()
    {
        using MemoryStream written = new();
        ResultsJson.Write(written, ExampleSession.WithStock.Document());
        JsonObject json = JsonNode.Parse(written.ToArray())!.AsObject();
        Assert.Equal(2, json["fittings"]!["options"]!.AsArray().Count);
        Assert.True(json.Remove("fittings"));

        ResultsDocument read = ResultsJson.Read(new MemoryStream(Encoding.UTF8.GetBytes(json.ToJsonString())));

        Assert.Null(read.Fittings);
    }

    [ChromiumFact]
    public async Task ReportPrinted_TheRulerMeasures50Millimetres()
    {
        const int paperPx = 688; // 182 mm: what A4 has between the report's margins
        using TempFolder folder = new();
        ResultsDocument doc = ExampleSession.WithStock.Document();
        string file = folder.Write("report.html", Report(doc with { Fittings = doc.Fittings! with { Tube = new TubeEntry(10, 178, 72) } }));
        await using IBrowserContext context = await chromium.Browser.NewContextAsync(new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = paperPx, Height = 900 } });
        IPage page = await context.NewPageAsync();
        await page.GotoAsync(new Uri(file).AbsoluteUri);
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });

        Assert.Equal(50, await page.Locator(".tube-drawing .ruler").EvaluateAsync<double>("r => { const m = r.getScreenCTM(); return r.getTotalLength() * Math.hypot(m.a, m.b); }") * 25.4 / 96, 0.05);
        Assert.InRange(await page.Locator(".tube-drawing").EvaluateAsync<double>("s => s.getBoundingClientRect().width"), 600, paperPx);
        Assert.Contains("Drawn 1:1", await page.Locator("#fit").TextContentAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public void Advice_WithAFitting_SaysInOneLineWhatGoesIn()
    {
        FittingEntry fitting = ExamplePieces.Tern45;
        string text = SuggestionSummary.Write(Advice.Value with { Fitting = fitting with { SpacerFrontMm = 12.5, SpacerRearMm = 7.5 } }, 100);
        Assert.Contains("\nFit: 2 × brass 15, tungsten 15 (spacers 12.5 mm in front, 7.5 mm behind); CG stays.\n", text, StringComparison.Ordinal);

        text = SuggestionSummary.Write(Advice.Value with { Fitting = fitting with { BallastG = 44.2, CgShiftMm = -0.7, SpacerFrontMm = 0, SpacerRearMm = 7.5 } }, 100);
        Assert.Contains("\nFit: 2 × brass 15, tungsten 15, together 44.2 g (spacer 7.5 mm behind); CG moves 0.7 mm forward.\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Advice_WithoutPieces_SaysNothingOfThem_AndHasTheKeyInJson()
    {
        Assert.DoesNotContain("Fit:", SuggestionSummary.Write(Advice.Value, 100), StringComparison.Ordinal);
        using JsonDocument json = JsonDocument.Parse(JsonSerializer.Serialize(Advice.Value, ResultsJson.Style));
        Assert.Equal(JsonValueKind.Null, json.RootElement.GetProperty("fitting").ValueKind);
    }

    [Fact]
    public void Advice_WithHostileNames_StaysTame() =>
        Assert.DoesNotContain(SuggestionSummary.Write(Advice.Value with { Fitting = ExamplePieces.Hostile }, 80), c => c is '\u202E' or '\u2066' or '\u001b' or '\0');

    private static string Report(ResultsDocument doc)
    {
        using StringWriter writer = new(CultureInfo.InvariantCulture);
        ReportHtml.Write(writer, doc, ExampleSession.WithStock.Traces());
        return writer.ToString();
    }
}

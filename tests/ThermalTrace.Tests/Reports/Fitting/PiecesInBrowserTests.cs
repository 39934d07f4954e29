using Microsoft.Playwright;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Reports.Fitting;

[Collection(ChromiumTests.Name)]
public sealed class PiecesInBrowserTests(Chromium chromium)
{
    private const double PxPerMm = 96 / 25.4;
    private const int PaperPx = 718; // 190 mm: what A4 has between margins of 10 mm

    public static TheoryData<string> Cases => [.. ExamplePieces.All.Keys];

    [ChromiumTheory]
    [MemberData(nameof(Cases))]
    public async Task Printed_TheRulerMeasures50Millimetres_AndNothingIsWiderThanThePaper(string name)
    {
        await using Opened page = await Opened.At(chromium, name, PaperPx);
        await page.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        // A browser shrinks a page that is wider than the paper, and with it the drawing.
        Assert.InRange(await page.Page.EvaluateAsync<int>("document.documentElement.scrollWidth"), 1, PaperPx);
        foreach (ILocator ruler in await page.Page.Locator(".tube-drawing .ruler").AllAsync())
        {
            Assert.Equal(50, await ruler.EvaluateAsync<double>("r => { const m = r.getScreenCTM(); return r.getTotalLength() * Math.hypot(m.a, m.b); }") / PxPerMm, 0.05);
        }
        Assert.Empty(page.Complaints);
    }

    [ChromiumTheory]
    [MemberData(nameof(Cases))]
    public async Task OnAPhone_NothingScrollsSideways(string name)
    {
        await using Opened page = await Opened.At(chromium, name, 380);
        Assert.Equal(380, await page.Page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
    }

    [ChromiumTheory]
    [MemberData(nameof(Cases))]
    public async Task LidCards_AreAtMost100By140Millimetres_InTypeOf9PointsOrMore_WithNothingCutOff(string name)
    {
        await using Opened page = await Opened.At(chromium, name, PaperPx);
        await page.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        double[][] cards = await page.Page.EvaluateAsync<double[][]>("""
            () => [...document.querySelectorAll('.card')].map(c => {
              const box = c.getBoundingClientRect();
              const sizes = [...c.querySelectorAll('*')].map(e => parseFloat(getComputedStyle(e).fontSize));
              const out = [...c.querySelectorAll('td,th,p')].some(e => e.scrollWidth > e.clientWidth + 1);
              return [box.width, box.height, Math.min(...sizes), c.scrollHeight - c.clientHeight, out ? 1 : 0];
            })
            """);
        Assert.All(cards, c =>
        {
            Assert.InRange(c[0] / PxPerMm, 90, 100.1);
            Assert.InRange(c[1] / PxPerMm, 20, 140.1);
            Assert.InRange(c[2], 11.99, 20); // 9 pt are 12 px
            Assert.InRange(c[3], -1, 1);
            Assert.Equal(0, c[4]);
        });
    }

    [ChromiumTheory]
    [MemberData(nameof(Cases))]
    public async Task WordsInTheDrawing_StayInside_AndClearOfEachOther(string name)
    {
        await using Opened page = await Opened.At(chromium, name, 1280);
        string[] troubles = await page.Page.EvaluateAsync<string[]>("""
            () => [...document.querySelectorAll('.tube-drawing')].flatMap(svg => {
              const paper = svg.viewBox.baseVal, words = [...svg.querySelectorAll('text')].map(t => [t.textContent, t.getBBox()]);
              const out = words.filter(([, b]) => b.x < -0.01 || b.y < -0.01 || b.x + b.width > paper.width + 0.01 || b.y + b.height > paper.height + 0.01).map(([t]) => 'outside: ' + t);
              const on = words.flatMap(([t, a], i) => words.slice(i + 1).filter(([, b]) => a.x + 0.1 < b.x + b.width && b.x + 0.1 < a.x + a.width && a.y + 1 < b.y + b.height && b.y + 1 < a.y + a.height).map(([u]) => t + ' on ' + u));
              return [...out, ...on];
            })
            """);
        Assert.Empty(troubles);
    }

    private sealed class Opened(TempFolder folder, IBrowserContext context, IPage page) : IAsyncDisposable
    {
        public IPage Page => page;

        public List<string> Complaints { get; } = [];

        public static async Task<Opened> At(Chromium chromium, string name, int widthPx)
        {
            TempFolder folder = new();
            string file = folder.Write("pieces.html", PiecesPageTests.Page(name));
            IBrowserContext context = await chromium.Browser.NewContextAsync(new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = widthPx, Height = 844 } });
            IPage page = await context.NewPageAsync();
            Opened opened = new(folder, context, page);
            page.Console += (_, m) => opened.Complaints.Add(m.Text);
            await page.GotoAsync(new Uri(file).AbsoluteUri);
            await page.EvaluateAsync("document.fonts.ready");
            return opened;
        }

        public async ValueTask DisposeAsync()
        {
            await context.DisposeAsync();
            folder.Dispose();
        }
    }
}

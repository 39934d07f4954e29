using Microsoft.Playwright;
using ThermalTrace.Ballast;
using ThermalTrace.Reports.Stick;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Reports.Stick;

[Collection(ChromiumTests.Name)]
public sealed class StickInBrowserTests(Chromium chromium)
{
    private const double CssPixelsPerMm = 96 / 25.4; // CSS Values and Units, absolute lengths

    private static StickDocument Document => StickDocumentTests.Run(forward: 0.7, materials: [Materials.Tungsten, Materials.Lead, Material.Of(new string('W', 60), 17, 17)]);

    private static string Content
    {
        get
        {
            using StringWriter writer = new();
            StickPage.Write(writer, Document);
            return writer.ToString();
        }
    }

    [ChromiumTheory]
    [InlineData(390, Media.Screen)]
    [InlineData(1280, Media.Screen)]
    [InlineData(720, Media.Print)] // 190.5 mm, the narrower of the two papers less its margins
    public async Task Drawings_AreFullSize_AndThePageIsNoWiderThanItsWindow(int width, Media media)
    {
        IPage page = await chromium.Browser.NewPageAsync(new BrowserNewPageOptions { ViewportSize = new ViewportSize { Width = width, Height = 900 } });
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = media });
        await page.SetContentAsync(Content);
        Assert.Equal(width, await page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
        double[] sticks = await page.EvaluateAsync<double[]>("[...document.querySelectorAll('svg .stick')].map(s => s.getBBox().width * s.getScreenCTM().a)");
        Assert.Equal(Document.Options.Where(o => o.Fits).Select(o => Math.Round(o.LengthMm * CssPixelsPerMm, 1)), sticks.Select(s => Math.Round(s, 1)));
        await page.CloseAsync();
    }

    [ChromiumFact]
    public async Task Words_OfADrawing_StayOnItsPaper()
    {
        IPage page = await chromium.Browser.NewPageAsync();
        await page.SetContentAsync(Content);
        string[] outside = await page.EvaluateAsync<string[]>("""
            [...document.querySelectorAll('svg')].flatMap(s => [...s.querySelectorAll('text')].filter(t => {
                const p = s.getBoundingClientRect(), b = t.getBoundingClientRect();
                return b.left < p.left || b.right > p.right || b.top < p.top || b.bottom > p.bottom;
            }).map(t => t.textContent))
            """);
        Assert.Empty(outside);
        await page.CloseAsync();
    }
}

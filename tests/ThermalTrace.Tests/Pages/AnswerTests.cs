using System.Globalization;
using Microsoft.Playwright;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Pages;

[Collection(ChromiumTests.Name)]
public sealed class AnswerTests(Chromium chromium)
{
    private static readonly string Sample = Path.Combine(AppContext.BaseDirectory, "..", "..", "..", "..", "..", "sample-logs", "larkmoor-evening");

    [ChromiumTheory]
    [InlineData(1280, ColorScheme.Light)]
    [InlineData(1280, ColorScheme.Dark)]
    [InlineData(380, ColorScheme.Light)]
    public async Task Debrief_ThenSliders_AnswerInPlace(int widthPx, ColorScheme scheme)
    {
        await using OpenPages pages = await Debriefed(widthPx, scheme);
        IPage page = pages.Page;
        string heading = await page.Locator("main h1").InnerTextAsync();
        Assert.Contains("best", heading, StringComparison.Ordinal);
        Assert.Equal(heading, await page.Locator("main h1").InnerTextAsync());
        ILocator words = page.Locator(".live-words");
        await Assertions.Expect(words).Not.ToHaveTextAsync("");
        string before = await words.InnerTextAsync();
        // Strong wind and lift: heavy is right; hardly any: light is.
        await page.GetByLabel("Wind at flying height", new() { Exact = true }).FillAsync("11");
        await page.GetByLabel("Lift at the core", new() { Exact = true }).FillAsync("4");
        await Assertions.Expect(words).ToHaveAttributeAsync("data-air", new System.Text.RegularExpressions.Regex("^11/4/"));
        string windy = await words.InnerTextAsync();
        await page.GetByLabel("Wind at flying height, m/s").FillAsync("0");
        await page.GetByLabel("Wind at flying height, m/s").BlurAsync();
        await page.GetByLabel("Lift at the core, m/s").FillAsync("0.5");
        await page.GetByLabel("Lift at the core, m/s").BlurAsync();
        await Assertions.Expect(words).ToHaveAttributeAsync("data-air", new System.Text.RegularExpressions.Regex("^0/0.5/"));
        string calm = await words.InnerTextAsync();
        Assert.NotEqual(windy, calm);
        await OpenPages.Picture(page, $"answer-{widthPx}-{scheme}-top", whole: false);
        await page.EvaluateAsync("() => document.querySelector('.live').scrollIntoView()");
        await OpenPages.Picture(page, $"answer-{widthPx}-{scheme}-live", whole: false);
        await page.EvaluateAsync("() => document.querySelector('.live-picture').scrollIntoView()");
        await OpenPages.Picture(page, $"answer-{widthPx}-{scheme}-picture", whole: false);
        await page.GetByRole(AriaRole.Button, new() { Name = "Back to this session’s air" }).ClickAsync();
        await Assertions.Expect(words).ToHaveTextAsync(before);
        Assert.False(await OpenPages.IsTooWide(page));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task Slider_ByKeys_MovesAndAnswers()
    {
        await using OpenPages pages = await Debriefed();
        ILocator wind = pages.Page.Locator("#live-wind");
        double from = double.Parse(await wind.InputValueAsync(), CultureInfo.InvariantCulture);
        await wind.FocusAsync();
        for (int i = 0; i < 5; i++)
        {
            await pages.Page.Keyboard.PressAsync("ArrowRight");
        }
        string expected = (from + 0.5).ToString("0.##", CultureInfo.InvariantCulture);
        await Assertions.Expect(pages.Page.Locator(".live-words")).ToHaveAttributeAsync("data-air", new System.Text.RegularExpressions.Regex($"^{System.Text.RegularExpressions.Regex.Escape(expected)}/"));
        await Assertions.Expect(pages.Page.Locator("#live-wind-number")).ToHaveValueAsync(expected);
    }

    [ChromiumFact]
    public async Task Glide_PointedAt_IsShownInItsFlight()
    {
        await using OpenPages pages = await Debriefed();
        IPage page = pages.Page;
        ILocator dots = page.Locator(".glides .dot");
        await dots.First.WaitForAsync();
        await dots.Nth(3).HoverAsync(new() { Force = true });
        ILocator words = page.Locator(".glide-words");
        await Assertions.Expect(words).ToContainTextAsync("Flight ");
        Assert.Equal(1, await page.Locator(".glide-stretch rect").CountAsync());
        string third = await words.InnerTextAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "Glides over the polars" }).FocusAsync();
        await page.Keyboard.PressAsync("Home");
        await Assertions.Expect(words).Not.ToHaveTextAsync(third);
        string first = await words.InnerTextAsync();
        await page.Keyboard.PressAsync("ArrowRight");
        await Assertions.Expect(words).Not.ToHaveTextAsync(first);
        await page.GetByRole(AriaRole.Button, new() { Name = "Glide before" }).ClickAsync();
        await Assertions.Expect(words).ToHaveTextAsync(first);
        ILocator shown = page.Locator(".glide-stretch rect");
        Assert.True(await shown.EvaluateAsync<bool>("r => { const s = r.getBoundingClientRect(), p = r.closest('.over').getBoundingClientRect(); return s.width > 1 && s.width < p.width / 2 && s.left >= p.left && s.right <= p.right + 1; }"));
        await page.Keyboard.PressAsync("Tab");
        Assert.NotEqual("group", await page.EvaluateAsync<string?>("() => document.activeElement.getAttribute('role')"));
        await page.Locator(".glides").ScrollIntoViewIfNeededAsync();
        await OpenPages.Picture(page, "answer-glides", whole: false);
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task Link_WithinThePage_StaysOnIt()
    {
        await using OpenPages pages = await Debriefed();
        IPage page = pages.Page;
        await page.Locator("nav.contents a").Filter(new() { HasText = "Method" }).ClickAsync();
        await Assertions.Expect(page.Locator("#method")).ToBeInViewportAsync();
        await page.Locator("#flights a[href='#flight-2']").ClickAsync();
        await Assertions.Expect(page.Locator("#flight-2")).ToBeInViewportAsync();
        Assert.EndsWith("/answer", page.Url, StringComparison.Ordinal);
    }

    [ChromiumFact]
    public async Task ReportAndResults_AreTheCommandsToTheByte()
    {
        await using OpenPages pages = await Debriefed();
        using TempFolder others = new();
        Directory.CreateDirectory(others.Session);
        foreach (string file in Directory.EnumerateFiles(Sample))
        {
            File.Copy(file, Path.Combine(others.Session, Path.GetFileName(file)));
        }
        Assert.Equal(0, (await CliRun.Of("debrief", others.Session)).ExitCode);
        foreach (string name in (string[])["report.html", "results.json"])
        {
            byte[] command = File.ReadAllBytes(Path.Combine(others.Session, "debrief", name));
            IAPIResponse answer = await pages.Page.APIRequest.GetAsync($"http://127.0.0.1:{pages.Server.Port}/{name}");
            Assert.Equal(200, answer.Status);
            Assert.Equal(command, await answer.BodyAsync());
            Assert.Equal(command, File.ReadAllBytes(Path.Combine(pages.Folder, "debrief", name)));
        }
        // What the page shows is the report's own markup.
        string report = await pages.Page.EvaluateAsync<string>("() => [...document.querySelectorAll('main .report h2')].map(h => h.textContent).join('|')");
        IPage opened = await pages.Page.Context.NewPageAsync();
        await opened.GotoAsync($"http://127.0.0.1:{pages.Server.Port}/report.html");
        Assert.Equal(await opened.EvaluateAsync<string>("() => [...document.querySelectorAll('main h2')].map(h => h.textContent).join('|')"), report);
    }

    [ChromiumFact]
    public async Task Wind_ThatNoLogCanTell_MayBeThePilotsOwn()
    {
        const string withoutPlace = "log,column,quantity,unit\n,latitude,ignore,\n,longitude,ignore,\n,ground_speed_mps,ignore,\n,course_deg,ignore,\n";
        await using OpenPages pages = await OpenPages.OfCopy(chromium, Sample);
        Assert.Null(await pages.Desk.SaveAsync("columns", "columns.csv", _ => withoutPlace));
        await pages.Show("answer");
        IPage page = pages.Page;
        ILocator debrief = page.GetByRole(AriaRole.Button, new() { Name = "Debrief" });
        await debrief.ClickAsync();
        await Assertions.Expect(page.Locator(".stale")).ToContainTextAsync("No log could tell the wind.");
        await Assertions.Expect(page.Locator(".live")).ToContainTextAsync("begin with no wind");
        ILocator wind = page.GetByLabel("Your own estimate of the wind");
        await wind.FillAsync("much");
        await debrief.ClickAsync();
        await Assertions.Expect(page.Locator(".ask .complaint")).ToContainTextAsync("much");
        await wind.FillAsync("18 km/h");
        await debrief.ClickAsync();
        await Assertions.Expect(page.Locator(".stale")).ToContainTextAsync("your own estimate");
        await Assertions.Expect(page.Locator(".ask .complaint")).ToHaveCountAsync(0);
        await Assertions.Expect(page.Locator("#live-wind")).ToHaveValueAsync("5");
        Assert.Equal(0, (await CliRun.Of("debrief", pages.Folder, "--wind", "5", "--out", Path.Combine(pages.Files.Root, "command"))).ExitCode);
        Assert.Equal(File.ReadAllBytes(Path.Combine(pages.Files.Root, "command", "results.json")), File.ReadAllBytes(Path.Combine(pages.Folder, "debrief", "results.json")));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task Paper_HasTheAnswer_AndNoControls()
    {
        await using OpenPages pages = await Debriefed();
        IPage page = pages.Page;
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Assertions.Expect(page.Locator("main h1")).ToBeVisibleAsync();
        foreach (string control in (string[])["header.desk", ".live", ".glides", "main button", "main input", "main nav"])
        {
            Assert.Equal(0, await page.Locator(control).Filter(new() { Visible = true }).CountAsync());
        }
        // Other air than the session's was asked for, so it is printed too, its conditions as text.
        await page.EmulateMediaAsync(new() { Media = Media.Screen });
        await page.GetByLabel("Wind at flying height", new() { Exact = true }).FillAsync("11");
        await Assertions.Expect(page.Locator(".live-words")).ToHaveAttributeAsync("data-air", new System.Text.RegularExpressions.Regex("^11/"));
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Assertions.Expect(page.Locator(".live .print-only")).ToContainTextAsync("Wind 11 m/s");
        await Assertions.Expect(page.Locator(".live .print-only")).ToBeVisibleAsync();
        Assert.Equal(0, await page.Locator("main input").Filter(new() { Visible = true }).CountAsync());
        if (Environment.GetEnvironmentVariable("PICTURES") is { Length: > 0 } folder)
        {
            await page.PdfAsync(new() { Path = Path.Combine(folder, "answer.pdf"), Format = "A4" });
        }
    }

    [ChromiumFact]
    public async Task Answer_AfterTheFolderChanged_SaysSo()
    {
        await using OpenPages pages = await Debriefed();
        Assert.Null(await pages.Desk.SaveAsync("a remark", "flights.csv", text => text + "# a remark\n"));
        await Assertions.Expect(pages.Page.Locator(".stale")).ToBeVisibleAsync();
        await pages.Page.GetByRole(AriaRole.Button, new() { Name = "Undo" }).ClickAsync();
        await Assertions.Expect(pages.Page.Locator(".stale")).ToHaveCountAsync(0);
    }

    [ChromiumFact]
    public async Task Answer_OfABareFolder_SaysWhatIsMissing()
    {
        TempFolder files = new();
        await using OpenPages pages = await OpenPages.Of(chromium, files);
        await pages.Show("answer");
        await Assertions.Expect(pages.Page.Locator(".ask")).ToContainTextAsync("Still missing: a log that can be used, the airframe");
        await Assertions.Expect(pages.Page.GetByRole(AriaRole.Button, new() { Name = "Debrief" })).ToBeDisabledAsync();
        Assert.Equal(404, (await pages.Page.APIRequest.GetAsync($"http://127.0.0.1:{pages.Server.Port}/report.html")).Status);
    }

    private async Task<OpenPages> Debriefed(int widthPx = 1280, ColorScheme scheme = ColorScheme.Light)
    {
        OpenPages pages = await OpenPages.OfCopy(chromium, Sample, widthPx, scheme);
        await pages.Show("answer");
        await pages.Page.GetByRole(AriaRole.Button, new() { Name = "Debrief" }).ClickAsync();
        await pages.Page.Locator(".live-words b").Filter(new() { HasText = "." }).WaitForAsync();
        await pages.Page.Locator("#logs").WaitForAsync(new() { State = WaitForSelectorState.Attached });
        return pages;
    }
}

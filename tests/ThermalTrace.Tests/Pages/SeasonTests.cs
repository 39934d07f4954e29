using Microsoft.Playwright;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Pages;

/// <summary>The page of the season in a real browser: the logbook, advice, sheets.</summary>
[Collection(ChromiumTests.Name)]
public sealed class SeasonTests(Chromium chromium)
{
    [ChromiumFact]
    public async Task Session_IsAdded_Looked_At_Removed_AndPutBack_ByClicking()
    {
        await using OpenPages pages = await OpenPages.Of(chromium, SeasonFolder.WithPieces());
        IPage page = pages.Page;
        await pages.Show("season");
        ILocator logbook = page.Locator("#logbook");
        await Expect(logbook).ToContainTextAsync("There is none yet");
        await Expect(page.Locator("#tuning")).ToContainTextAsync("No session of this model is in the logbook yet");

        await logbook.GetByText("What you noted at the field").ClickAsync();
        await logbook.GetByLabel("Field").First.FillAsync("Larkmoor");
        await logbook.GetByLabel("Wind you read").FillAsync("2.5 parsec");
        await logbook.GetByRole(AriaRole.Button, new() { Name = "Add this folder’s session" }).ClickAsync();
        await Expect(logbook.Locator("[aria-invalid=true]")).ToHaveCountAsync(1);
        await logbook.GetByLabel("Wind you read").FillAsync("2.5m/s");
        await logbook.GetByRole(AriaRole.Button, new() { Name = "Add this folder’s session" }).ClickAsync();
        await Expect(logbook.Locator(".deed")).ToContainTextAsync("added as");
        ILocator row = logbook.Locator("table.sessions tbody tr");
        await Expect(row).ToHaveCountAsync(1);
        await Expect(row).ToContainTextAsync("this folder");
        await Expect(row).ToContainTextAsync("Larkmoor");
        await Expect(page.Locator("#tuning svg.plot")).ToHaveCountAsync(2);
        CliRun list = await CliRun.Of("logbook", "list", "--logbook", SeasonFolder.LogbookOf(pages.Files));
        Assert.Contains("Tansy 150", list.Output, StringComparison.Ordinal);

        await logbook.GetByRole(AriaRole.Button, new() { Name = "Look for damage" }).ClickAsync();
        await Expect(logbook.Locator(".deed")).ToContainTextAsync("Nothing is damaged: 1 session");

        // Asked first; the one that keeps it does.
        await row.GetByRole(AriaRole.Button, new() { Name = "Remove" }).ClickAsync();
        await row.GetByRole(AriaRole.Button, new() { Name = "Keep it" }).ClickAsync();
        await row.GetByRole(AriaRole.Button, new() { Name = "Remove" }).ClickAsync();
        await Expect(row.GetByRole(AriaRole.Button, new() { Name = "Remove it" })).ToBeFocusedAsync();
        await page.Keyboard.PressAsync("Enter");
        await Expect(row).ToHaveCountAsync(0);
        await logbook.GetByRole(AriaRole.Button, new() { Name = "Take back" }).ClickAsync();
        await Expect(row).ToHaveCountAsync(1);
        CliRun again = await CliRun.Of("logbook", "list", "--logbook", SeasonFolder.LogbookOf(pages.Files));
        Assert.Equal(list.Output, again.Output);
        Assert.Empty(pages.Complaints);
    }

    [ChromiumTheory]
    [InlineData(1280, ColorScheme.Light)]
    [InlineData(380, ColorScheme.Dark)]
    public async Task Advice_SaysWhatTheCommandSays_AtAnyWidth(int widthPx, ColorScheme scheme)
    {
        TempFolder files = SeasonFolder.WithPieces();
        SeasonFolder.AddSeason(files, 10);
        await using OpenPages pages = await OpenPages.Of(chromium, files, widthPx, scheme);
        IPage page = pages.Page;
        await pages.Show("season");
        await Expect(page.Locator("table.sessions tbody tr")).ToHaveCountAsync(10);
        await Expect(page.Locator("#tuning")).ToContainTextAsync("it sinks");

        ILocator advice = page.Locator("#advice");
        await advice.GetByRole(AriaRole.Button, new() { Name = "Ask" }).ClickAsync();
        await Expect(advice.Locator(".complaint")).ToContainTextAsync("Wind is missing");
        await advice.GetByLabel("Wind", new() { Exact = true }).FillAsync("3..6m/s");
        await advice.GetByLabel("Lift", new() { Exact = true }).FillAsync("weak");
        await page.Keyboard.PressAsync("Enter");
        await Expect(advice.Locator(".suggestion")).ToBeVisibleAsync();
        CliRun run = await CliRun.Of("suggest", "--airframe", pages.Folder, "--logbook", SeasonFolder.LogbookOf(pages.Files), "--wind", "3..6m/s", "--lift", "weak");
        string answer = run.Output.Split('\n')[0].Split(": ", 2)[1];
        string shown = (await advice.Locator(".suggested").TextContentAsync())!;
        Assert.Equal(answer, char.ToLowerInvariant(shown[0]) + shown[1..]);
        await OpenPages.Picture(page, $"season-{widthPx}-{scheme}");
        Assert.False(await OpenPages.IsTooWide(page), "sideways scroll: " + await page.EvaluateAsync<string>("() => [...document.querySelectorAll('body *')].filter(e => e.getBoundingClientRect().right > innerWidth && !(e.closest('.table') && e.offsetParent?.closest('.table'))).slice(0, 5).map(e => e.outerHTML.slice(0, 90)).join('; ')"));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task Sheets_AreMadeAndShown()
    {
        await using OpenPages pages = await OpenPages.Of(chromium, SeasonFolder.WithPieces());
        IPage page = pages.Page;
        await pages.Show("season");
        ILocator sheets = page.Locator("#sheets");
        await sheets.GetByRole(AriaRole.Radio, new() { Name = "Stick" }).CheckAsync();
        await sheets.GetByRole(AriaRole.Button, new() { Name = "Make the stick" }).ClickAsync();
        await Expect(sheets.Locator(".wrong")).ToContainTextAsync("Ballast is missing");
        await sheets.GetByLabel("Ballast").FillAsync("45");
        await sheets.GetByLabel("Material").FillAsync("brass; bismuth=9.8g/cm3");
        await sheets.GetByRole(AriaRole.Button, new() { Name = "Make the stick" }).ClickAsync();
        await Expect(page.FrameLocator("iframe.sheet").Locator("body")).ToContainTextAsync("bismuth");
        await OpenPages.Picture(page, "season-stick");
        await page.SetViewportSizeAsync(380, 900);
        Assert.False(await OpenPages.IsTooWide(page), "sideways scroll");

        IPage alone = await page.Context.RunAndWaitForPageAsync(() => sheets.GetByText("Open it alone").ClickAsync());
        await Expect(alone.Locator("body")).ToContainTextAsync("bismuth");

        await sheets.GetByRole(AriaRole.Radio, new() { Name = "Card" }).CheckAsync();
        await Expect(sheets.Locator("iframe")).ToHaveCountAsync(0);
        await sheets.GetByRole(AriaRole.Button, new() { Name = "Make the card" }).ClickAsync();
        // The card's own script runs under the card's own policy.
        await Expect(page.FrameLocator("iframe.sheet").Locator("input[type=range]").First).ToBeVisibleAsync();
        await OpenPages.Picture(page, "season-card-380");
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task Names_ThatWouldBeMarkup_StayText()
    {
        const string hostile = "<img src=x onerror=\"window.hit=1\"><script>window.hit=2</script>.csv";
        TempFolder files = SeasonFolder.WithPieces();
        files.Write("airframe.json", File.ReadAllText(Path.Combine(files.Session, "airframe.json")).Replace("\"Tansy 150\"", "\"Tansy <b onclick=x>150</b> <script>window.hit=3</script>\"", StringComparison.Ordinal));
        SeasonFolder.AddSeason(files, 1, log: hostile, field: hostile);
        await using OpenPages pages = await OpenPages.Of(chromium, files);
        IPage page = pages.Page;
        await pages.Show("season");
        await page.Locator("table.sessions button.link").ClickAsync();
        await Expect(page.Locator(".kept")).ToContainTextAsync("window.hit=1");
        await OpenPages.Picture(page, "season-open");
        foreach (string sheet in (string[])["Card", "Plan", "Pieces", "Stick"])
        {
            await page.GetByRole(AriaRole.Radio, new() { Name = sheet }).CheckAsync();
            if (sheet == "Stick")
            {
                await page.Locator("#sheets").GetByLabel("Ballast").FillAsync("45");
            }
            await page.GetByRole(AriaRole.Button, new() { Name = "Make the " + sheet.ToLowerInvariant() }).ClickAsync();
            await Expect(page.FrameLocator("iframe.sheet").Locator("body")).ToContainTextAsync("Tansy <b onclick=x>150</b>");
        }
        Assert.Equal(0, await page.Locator("main script, main img").CountAsync());
        foreach (IFrame frame in page.Frames)
        {
            Assert.True(await frame.EvaluateAsync<bool>("() => window.hit === undefined"));
        }
        Assert.Empty(pages.Complaints);
    }

    private static ILocatorAssertions Expect(ILocator locator)
    {
        Assertions.SetDefaultExpectTimeout(30_000);
        return Assertions.Expect(locator);
    }
}

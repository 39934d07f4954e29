using System.Text;
using Microsoft.Playwright;
using ThermalTrace.Logs;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Pages;

[Collection(ChromiumTests.Name)]
public sealed class StartTests(Chromium chromium)
{
    private static readonly string Sample = Path.Combine(AppContext.BaseDirectory, "..", "..", "..", "..", "..", "sample-logs", "larkmoor-evening");

    [ChromiumTheory]
    [InlineData(1280, ColorScheme.Light)]
    [InlineData(380, ColorScheme.Dark)]
    public async Task BareFolder_GetsLogsAndAirframe_ByHand(int widthPx, ColorScheme scheme)
    {
        await using OpenPages pages = await OpenPages.Of(chromium, new TempFolder(), widthPx, scheme);
        IPage page = pages.Page;
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Debrief" })).ToBeDisabledAsync();
        await page.Locator("#logs").SetInputFilesAsync([Path.Combine(Sample, "log-01.csv"), Path.Combine(Sample, "log-02.csv")]);
        await Assertions.Expect(page.Locator("details.log")).ToHaveCountAsync(2);
        Assert.Equal(File.ReadAllBytes(Path.Combine(Sample, "log-01.csv")), File.ReadAllBytes(Path.Combine(pages.Folder, "log-01.csv")));
        await page.Locator("details.log summary").First.ClickAsync();
        await Assertions.Expect(page.Locator("details.log").First.Locator("tbody tr").First).ToBeVisibleAsync();
        await page.GetByLabel("Name", new() { Exact = true }).FillAsync("Tansy");
        await page.GetByLabel("Wing span").FillAsync("1.5 m");
        await page.GetByLabel("Wing area").FillAsync("347.2 sqin");
        await page.GetByLabel("Mass without ballast").FillAsync("26 kg2");
        await page.GetByLabel("Ballasts you can fit").FillAsync("0, 40, 80");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save airframe" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Mass without ballast")).ToHaveAttributeAsync("aria-invalid", "true");
        Assert.False(File.Exists(Path.Combine(pages.Folder, "airframe.json")));
        await OpenPages.Picture(page, $"start-{widthPx}-{scheme}");
        Assert.False(await OpenPages.IsTooWide(page));
        await page.GetByLabel("Mass without ballast").FillAsync("262");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save airframe" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Saved.", new() { Exact = true })).ToBeVisibleAsync();
        Airframe saved = SessionFolder.ReadAirframe(pages.Folder);
        Assert.Equal(("Tansy", 1500, 262), (saved.Name, saved.WingSpanMm, saved.UnballastedMassG));
        Assert.Equal(22.4, saved.WingAreaDm2, 0.001);
        Assert.Equal([0, 40, 80], saved.BallastOptionsG);
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Debrief" })).ToBeEnabledAsync();
        for (int i = 0; i < 3; i++)
        {
            await page.GetByRole(AriaRole.Button, new() { NameRegex = new("^Undo") }).ClickAsync();
            await page.GetByText("Taken back:").WaitForAsync();
            await Assertions.Expect(page.GetByText("Taken back:")).ToBeVisibleAsync();
            await page.WaitForFunctionAsync("n => document.querySelectorAll('details.log').length <= n", i == 0 ? 2 : i == 1 ? 1 : 0);
        }
        Assert.Empty(Directory.EnumerateFileSystemEntries(pages.Folder));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task LogThatIsNotUnderstood_IsExplainedByHand()
    {
        TempFolder files = new();
        files.Write("airframe.json", TempFolder.Airframe);
        files.Write("odd.csv", "zeit,wert one,wert two\n" + string.Concat(Enumerable.Range(0, 300).Select(i => FormattableString.Invariant($"{i * 0.2:0.0},{400 + i % 3},{i % 7}\n"))));
        await using OpenPages pages = await OpenPages.Of(chromium, files);
        IPage page = pages.Page;
        await Assertions.Expect(page.Locator("details.log .tag.warn")).ToBeVisibleAsync();
        await page.GetByLabel("What column wert one is").SelectOptionAsync("altitude");
        await page.WaitForFunctionAsync("() => document.querySelector('.desk-undo button:not([disabled])')");
        await page.GetByLabel("What column zeit is").SelectOptionAsync("time");
        await Assertions.Expect(page.Locator("details.log .tag.warn")).ToHaveCountAsync(0);
        Assert.Equal("column,quantity\nwert one,altitude\nzeit,time\n", File.ReadAllText(Path.Combine(files.Session, "columns.csv")));
        ILocator unit = page.Locator("li", new() { HasText = "wert one" }).GetByLabel("Unit");
        await unit.FillAsync("furlong");
        await unit.BlurAsync();
        await Assertions.Expect(page.Locator(".columns .complaint")).ToContainTextAsync("\"furlong\" is not understood for altitude");
        await unit.FillAsync("ft");
        await unit.BlurAsync();
        await Assertions.Expect(page.Locator(".columns .complaint")).ToHaveCountAsync(0);
        await OpenPages.Picture(page, "start-columns");
        Assert.Equal("column,quantity,unit\nwert one,altitude,ft\nzeit,time,\n", File.ReadAllText(Path.Combine(files.Session, "columns.csv")));
        await page.GetByLabel("What column wert one is").SelectOptionAsync("");
        await Assertions.Expect(page.Locator("details.log .tag.warn")).ToBeVisibleAsync();
        await page.GetByLabel("What column zeit is").SelectOptionAsync("");
        await page.WaitForFunctionAsync("() => document.querySelector('.desk-undo button').title.includes('zeit')");
        Assert.False(File.Exists(Path.Combine(files.Session, "columns.csv")));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task ScriptInNames_StaysText()
    {
        const string attack = "<img src=x onerror=window.hit=1>", script = "<script>window.hit=1</script>";
        TempFolder files = new();
        string name = OperatingSystem.IsWindows() ? "plain.csv" : attack + ".csv";
        files.Write(name, $"time_s,altitude_m,\"{script}\",\"=cmd|' /C calc'!A0\",\u202Egnp.exe\n"
            + string.Concat(Enumerable.Range(0, 300).Select(i => FormattableString.Invariant($"{i * 0.2:0.0},{120 + i % 3},\"{attack}\",1,2\n"))));
        files.Write("airframe.json", TempFolder.Airframe.Replace("Tansy", attack, StringComparison.Ordinal));
        files.Write("flights.csv", $"log,flight,ballast_g,notes\n\"{name}\",1,heavy,\"{script}\"\n");
        await using OpenPages pages = await OpenPages.Of(chromium, files);
        IPage page = pages.Page;
        await page.Locator("details.log").WaitForAsync();
        await Assertions.Expect(page.Locator(".log-name")).ToHaveTextAsync(name);
        await page.Locator(".log-name").ClickAsync();
        await page.GetByText("Explain its columns").ClickAsync();
        await Assertions.Expect(page.Locator(".column-list").GetByText(script, new() { Exact = true })).ToBeVisibleAsync();
        await page.GetByLabel($"What column {script} is").SelectOptionAsync("ignore");
        await page.WaitForFunctionAsync("() => document.querySelector('.desk-undo button:not([disabled])')");
        foreach (string address in (string[])["", "flights", "answer", "season"])
        {
            await pages.Show(address);
            await page.WaitForTimeoutAsync(200);
            Assert.Null(await page.EvaluateAsync<int?>("() => window.hit ?? null"));
            Assert.Equal(0, await page.Locator("main img, main script").CountAsync());
        }
        Assert.Contains(ColumnsFile.Read(new StringReader(File.ReadAllText(Path.Combine(files.Session, "columns.csv"))), "columns.csv"), n => n.Column == script && n.Quantity == Quantity.Ignore);
    }

    [ChromiumFact]
    public async Task FileThatIsTooLarge_IsRefusedBeforeItIsSent()
    {
        await using OpenPages pages = await OpenPages.Of(chromium, TempFolder.WithQuietSession());
        IPage page = pages.Page;
        string large = Path.Combine(pages.Files.Root, "large.csv");
        using (FileStream stream = File.Create(large))
        {
            stream.SetLength(3_000_000_000); // no disk is used for what is never written
        }
        IReadOnlyList<string> before = [.. Directory.EnumerateFiles(pages.Folder)];
        await page.Locator("#logs").SetInputFilesAsync(large);
        await Assertions.Expect(page.Locator(".complaint")).ToContainTextAsync("has 3,000 MB; a log of up to 1,000 MB is taken here");
        Assert.Equal(before, Directory.EnumerateFiles(pages.Folder));
        Assert.Empty(pages.Complaints);
    }

    [ChromiumFact]
    public async Task TwoBrowsers_AtOnce_SeeEachOthersEdits_AndLoseNone()
    {
        await using OpenPages pages = await OpenPages.Of(chromium, TempFolder.WithQuietSession());
        IPage one = pages.Page, two = await pages.Another();
        await two.GetByLabel("Most flying mass").FillAsync("400");
        await one.GetByLabel("Centre of gravity", new() { Exact = true }).FillAsync("72");
        await one.GetByRole(AriaRole.Button, new() { Name = "Save airframe" }).ClickAsync();
        await one.GetByText("Saved.", new() { Exact = true }).WaitForAsync();
        // What the second had begun to type is still there, and the first's edit is told.
        await Assertions.Expect(two.GetByText("was changed meanwhile")).ToBeVisibleAsync();
        await Assertions.Expect(two.GetByLabel("Most flying mass")).ToHaveValueAsync("400");
        await two.GetByRole(AriaRole.Button, new() { Name = "Save airframe" }).ClickAsync();
        await two.GetByText("Saved.", new() { Exact = true }).WaitForAsync();
        Airframe both = SessionFolder.ReadAirframe(pages.Folder);
        Assert.Equal((72, 400), (both.CgMm, both.MaxFlyingMassG));
        await Assertions.Expect(one.GetByLabel("Most flying mass")).ToHaveValueAsync("400");
        // Either takes back what the other did last.
        await one.GetByRole(AriaRole.Button, new() { NameRegex = new("^Undo") }).ClickAsync();
        await Assertions.Expect(two.GetByLabel("Most flying mass")).ToHaveValueAsync("");
        Assert.Empty(pages.Complaints);
    }
}

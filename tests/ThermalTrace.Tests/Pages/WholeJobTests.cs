using System.Text;
using Microsoft.Playwright;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;
using static Microsoft.Playwright.Assertions;

namespace ThermalTrace.Tests.Pages;

/// <summary>The pilot's whole job, clicked: bare logs, airframe, ballasts, a boundary, the answer, the air of another day, the printed page.</summary>
[Collection(ChromiumTests.Name)]
public sealed class WholeJobTests(Chromium chromium)
{
    private static readonly string Sample = Path.Combine(AppContext.BaseDirectory, "..", "..", "..", "..", "..", "sample-logs", "larkmoor-evening");

    // As sample-logs/larkmoor-evening/airframe.json has it; typed as a pilot might.
    private static readonly (string Label, string Typed)[] Airframe =
    [
        ("Name", "Tansy 150"), ("Wing span", "1.5 m"), ("Wing area", "0.213 m2"), ("Mass without ballast", "248"), ("Most flying mass", "420 g"), ("Ballasts you can fit", "0, 35, 70"),
    ];

    [ChromiumTheory]
    [InlineData(1280)]
    [InlineData(380)]
    public async Task BareLogs_BecomeAPrintedAnswer(int widthPx)
    {
        await using OpenPages pages = await OpenPages.Of(chromium, new TempFolder(), widthPx);
        IPage page = pages.Page;

        // Start: the logs and the airframe.
        string[] logs = [.. Directory.EnumerateFiles(Sample, "log-*.csv").Order(StringComparer.Ordinal)];
        await page.Locator("#logs").SetInputFilesAsync(logs);
        await Expect(page.Locator("details.log")).ToHaveCountAsync(logs.Length);
        foreach ((string label, string typed) in Airframe)
        {
            await page.GetByLabel(label, new() { Exact = true }).FillAsync(typed);
        }
        await page.GetByLabel("Launch", new() { Exact = true }).SelectOptionAsync("discus");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save airframe" }).ClickAsync();
        await page.GetByText("Saved.", new() { Exact = true }).WaitForAsync();
        await Look(page, $"job-1-start-{widthPx}");

        // Flights: the ballasts, as the pilot noted them.
        await page.GetByRole(AriaRole.Link, new() { Name = "Flights", Exact = true }).First.ClickAsync();
        IReadOnlyList<FlightNote> noted = FlightsFile.Read(new StringReader(File.ReadAllText(Path.Combine(Sample, "flights.csv"))), "flights.csv");
        ILocator rows = page.Locator(".flight-row");
        await Expect(rows.First).ToBeVisibleAsync();
        int flights = await rows.CountAsync(), number = 0;
        foreach (FlightNote note in noted)
        {
            // A row without a number speaks of every flight of its log.
            foreach (FoundFlight _ in FlightSearch.Run(SessionFolder.ReadLog(Sample, note.Log, []), LaunchKind.Discus))
            {
                number++;
                ILocator ballast = page.Locator($"#flight-{number}").GetByLabel("Ballast").First;
                await ballast.FillAsync(FormattableString.Invariant($"{note.BallastG} g"));
                await ballast.PressAsync("Enter");
                await Expect(ballast).ToHaveValueAsync(FormattableString.Invariant($"{note.BallastG} g"));
            }
        }
        Assert.Equal(flights, number);
        await Look(page, $"job-2-flights-{widthPx}");

        // Answer.
        await page.GetByRole(AriaRole.Link, new() { Name = "Answer", Exact = true }).First.ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Debrief" }).ClickAsync();
        await page.Locator(".live-words b").Filter(new() { HasText = "." }).WaitForAsync();
        await page.Locator("main #logs").WaitForAsync(new() { State = WaitForSelectorState.Attached });
        await page.GetByLabel("Wind at flying height", new() { Exact = true }).FillAsync("8");
        await Expect(page.Locator(".live-words")).ToHaveAttributeAsync("data-air", new System.Text.RegularExpressions.Regex("^8/"));
        await Look(page, $"job-3-answer-{widthPx}");

        // The files are the command's, to the byte, for what the pages left in the folder.
        using TempFolder others = new();
        Directory.CreateDirectory(others.Session);
        foreach (string file in Directory.EnumerateFiles(pages.Folder))
        {
            File.Copy(file, Path.Combine(others.Session, Path.GetFileName(file)));
        }
        Assert.Equal(0, (await CliRun.Of("debrief", others.Session)).ExitCode);
        Assert.Equal(others.Everything(), pages.Files.Everything());

        // The printed answer.
        IPage report = await page.Context.NewPageAsync();
        await report.GotoAsync($"http://127.0.0.1:{pages.Server.Port}/report.html");
        Assert.Equal(File.ReadAllText(Path.Combine(others.Session, "debrief", "report.html")), await (await page.APIRequest.GetAsync($"http://127.0.0.1:{pages.Server.Port}/report.html")).TextAsync());
        byte[] paper = await report.PdfAsync(new() { Format = "A4" });
        Assert.StartsWith("%PDF", Encoding.ASCII.GetString(paper, 0, 4), StringComparison.Ordinal);
        Assert.Contains("best", await report.Locator("h1").InnerTextAsync(), StringComparison.Ordinal);
        Assert.True(await page.EvaluateAsync<bool>("() => getComputedStyle(document.querySelector('header.desk')).display !== 'none'"));
        await page.EmulateMediaAsync(new() { Media = Media.Print });
        Assert.True(await page.EvaluateAsync<bool>("() => getComputedStyle(document.querySelector('header.desk')).display === 'none'"));
        Assert.Empty(pages.Complaints);
    }

    private static async Task Look(IPage page, string name)
    {
        await OpenPages.Picture(page, name);
        Assert.False(await OpenPages.IsTooWide(page), $"{name} is wider than its window");
    }
}

using Microsoft.Playwright;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Reports.Card;

[Collection(ChromiumTests.Name)]
public sealed class FlightSheetInBrowserTests(Chromium chromium)
{
    // The page's clock begins at 08:05:20 UTC, in a zone two hours ahead.
    private const double FirstTapS = ((10 * 60) + 5) * 60 + 20;

    [ChromiumFact]
    public async Task ADayOfTaps_IsReadBackAsFlightsCsv()
    {
        await using OpenCard card = await Opened();
        await Tap(card, "[data-g='30']");
        await Tap(card, "#launched");
        await Pass(card, 20 * 60);
        await Tap(card, "[data-g='60']");
        await Tap(card, "#launched");
        await Pass(card, 70); // a hand launch again, soon
        await Tap(card, "#launched");
        await Tap(card, "#spoiled");
        await Pass(card, 15 * 60);
        await card.Page.Locator("#other").FillAsync("42.5");
        await Tap(card, "#launched");
        await card.Page.Locator("#log").FillAsync("day, one.csv");
        await card.Page.Locator("#ahead").FillAsync("-1.5");

        await Tap(card, "#list li:first-child summary");
        await card.Page.Locator("#list li:first-child input[type=text]").FillAsync("=HYPERLINK(\"a\"), \"gusty\"; low; #3");
        await card.Page.Locator("#list li:first-child input[type=text]").PressAsync("Tab");

        await card.Page.ReloadAsync();
        IReadOnlyList<FlightNote> notes = await Saved(card);

        Assert.Equal([30, 60, 60, 42.5], notes.Select(n => n.BallastG));
        Assert.Equal([false, false, true, false], notes.Select(n => n.Spoiled));
        Assert.All(notes, n => Assert.Equal("day, one.csv", n.Log));
        Assert.Equal([null, null, null, "=HYPERLINK(\"a\"), \"gusty\"; low; #3"], notes.Select(n => n.Notes));
        double[] taps = [FirstTapS, FirstTapS + 20 * 60, FirstTapS + 20 * 60 + 70, FirstTapS + 20 * 60 + 70 + 15 * 60];
        for (int i = 0; i < taps.Length; i++)
        {
            (double from, double to) = notes[i].ClockRangeS!.Value;
            double launch = taps[i] - 90; // the log's clock is a minute and a half behind
            Assert.InRange(launch, from + 20, to - 20);
            Assert.InRange(to - from, 0, 360);
        }
        Assert.Equal((0, 0), (card.Requests.Count(r => !r.StartsWith("blob:", StringComparison.Ordinal)), card.Complaints.Count));
    }

    [ChromiumFact]
    public async Task Launches_WithRoomBetweenThem_GetWholeMinutes()
    {
        await using OpenCard card = await Opened();
        await Tap(card, "[data-g='30']");
        await Tap(card, "#launched");
        await card.Page.Locator("#log").FillAsync("log-01.csv");
        Assert.Equal("log,flight,ballast_g,spoiled,notes\nlog-01.csv,10:03-10:08,30,,\n", await card.Page.Locator("#csv").InputValueAsync());
        await Tap(card, "#utc");
        Assert.Equal("-120", await card.Page.Locator("#ahead").InputValueAsync());
        Assert.Contains(",08:03-08:08,", await card.Page.Locator("#csv").InputValueAsync(), StringComparison.Ordinal);
        await Tap(card, "#sign");
        Assert.Contains(",12:03-12:08,", await card.Page.Locator("#csv").InputValueAsync(), StringComparison.Ordinal);
    }

    [ChromiumFact]
    public async Task Midnight_IsPassedAsALogsClockPassesIt()
    {
        await using OpenCard card = await Opened();
        await Tap(card, "[data-g='30']");
        await Tap(card, "#launched");
        await card.Page.Locator("#log").FillAsync("log-01.csv");
        await card.Page.Locator("#ahead").FillAsync("834"); // 13:54 hours: 23:59:20 on the log's clock
        FlightNote note = Assert.Single(await Saved(card));
        Assert.Equal((((23 * 60) + 57) * 60, ((24 * 60) + 2) * 60), note.ClockRangeS);
    }

    [ChromiumFact]
    public async Task Undo_TakesBackStepByStep()
    {
        await using OpenCard card = await Opened();
        await Tap(card, "[data-g='90']");
        await Tap(card, "#launched");
        await Tap(card, "#spoiled");
        await Tap(card, "#clear");
        Assert.Equal(0, await card.Page.Locator("#list li").CountAsync());
        await Tap(card, "#undo");
        Assert.Equal(1, await card.Page.Locator("#list li.spoiled").CountAsync());
        await Tap(card, "#undo");
        Assert.Equal(0, await card.Page.Locator("#list li.spoiled").CountAsync());
        await Tap(card, "#undo");
        Assert.Equal(0, await card.Page.Locator("#list li").CountAsync());
        Assert.True(await card.Page.Locator("#undo").IsDisabledAsync());
    }

    [ChromiumFact]
    public async Task TwoTapsInARow_AreOneLaunch_AndOneWithoutABallastStaysOpen()
    {
        await using OpenCard card = await Opened();
        await Tap(card, "#launched");
        await Tap(card, "#launched");
        Assert.Equal(1, await card.Page.Locator("#list li").CountAsync());
        Assert.Contains("ballast?", await card.Page.Locator("#list li").TextContentAsync(), StringComparison.Ordinal);
        await card.Page.Locator("#log").FillAsync("log-01.csv");
        Assert.Null(Assert.Single(await Saved(card)).BallastG);
    }

    [ChromiumFact]
    public async Task AnotherDay_BeginsANewList_AndTheOldOneCanBeLookedUp()
    {
        await using OpenCard card = await Opened();
        await Tap(card, "[data-g='30']");
        await Tap(card, "#launched");
        await Pass(card, 86_400);
        await card.Page.ReloadAsync();
        Assert.Equal(0, await card.Page.Locator("#list li").CountAsync());
        await card.Page.Locator("#day").SelectOptionAsync("2026-06-14");
        Assert.Equal(1, await card.Page.Locator("#list li").CountAsync());
        Assert.Contains("10:03-10:08", await card.Page.Locator("#csv").InputValueAsync(), StringComparison.Ordinal);
    }

    [ChromiumFact]
    public async Task ATimeOrAMassTappedWrong_IsPutRight()
    {
        await using OpenCard card = await Opened();
        await Tap(card, "[data-g='30']");
        await Tap(card, "#launched");
        await Tap(card, "#list summary");
        await card.Page.Locator("#list input[type=time]").FillAsync("09:59:30");
        await card.Page.Locator("#list input[type=number]").FillAsync("60");
        await card.Page.Locator("#list input[type=number]").PressAsync("Tab");
        await card.Page.Locator("#log").FillAsync("log-01.csv");
        FlightNote note = Assert.Single(await Saved(card));
        Assert.Equal((60, (9 * 60 + 57) * 60), (note.BallastG, note.ClockRangeS!.Value.FromS));
    }

    [ChromiumFact]
    public async Task WhereTheBrowserKeepsNothing_ThePageSaysSoAndGoesOn()
    {
        await using OpenCard card = await Opened("Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('denied', 'SecurityError'); } });");
        Assert.Contains("keeps nothing", await card.Page.Locator("#kept:visible").TextContentAsync(), StringComparison.Ordinal);
        await Tap(card, "[data-g='30']");
        await Tap(card, "#launched");
        await card.Page.Locator("#log").FillAsync("log-01.csv");
        Assert.Equal(30, Assert.Single(await Saved(card)).BallastG);
        Assert.Empty(card.Complaints);
    }

    [ChromiumFact]
    public async Task WhatIsKeptIsNotTrusted()
    {
        string kept = """{"flights":[{"t":"x"},null,{"t":1781424320000,"g":"<b>","note":"<img src=x onerror=window.hit=1>","spoiled":1}],"g":-5,"ahead":1e9,"log":7,"air":{"unit":"toString","wind":99},"view":"<"}""";
        await using OpenCard card = await OpenCard.At(chromium);
        await card.Page.EvaluateAsync("text => localStorage.setItem('thermaltrace-card:' + document.querySelector('h1').textContent, text)", kept);
        await card.Page.ReloadAsync();
        Assert.Equal("4.0\u00a0m/s", await card.Page.Locator("#wind-said").TextContentAsync());
        await card.Show("flights");
        Assert.Contains("<img src=x", await card.Page.Locator("#list li").TextContentAsync(), StringComparison.Ordinal);
        Assert.True(await card.Page.EvaluateAsync<bool>("window.hit === undefined && document.images.length === 0"));
        await card.Page.EvaluateAsync("() => localStorage.setItem('thermaltrace-card:' + document.querySelector('h1').textContent, '{cut')");
        await card.Page.ReloadAsync();
        Assert.Equal(0, await card.Page.Locator("#list li").CountAsync());
        Assert.Empty(card.Complaints);
    }

    private async Task<OpenCard> Opened(string? before = null)
    {
        OpenCard card = await OpenCard.At(chromium, before: before);
        await card.Show("flights");
        return card;
    }

    private static Task Tap(OpenCard card, string what) => card.Page.Locator(what).ClickAsync();

    private static Task Pass(OpenCard card, int seconds) => card.Page.Clock.FastForwardAsync(seconds * 1000L);

    /// <summary>What the library reads in the file that the page hands over.</summary>
    private static async Task<IReadOnlyList<FlightNote>> Saved(OpenCard card)
    {
        IDownload download = await card.Page.RunAndWaitForDownloadAsync(() => Tap(card, "#save"));
        Assert.Equal("flights.csv", download.SuggestedFilename);
        using StreamReader reader = new(await download.CreateReadStreamAsync());
        string text = await reader.ReadToEndAsync();
        Assert.Equal(text, await card.Page.Locator("#csv").InputValueAsync());
        return FlightsFile.Read(new StringReader(text), FlightsFile.Name);
    }
}

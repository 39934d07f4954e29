using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using ThermalTrace.Reports.Card;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Reports.Card;

[Collection(ChromiumTests.Name)]
public sealed partial class CardAnswerInBrowserTests(Chromium chromium)
{
    // Moves the three sliders as a hand does and reads what the page then says.
    private const string Ask = """
        asked => asked.map(air => {
          ['wind', 'lift', 'edr'].forEach((id, i) => {
            const slider = document.getElementById(id);
            slider.value = air[i];
            slider.dispatchEvent(new Event('input', { bubbles: true }));
          });
          const text = id => document.getElementById(id).textContent.replaceAll('\u00a0', ' ').replaceAll('\u2212', '-');
          return [text('mass'), text('certainty'), text('net'), [...document.querySelectorAll('#bars .off')].map(o => o.textContent.replace('\u2212', '-')).join('|')];
        })
        """;

    [ChromiumFact]
    public async Task OnEveryPointOfTheGrid_ThePageSaysWhatTheGridSays()
    {
        await using OpenCard card = await OpenCard.At(chromium);
        CardGrid grid = ExampleCard.Document.Grid;
        double[][] airs = [.. from w in grid.WindMps from l in grid.LiftMps from e in grid.Edr select new[] { w, l, e }];

        string[][] said = await Said(card, airs);

        Assert.Equal(grid.BestBallastG.Count, said.Length);
        for (int cell = 0; cell < said.Length; cell++)
        {
            double best = grid.BestBallastG[cell]!.Value;
            int k = grid.Options.ToList().FindIndex(o => o.BallastG == best);
            Assert.Equal(best == 0 ? "No ballast" : $"{best} g", said[cell][0]);
            string sure = grid.HardlyMatters[cell] || grid.Verdict[cell] == "no_difference" ? "Hardly matters" : grid.Verdict[cell] == "clear" ? "Clear" : grid.Options[k].ProbabilityAsGood[cell] < 0.6 ? "A guess" : "Leaning";
            Assert.StartsWith(sure + ":", said[cell][1], StringComparison.Ordinal);
            double[] net = [.. NetClimb().Match(said[cell][2]).Groups.Values.Skip(1).Select(g => double.Parse(g.Value, CultureInfo.InvariantCulture))];
            Assert.Equal([grid.Options[k].RoundTripClimbMps[cell]!.Value, grid.Options[k].RoundTripClimbMpsLow[cell]!.Value, grid.Options[k].RoundTripClimbMpsHigh[cell]!.Value], net, (a, b) => Math.Abs(a - b) < 0.005 + 1e-9);
        }
    }

    [ChromiumFact]
    public async Task BetweenThePoints_ThePageDrawsStraightLines()
    {
        await using OpenCard card = await OpenCard.At(chromium);
        CardGrid grid = ExampleCard.Document.Grid;
        Random random = new(3);
        double[][] airs = [.. Enumerable.Range(0, 200).Select(_ => new[] { random.Next(25) * 0.5, 0.3 + random.Next(75) * 0.05, 0.03 + random.Next(38) * 0.01 })];

        string[][] said = await Said(card, airs);

        int shares = 0;
        for (int i = 0; i < airs.Length; i++)
        {
            double[] trips = [.. Enumerable.Range(0, grid.Options.Count).Select(k => ExampleCard.Trip(grid, k, airs[i][0], airs[i][1], airs[i][2]))];
            double top = trips.Max();
            int named = said[i][0] == "No ballast" ? 0 : grid.Options.ToList().FindIndex(o => $"{o.BallastG} g" == said[i][0]);
            Assert.True(trips[named] > top - 1e-9, $"{said[i][0]} at {string.Join(", ", airs[i])}");
            string[] off = said[i][3].Split('|');
            for (int k = 0; k < trips.Length; k++)
            {
                if (off[k] is "best" or "as good")
                {
                    Assert.InRange(top - trips[k], 0, 0.01 + 1e-9);
                    continue;
                }
                Assert.Equal(top - trips[k], -double.Parse(off[k], CultureInfo.InvariantCulture), 0.005 + 1e-9);
                shares++;
            }
        }
        Assert.True(shares > 100, "hardly a difference was looked at");
    }

    [ChromiumFact]
    public async Task Keyboard_MovesTheSliders_AndTheWordsFollow()
    {
        await using OpenCard card = await OpenCard.At(chromium);
        ILocator wind = card.Page.Locator("#wind"), rough = card.Page.Locator("#edr");
        Assert.Equal("4.0 metres per second", await wind.GetAttributeAsync("aria-valuetext"));
        await wind.FocusAsync();
        await wind.PressAsync("ArrowRight");
        Assert.Equal("4.5 metres per second", await wind.GetAttributeAsync("aria-valuetext"));
        await wind.PressAsync("End");
        Assert.Equal("12.0 m/s", Plain(await card.Page.Locator("#wind-said").TextContentAsync()));
        Assert.Equal("90 g", Plain(await card.Page.Locator("#mass").TextContentAsync()));
        await rough.FocusAsync();
        await rough.PressAsync("End");
        Assert.Equal("wooded 0.40", await rough.GetAttributeAsync("aria-valuetext"));
        await card.Page.Locator("[data-edr='0.16']").PressAsync("Enter");
        Assert.Equal("moderate 0.16", await rough.GetAttributeAsync("aria-valuetext"));
        Assert.Equal("0.16", await rough.InputValueAsync());
    }

    [ChromiumFact]
    public async Task AnotherUnit_ChangesTheNumbersAndNotTheAnswer()
    {
        await using OpenCard card = await OpenCard.At(chromium);
        await Said(card, [[8, 1.5, 0.16]]);
        string? mass = await card.Page.Locator("#mass").TextContentAsync(), certainty = await card.Page.Locator("#certainty").TextContentAsync();
        foreach ((string unit, string wind) in new[] { ("km/h", "29 km/h"), ("kn", "16 kn"), ("m/s", "8.0 m/s") })
        {
            await card.Page.Locator($"[data-unit='{unit}']").ClickAsync();
            Assert.Equal(wind, Plain(await card.Page.Locator("#wind-said").TextContentAsync()));
            Assert.Equal((mass, certainty), (await card.Page.Locator("#mass").TextContentAsync(), await card.Page.Locator("#certainty").TextContentAsync()));
            Assert.EndsWith(unit, Plain(await card.Page.Locator("#margin").TextContentAsync()).Split(" (")[0], StringComparison.Ordinal);
        }
        await card.Page.Locator("[data-unit='kn']").ClickAsync();
        await card.Page.Locator("#wind").FocusAsync();
        await card.Page.Keyboard.PressAsync("Home");
        await card.Page.ReloadAsync();
        Assert.Equal("0 kn", Plain(await card.Page.Locator("#wind-said").TextContentAsync()));
    }

    [ChromiumTheory]
    [InlineData(360, ColorScheme.Light)]
    [InlineData(390, ColorScheme.Dark)]
    [InlineData(1280, ColorScheme.Light)]
    [InlineData(1280, ColorScheme.Dark)]
    public async Task InSunAndUnderAThumb_ThePageCanBeReadAndHit(int widthPx, ColorScheme scheme)
    {
        await using OpenCard card = await OpenCard.At(chromium, widthPx, scheme);
        foreach (string view in widthPx < 900 ? ["advice", "flights", "tables"] : new[] { "advice", "flights" })
        {
            await card.Show(view);
            if (view == "flights")
            {
                await card.Page.Locator("#launched").ClickAsync();
                await card.Page.Locator("#spoiled").ClickAsync();
                await card.Page.Locator("#list summary").ClickAsync();
            }
            Assert.Equal(widthPx, await card.Page.EvaluateAsync<int>("document.documentElement.scrollWidth"));
            Assert.Empty(await card.Page.EvaluateAsync<string[]>("""
                () => [...document.querySelectorAll('button, input, select, textarea, summary')].filter(e => e.checkVisibility())
                  .map(e => [e, e.getBoundingClientRect()]).filter(([e, r]) => r.width < 47.9 || r.height < 47.9 || r.left < 0 || r.right > innerWidth + 0.1)
                  .map(([e, r]) => `${e.tagName} ${e.id} ${e.textContent}: ${r.width} x ${r.height}`)
                """));
            Assert.Empty(await card.Page.EvaluateAsync<string[]>("""
                () => {
                  const rgb = text => text.match(/[\d.]+/g).map(Number);
                  const light = c => { const [r, g, b] = c.map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
                  const ground = e => { for (; e; e = e.parentElement) { const c = rgb(getComputedStyle(e).backgroundColor); if (c.length === 3 || c[3] === 1) { return c.slice(0, 3); } } return [255, 255, 255]; };
                  const poor = [];
                  let seen = 0;
                  for (const e of document.body.querySelectorAll('*')) {
                    const own = e.matches('input, textarea, select') || [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim());
                    if (!own || !e.checkVisibility() || e.matches('script')) { continue; }
                    const [a, b] = [light(rgb(getComputedStyle(e).color).slice(0, 3)), light(ground(e))].sort((x, y) => y - x), ratio = (a + 0.05) / (b + 0.05);
                    seen++;
                    if (ratio < 7) { poor.push(`${e.tagName} ${e.className} "${e.textContent.slice(0, 30)}": ${ratio.toFixed(1)}`); }
                  }
                  return seen > 15 ? poor : ['only ' + seen + ' texts were seen'];
                }
                """));
            Assert.Empty(await card.Page.EvaluateAsync<string[]>("""
                () => [...document.querySelectorAll('button, input, select, textarea, [role=group], section, nav')].filter(e => e.checkVisibility())
                  .filter(e => !(e.getAttribute('aria-label') || e.labels?.length || (e.tagName === 'BUTTON' && e.textContent.trim()))).map(e => e.outerHTML.slice(0, 80))
                """));
        }
        Assert.Equal((0, 0), (card.Requests.Count, card.Complaints.Count));
    }

    [ChromiumFact]
    public async Task SlidersStayWhereTheyAre_WhateverTheAnswerSays()
    {
        await using OpenCard card = await OpenCard.At(chromium, 360);
        CardGrid grid = ExampleCard.Document.Grid;
        double[][] airs = [.. from w in grid.WindMps from l in grid.LiftMps select new[] { w, l, 0.16 }];
        foreach (string unit in new[] { "m/s", "km/h", "kn" })
        {
            float[] tops = await card.Page.EvaluateAsync<float[]>($"asked => asked.map(a => {{ ({Ask})([a]); return document.getElementById('wind').getBoundingClientRect().top; }})", airs);
            Assert.InRange(tops.Max() - tops.Min(), 0, 0.5);
            await card.Page.Locator($"[data-unit='{unit}']").ClickAsync();
        }
    }

    [ChromiumFact]
    public async Task UntrustedName_IsReadAndNotRun()
    {
        await using OpenCard card = await OpenCard.At(chromium);
        Assert.Equal(ExampleCard.Name, await card.Page.Locator("h1").TextContentAsync());
        Assert.True(await card.Page.EvaluateAsync<bool>("window.hit === undefined && document.images.length === 0"));
        // The policy holds even where something got in.
        await card.Page.EvaluateAsync("() => { const s = document.createElement('script'); s.textContent = 'window.hit = 3'; document.body.append(s); }");
        Assert.True(await card.Page.EvaluateAsync<bool>("window.hit === undefined"));
        Assert.Contains(card.Complaints, c => c.Contains("Content Security Policy", StringComparison.Ordinal));
    }

    [ChromiumFact]
    public async Task OnPaper_TheTablesStandOnOnePageOfAnySize_AndNothingElse()
    {
        await using OpenCard card = await OpenCard.At(chromium);
        await card.Page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        Assert.Equal(3, await card.Page.Locator("table:visible").CountAsync());
        Assert.Equal(0, await card.Page.Locator("button:visible, input:visible, nav:visible").CountAsync());
        foreach (string format in new[] { "A6", "A5", "A4" })
        {
            byte[] pdf = await card.Page.PdfAsync(new PagePdfOptions { Format = format, PrintBackground = true });
            string text = System.Text.Encoding.Latin1.GetString(pdf);
            Assert.Single(Regex.Matches(text, @"/Type\s*/Page\b"));
        }
    }

    [ChromiumFact]
    public async Task WithoutScripts_TheTablesAreThere()
    {
        await using OpenCard card = await OpenCard.At(chromium, scripts: false);
        Assert.Equal(3, await card.Page.Locator("table:visible").CountAsync());
        Assert.Equal(0, await card.Page.Locator("button:visible, input:visible").CountAsync());
    }

    private static async Task<string[][]> Said(OpenCard card, double[][] airs)
    {
        JsonElement? answers = await card.Page.EvaluateAsync(Ask, airs);
        return [.. answers!.Value.EnumerateArray().Select(a => a.EnumerateArray().Select(t => t.GetString()!).ToArray())];
    }

    [GeneratedRegex(@"^Net climb after coming home (-?[\d.]+) m/s \((-?[\d.]+) to (-?[\d.]+)\)")]
    private static partial Regex NetClimb();

    private static string Plain(string? text) => text!.Replace('\u00a0', ' ').Replace('\u2212', '-');
}

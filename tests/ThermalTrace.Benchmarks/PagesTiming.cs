using System.Diagnostics;
using System.Globalization;
using Microsoft.Playwright;
using ThermalTrace.Jobs;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Pages.Serving;
using ThermalTrace.Reports;
using ThermalTrace.Simulation;

namespace ThermalTrace.Benchmarks;

/// <summary>
/// How soon the page of the answer can be used after a debrief of 30 flights, and how soon a slider is answered: in a real browser, by the
/// browser's own clock, from the event to the changed document.
/// </summary>
internal static class PagesTiming
{
    private const int Flights = 30, Seed = 30, Debriefs = 5, Moves = 300, Drags = 20;

    // Notes when each part first stood; times are the wall's, so that the server's can be taken off.
    private const string Watch = """
        () => {
            const seen = window.seen = {};
            const look = () => {
                const now = performance.timeOrigin + performance.now();
                if (!seen.answer && document.querySelector("header.answer h1")) seen.answer = now;
                if (!seen.sliders && document.querySelector(".live-words b")?.textContent) seen.sliders = now;
                if (!seen.glides && document.querySelector(".dots .dot")) seen.glides = now;
                if (!seen.whole && document.querySelector("main #logs")) seen.whole = now;
            };
            new MutationObserver(look).observe(document, { subtree: true, childList: true, characterData: true });
        }
        """;

    // Moves a slider and waits for the answer to that very place.
    private const string Move = """
        ([id, value]) => new Promise((done, failed) => {
            const words = document.querySelector(".live-words"), slider = document.getElementById(id);
            const before = words.dataset.air, start = performance.now();
            const watch = new MutationObserver(() => {
                if (words.dataset.air !== before) {
                    watch.disconnect();
                    done(performance.now() - start);
                }
            });
            watch.observe(words, { attributes: true });
            setTimeout(() => failed(new Error("no answer")), 20000);
            slider.value = value;
            slider.dispatchEvent(new Event("input", { bubbles: true }));
        })
        """;

    // Drags a slider over its range, an event a frame: how long each answer was waited for, counted from the latest event before it.
    private const string Drag = """
        id => new Promise(done => {
            const words = document.querySelector(".live-words"), slider = document.getElementById(id);
            const events = new Map(), waits = [];
            let at = 0;
            const most = +slider.max, steps = 120;
            const watch = new MutationObserver(() => {
                const sent = events.get(+words.dataset.air.split("/")[0]);
                if (sent !== undefined) waits.push(performance.now() - sent);
                if (at > steps && +words.dataset.air.split("/")[0] === +slider.value) {
                    watch.disconnect();
                    done(waits);
                }
            });
            watch.observe(words, { attributes: true });
            const step = () => {
                if (at++ > steps) return;
                const before = slider.value;
                slider.value = most * (0.5 + 0.45 * Math.sin(at / steps * 2 * Math.PI + 1e-3));
                if (slider.value !== before) {
                    events.set(+slider.value, performance.now());
                    slider.dispatchEvent(new Event("input", { bubbles: true }));
                }
                requestAnimationFrame(step);
            };
            requestAnimationFrame(step);
        })
        """;

    public static async Task<int> RunAllAsync()
    {
        if (Environment.GetEnvironmentVariable("CHROMIUM") is not { Length: > 0 } chromium)
        {
            chromium = "/usr/bin/chromium";
        }
        if (!File.Exists(chromium))
        {
            await Console.Error.WriteLineAsync("Chromium is not installed; the variable CHROMIUM may name it");
            return 3;
        }
        string root = Directory.CreateTempSubdirectory("pages-timing-").FullName, folder = Path.Combine(root, "session");
        try
        {
            WriteSession(folder);
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{Environment.ProcessorCount} cores, {GC.GetGCMemoryInfo().TotalAvailableMemoryBytes >> 30} GiB, .NET {Environment.Version}; {Flights} simulated flights, seed {Seed}"));
            await using PagesServer server = await PagesServer.StartAsync(folder, Path.Combine(root, "logbook.sqlite"));
            using IPlaywright playwright = await Playwright.CreateAsync();
            await using IBrowser browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = chromium, Args = ["--no-sandbox"] });
            IPage page = await browser.NewPageAsync(new BrowserNewPageOptions { ViewportSize = new ViewportSize { Width = 1280, Height = 900 } });
            page.SetDefaultTimeout(300_000);
            await page.GotoAsync(server.Invite().AbsoluteUri);
            await page.Locator("main h1").WaitForAsync();
            await Interactive(page, server.Desk, $"http://127.0.0.1:{server.Port}/answer");
            await Sliders(page);
            Library(server.Desk.Debrief!);
        }
        finally
        {
            Directory.Delete(root, recursive: true);
        }
        return 0;
    }

    private static async Task Interactive(IPage page, FolderDesk desk, string address)
    {
        Console.WriteLine();
        Console.WriteLine("| ms after the end of the debrief | answer | sliders answer | glides | whole report | and a slider moved then answers | debrief itself, s |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- |");
        for (int i = 0; i < Debriefs; i++)
        {
            await page.GotoAsync("about:blank");
            ForgetDebrief(desk);
            await page.GotoAsync(address);
            ILocator button = page.GetByRole(AriaRole.Button, new() { Name = "Debrief" });
            await button.WaitForAsync();
            await page.EvaluateAsync(Watch);
            double? ended = null;
            FinishedDebrief? before = desk.Debrief;
            void Note() => ended ??= ReferenceEquals(desk.Debrief, before) ? null : DateTime.UtcNow.Subtract(DateTime.UnixEpoch).TotalMilliseconds;
            desk.Changed += Note;
            long start = Stopwatch.GetTimestamp();
            await button.ClickAsync();
            await page.Locator("main #logs").WaitForAsync(new() { State = WaitForSelectorState.Attached });
            await page.Locator(".live-words b").Filter(new() { HasText = "." }).WaitForAsync();
            string wind = await page.Locator("#live-wind").InputValueAsync();
            double moved = await page.EvaluateAsync<double>(Move, new object[] { "live-wind", Text(double.Parse(wind, CultureInfo.InvariantCulture) + 0.5) });
            double all = await page.EvaluateAsync<double>("() => performance.timeOrigin + performance.now()");
            desk.Changed -= Note;
            double took = ended!.Value - (DateTime.UtcNow.Subtract(DateTime.UnixEpoch).TotalMilliseconds - Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            string[] parts = ["answer", "sliders", "glides", "whole"];
            List<string> cells = [];
            foreach (string part in parts)
            {
                cells.Add(Text(Math.Round(await page.EvaluateAsync<double>($"() => window.seen.{part} ?? NaN") - ended.Value)));
            }
            Console.WriteLine($"| {(i == 0 ? "first, compiling included" : "again")} | {string.Join(" | ", cells)} | {Text(Math.Round(all - ended.Value))} (own {Text(Math.Round(moved))}) | {Text(Math.Round(took / 1000, 1))} |");
        }
    }

    /// <summary>As if the program had just been started.</summary>
    private static void ForgetDebrief(FolderDesk desk) => typeof(FolderDesk).GetProperty(nameof(FolderDesk.Debrief))!.SetValue(desk, null);

    private static async Task Sliders(IPage page)
    {
        Console.WriteLine();
        Console.WriteLine("| ms | median | 95 % | most | events |");
        Console.WriteLine("| --- | --- | --- | --- | --- |");
        Random random = new(Seed);
        foreach ((string id, string name, double most, double step) in ((string, string, double, double)[])[("live-wind", "wind", 12, 0.1), ("live-lift", "lift", 4, 0.1), ("live-turbulence", "turbulence", 0.5, 0.01)])
        {
            List<double> times = [];
            string last = await page.Locator("#" + id).InputValueAsync();
            while (times.Count < Moves)
            {
                string next = Text(Math.Round(random.Next((int)Math.Round(most / step) + 1) * step, 2));
                if (next != last)
                {
                    times.Add(await page.EvaluateAsync<double>(Move, new object[] { id, next }));
                    last = next;
                }
            }
            Row($"slider event to changed page, {name}", times);
        }
        List<double> dragged = [];
        for (int i = 0; i < Drags; i++)
        {
            dragged.AddRange(await page.EvaluateAsync<double[]>(Drag, "live-wind"));
        }
        Row("the same while the wind is dragged, an event each frame", dragged);
    }

    private static void Library(FinishedDebrief debrief)
    {
        long start = Stopwatch.GetTimestamp();
        LiveAdvice live = LiveAdvice.From(debrief.Airframe, debrief.Result.Document);
        double prepared = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
        List<double> answers = [], drawings = [];
        Random random = new(Seed);
        for (int i = 0; i < Moves; i++)
        {
            LiveConditions air = new(12 * random.NextDouble(), 4 * random.NextDouble(), 0.5 * random.NextDouble());
            start = Stopwatch.GetTimestamp();
            ComparisonEntry answer = live.Answer(air);
            answers.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            start = Stopwatch.GetTimestamp();
            ReportContents.Answer(debrief.Result.Document, answer);
            drawings.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
        }
        Row("of it the comparison", answers);
        Row("of it words, picture and table", drawings);
        Console.WriteLine();
        Console.WriteLine($"Made ready once a debrief: {Text(Math.Round(prepared))} ms.");
    }

    private static void WriteSession(string folder)
    {
        Directory.CreateDirectory(folder);
        SimulatedSession session = Simulator.Run(new SimulationOptions { Seed = Seed, Flights = Flights });
        File.WriteAllText(Path.Combine(folder, "airframe.json"), session.AirframeJson);
        File.WriteAllText(Path.Combine(folder, "flights.csv"), session.FlightsCsv);
        foreach (SimulatedFile log in session.Logs)
        {
            File.WriteAllBytes(Path.Combine(folder, log.FileName), log.Bytes);
        }
    }

    private static void Row(string name, List<double> times)
    {
        times.Sort();
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {name} | {times[times.Count / 2]:0.0} | {times[(int)(0.95 * (times.Count - 1))]:0.0} | {times[^1]:0.0} | {times.Count} |"));
    }

    private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}

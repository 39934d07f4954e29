using System.Diagnostics;
using System.Globalization;
using Microsoft.Playwright;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Pages.Serving;
using ThermalTrace.Simulation;

namespace ThermalTrace.Benchmarks;

/// <summary>How soon the list of 30 flights stands, by itself and in a real browser, and how soon a boundary that was moved is seen anew.</summary>
internal static class FlightsTiming
{
    private const int Flights = 30, Seed = 30, Times = 5;

    public static async Task<int> RunAllAsync()
    {
        string chromium = Environment.GetEnvironmentVariable("CHROMIUM") is { Length: > 0 } named ? named : "/usr/bin/chromium";
        string root = Directory.CreateTempSubdirectory("flights-timing-").FullName, folder = Directory.CreateDirectory(Path.Combine(root, "session")).FullName;
        try
        {
            SimulatedSession session = Simulator.Run(new SimulationOptions { Seed = Seed, Flights = Flights });
            File.WriteAllText(Path.Combine(folder, "airframe.json"), session.AirframeJson);
            File.WriteAllText(Path.Combine(folder, "flights.csv"), session.FlightsCsv);
            foreach (SimulatedFile log in session.Logs)
            {
                File.WriteAllBytes(Path.Combine(folder, log.FileName), log.Bytes);
            }
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Environment.ProcessorCount} cores, .NET {Environment.Version}; {Flights} simulated flights in {session.Logs.Count} logs, seed {Seed}"));
            Console.WriteLine("| ms | reading the logs | looking at the flights | a boundary moved, saved | and seen anew | a wind |");
            Console.WriteLine("| --- | --- | --- | --- | --- | --- |");
            for (int i = 0; i < Times; i++)
            {
                using FolderDesk desk = new(folder);
                double read = await Took(() => desk.ReadAsync("Reading"));
                using FlightDesk flights = new(desk);
                ShownFlights shown = null!;
                double look = await Took(async () => shown = await flights.LookAsync());
                ShownFlight flight = shown.Flights[4];
                double moved = await Took(() => flights.MoveAsync(flight, 1, flight.Entry.Launch!.EndS + 1));
                double again = await Took(() => flights.LookAsync());
                double wind = await Took(() => flights.WindAsync(flight));
                await desk.UndoAsync();
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {(i == 0 ? "first, compiling included" : "again")} | {read:0} | {look:0} | {moved:0} | {again:0} | {wind:0} |"));
            }
            if (File.Exists(chromium))
            {
                await InBrowser(folder, Path.Combine(root, "logbook.sqlite"), chromium);
            }
        }
        finally
        {
            Directory.Delete(root, recursive: true);
        }
        return 0;
    }

    private static async Task InBrowser(string folder, string logbook, string chromium)
    {
        await using PagesServer server = await PagesServer.StartAsync(folder, logbook);
        using IPlaywright playwright = await Playwright.CreateAsync();
        await using IBrowser browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = chromium, Args = ["--no-sandbox"] });
        IPage page = await browser.NewPageAsync(new BrowserNewPageOptions { ViewportSize = new ViewportSize { Width = 1280, Height = 900 } });
        await page.GotoAsync(server.Invite().AbsoluteUri);
        await page.Locator("main h1").WaitForAsync();
        Console.WriteLine();
        Console.WriteLine("| ms in the browser, from the click | the list of flights | a flight's trace |");
        Console.WriteLine("| --- | --- | --- |");
        for (int i = 0; i < Times; i++)
        {
            double list = await Took(async () =>
            {
                await page.Locator("nav.desk-pages a").Nth(1).ClickAsync();
                await page.Locator($"#ballast-{Flights}").WaitForAsync();
            });
            double flight = await Took(async () =>
            {
                await page.Locator("#flight-7 .flight-name").ClickAsync();
                await page.Locator(".trace svg").WaitForAsync();
            });
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {(i == 0 ? "first" : "again")} | {list:0} | {flight:0} |"));
        }
    }

    private static async Task<double> Took(Func<Task> work)
    {
        long start = Stopwatch.GetTimestamp();
        await work();
        return Stopwatch.GetElapsedTime(start).TotalMilliseconds;
    }
}

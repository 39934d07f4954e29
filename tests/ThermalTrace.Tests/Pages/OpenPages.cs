using Microsoft.Playwright;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Pages.Serving;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Pages;

/// <summary>The pages of a folder, served, and open in a real browser with everything it complains of.</summary>
internal sealed class OpenPages : IAsyncDisposable
{
    // Far longer than anything takes on a busy machine: a test that fails by it has hung.
    private const float PatienceMs = 60_000;

    private readonly List<IBrowserContext> _contexts = [];
    private readonly Chromium _chromium;

    private OpenPages(Chromium chromium, TempFolder folder, PagesServer server) => (_chromium, Files, Server) = (chromium, folder, server);

    /// <summary>The test's own corner of the disk, the session in it.</summary>
    public TempFolder Files { get; }

    public string Folder => Files.Session;

    public PagesServer Server { get; }

    public FolderDesk Desk => Server.Desk;

    /// <summary>The first browser's page.</summary>
    public IPage Page { get; private set; } = null!;

    /// <summary>Errors and warnings of the consoles, and errors of the scripts.</summary>
    public List<string> Complaints { get; } = [];

    /// <summary>Serves what is in a folder's session and opens it.</summary>
    public static async Task<OpenPages> Of(Chromium chromium, TempFolder files, int widthPx = 1280, ColorScheme scheme = ColorScheme.Light)
    {
        Directory.CreateDirectory(files.Session);
        PagesServer server = await PagesServer.StartAsync(files.Session, Path.Combine(files.Root, "logbook.sqlite"));
        OpenPages pages = new(chromium, files, server);
        pages.Page = await pages.Another(widthPx, scheme);
        return pages;
    }

    /// <summary>A copy of a folder, served and open.</summary>
    public static Task<OpenPages> OfCopy(Chromium chromium, string folder, int widthPx = 1280, ColorScheme scheme = ColorScheme.Light)
    {
        TempFolder files = new();
        Directory.CreateDirectory(files.Session);
        foreach (string file in Directory.EnumerateFiles(folder))
        {
            File.Copy(file, Path.Combine(files.Session, Path.GetFileName(file)));
        }
        return Of(chromium, files, widthPx, scheme);
    }

    /// <summary>Another browser, let in by an address of its own.</summary>
    public async Task<IPage> Another(int widthPx = 1280, ColorScheme scheme = ColorScheme.Light)
    {
        IBrowserContext context = await _chromium.Browser.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = widthPx, Height = 900 },
            ColorScheme = scheme,
            AcceptDownloads = true,
        });
        _contexts.Add(context);
        context.SetDefaultTimeout(PatienceMs);
        IPage page = await context.NewPageAsync();
        page.Console += (_, m) =>
        {
            if (m.Type is "error" or "warning")
            {
                Complaints.Add(m.Text);
            }
        };
        page.PageError += (_, e) => Complaints.Add(e);
        await page.GotoAsync(Server.Invite().AbsoluteUri);
        await page.Locator("main h1").WaitForAsync();
        return page;
    }

    /// <summary>Goes to one of the pages and waits until it stands.</summary>
    public async Task Show(string address)
    {
        await Page.GotoAsync($"http://127.0.0.1:{Server.Port}/{address}");
        await Page.Locator("main h1").WaitForAsync();
    }

    /// <summary>Keeps a picture where the variable PICTURES names a folder, for a person to look at.</summary>
    public static async Task Picture(IPage page, string name, bool whole = true)
    {
        if (Environment.GetEnvironmentVariable("PICTURES") is { Length: > 0 } folder)
        {
            await page.ScreenshotAsync(new PageScreenshotOptions { Path = Path.Combine(folder, name + ".png"), FullPage = whole });
        }
    }

    /// <summary>True where the page is wider than its window, so that a phone would scroll it sideways.</summary>
    public static Task<bool> IsTooWide(IPage page) => page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > document.documentElement.clientWidth");

    public async ValueTask DisposeAsync()
    {
        foreach (IBrowserContext context in _contexts)
        {
            await context.DisposeAsync();
        }
        await Server.DisposeAsync();
        Files.Dispose();
    }
}

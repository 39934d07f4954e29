using Microsoft.Playwright;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Reports.Card;

/// <summary>A card opened from a file in a real browser, with everything it asks for and complains of.</summary>
internal sealed class OpenCard : IAsyncDisposable
{
    private readonly TempFolder _folder;
    private readonly IBrowserContext _context;

    private OpenCard(TempFolder folder, IBrowserContext context, IPage page) => (_folder, _context, Page) = (folder, context, page);

    public IPage Page { get; }

    /// <summary>Requests beyond the file itself.</summary>
    public List<string> Requests { get; } = [];

    /// <summary>Errors and warnings of the console, and errors of the script.</summary>
    public List<string> Complaints { get; } = [];

    public static async Task<OpenCard> At(Chromium chromium, int widthPx = 390, ColorScheme scheme = ColorScheme.Light, bool scripts = true, string? before = null)
    {
        TempFolder folder = new();
        string file = folder.Write("card.html", ExampleCard.Page);
        IBrowserContext context = await chromium.Browser.NewContextAsync(new BrowserNewContextOptions
        {
            ViewportSize = new ViewportSize { Width = widthPx, Height = 844 },
            ColorScheme = scheme,
            JavaScriptEnabled = scripts,
            TimezoneId = "Europe/Oslo",
            AcceptDownloads = true,
        });
        IPage page = await context.NewPageAsync();
        OpenCard card = new(folder, context, page);
        string address = new Uri(file).AbsoluteUri;
        page.Request += (_, r) =>
        {
            if (r.Url.Split('#')[0] != address)
            {
                card.Requests.Add(r.Url);
            }
        };
        page.Console += (_, m) =>
        {
            if (m.Type is "error" or "warning")
            {
                card.Complaints.Add(m.Text);
            }
        };
        page.PageError += (_, e) => card.Complaints.Add(e);
        if (scripts)
        {
            await page.Clock.InstallAsync(new ClockInstallOptions { TimeDate = new DateTime(2026, 6, 14, 8, 5, 20, DateTimeKind.Utc) });
        }
        if (before is not null)
        {
            await page.AddInitScriptAsync(before);
        }
        await page.GotoAsync(address);
        return card;
    }

    /// <summary>Opens a view.</summary>
    public Task Show(string view) => Page.Locator($"nav [data-view={view}]").ClickAsync();

    public async ValueTask DisposeAsync()
    {
        await _context.DisposeAsync();
        _folder.Dispose();
    }
}

using Microsoft.Playwright;

namespace ThermalTrace.Tests.Support;

/// <summary>A test in a real browser. Where there is none the test is skipped, visibly.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class ChromiumFactAttribute : FactAttribute
{
    /// <summary>Skips where <see cref="Chromium"/> found nothing.</summary>
    public ChromiumFactAttribute()
    {
        if (Chromium.Path is null)
        {
            Skip = Chromium.Missing;
        }
    }
}

/// <summary>The same for a theory.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class ChromiumTheoryAttribute : TheoryAttribute
{
    /// <summary>Skips where <see cref="Chromium"/> found nothing.</summary>
    public ChromiumTheoryAttribute()
    {
        if (Chromium.Path is null)
        {
            Skip = Chromium.Missing;
        }
    }
}

/// <summary>One browser for all tests that ask for it.</summary>
public sealed class Chromium : IAsyncLifetime
{
    /// <summary>Why tests are skipped.</summary>
    public const string Missing = "Chromium is not installed (looked for in the variable CHROMIUM and on the path)";

    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <summary>The program, or null.</summary>
    public static string? Path { get; } = Find();

    /// <summary>The browser; only for tests that are not skipped.</summary>
    public IBrowser Browser => _browser ?? throw new InvalidOperationException(Missing);

    /// <inheritdoc/>
    public async Task InitializeAsync()
    {
        if (Path is null)
        {
            return;
        }
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = Path, Args = ["--no-sandbox"] });
    }

    /// <inheritdoc/>
    public async Task DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }
        _playwright?.Dispose();
    }

    private static string? Find()
    {
        string[] names = ["chromium", "chromium-browser"];
        IEnumerable<string> folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(System.IO.Path.PathSeparator, StringSplitOptions.RemoveEmptyEntries);
        IEnumerable<string> places = folders.SelectMany(folder => names.Select(name => System.IO.Path.Combine(folder, name)));
        return new[] { Environment.GetEnvironmentVariable("CHROMIUM") ?? "" }.Concat(places).FirstOrDefault(File.Exists);
    }
}

/// <summary>Tests that share the browser, one after the other.</summary>
[CollectionDefinition(Name)]
public sealed class ChromiumTests : ICollectionFixture<Chromium>
{
    /// <summary>Of the collection.</summary>
    public const string Name = "Chromium";
}

using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>A real browser without a window; tests that want one skip where it is not installed.</summary>
public sealed class Chromium : IAsyncDisposable
{
    private const string Usual = "/usr/bin/chromium";

    private readonly IPlaywright _playwright;
    private readonly IBrowser _browser;

    private Chromium(IPlaywright playwright, IBrowser browser) => (_playwright, _browser) = (playwright, browser);

    /// <summary>Where it is.</summary>
    public static string Path => Environment.GetEnvironmentVariable("CHROMIUM") ?? Usual;

    public static bool IsInstalled => File.Exists(Path);

    public static async Task<Chromium> StartAsync()
    {
        var playwright = await Playwright.CreateAsync();
        var browser = await playwright.Chromium.LaunchAsync(new() { ExecutablePath = Path, Args = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"] });
        return new Chromium(playwright, browser);
    }

    /// <summary>A window of its own, as if nobody had been there before.</summary>
    public Task<IBrowserContext> WindowAsync(Screen screen) => _browser.NewContextAsync(new()
    {
        ViewportSize = new() { Width = screen.Width, Height = screen.Height },
        ColorScheme = screen.IsDark ? ColorScheme.Dark : ColorScheme.Light,
        TimezoneId = "Europe/Madrid",
        Locale = "en-GB",
    });

    public async ValueTask DisposeAsync()
    {
        await _browser.DisposeAsync();
        _playwright.Dispose();
    }
}

/// <summary>How a page is looked at.</summary>
public sealed record Screen(int Width, int Height, bool IsDark)
{
    public static Screen Desk { get; } = new(1440, 900, false);

    public static Screen Hand { get; } = new(390, 844, false);

    /// <summary>On the desk and in the hand, light and dark.</summary>
    public static IEnumerable<Screen> All => [Desk, Desk with { IsDark = true }, Hand, Hand with { IsDark = true }];

    public override string ToString() => $"{Width}x{Height}-{(IsDark ? "dark" : "light")}";
}

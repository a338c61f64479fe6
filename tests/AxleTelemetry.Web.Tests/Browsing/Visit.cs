using System.Collections.Concurrent;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>One page looked at. Whatever the browser complains of fails the test: a report of the content security policy, an error on the console, a fault of a script, a file that is missing.</summary>
public sealed class Visit : IAsyncDisposable
{
    private const float Deadline = 30_000;

    private readonly IBrowserContext _window;
    private readonly ConcurrentQueue<string> _faults = [];

    // What is waited for comes or does not: how soon is no matter of a test.
    static Visit() => Assertions.SetDefaultExpectTimeout(Deadline);

    private Visit(IBrowserContext window, IPage page)
    {
        (_window, Page) = (window, page);
        page.Console += (_, said) =>
        {
            if (said.Type is "error" or "warning") _faults.Enqueue($"{said.Type}: {said.Text}");
        };
        page.PageError += (_, fault) => _faults.Enqueue(fault);
        page.RequestFailed += (_, failed) => _faults.Enqueue($"{failed.Url}: {failed.Failure}");
        page.Response += (_, answer) =>
        {
            if (answer.Status >= 400) _faults.Enqueue($"{answer.Url}: {answer.Status}");
        };
        page.SetDefaultTimeout(Deadline);
    }

    public IPage Page { get; }

    public static async Task<Visit> BeginAsync(Chromium browser, Screen screen)
    {
        var window = await browser.WindowAsync(screen);
        await window.AddInitScriptAsync("addEventListener('securitypolicyviolation', e => console.error('policy: ' + e.violatedDirective + ' ' + e.blockedURI + ' ' + e.sample))");
        return new Visit(window, await window.NewPageAsync());
    }

    /// <summary>Goes to an address, and waits until it is alive.</summary>
    public async Task GoAsync(string address)
    {
        await Page.GotoAsync(address);
        await AliveAsync();
    }

    /// <summary>Waits until the page answers to presses.</summary>
    public Task AliveAsync() => Page.WaitForFunctionAsync("() => document.documentElement.dataset.alive === 'yes'");

    /// <summary>Waits until every drawing of the page is drawn.</summary>
    public Task DrawnAsync() => Page.WaitForFunctionAsync("() => [...document.querySelectorAll('[data-ready]')].every(e => e.dataset.ready === 'true') && [...document.querySelectorAll('.grid-frame table')].every(t => t.querySelector('tbody tr[aria-rowindex]') && !t.querySelector('.grid-cell-placeholder'))");

    /// <summary>What was complained of.</summary>
    public string[] Faults => [.. _faults];

    public Task PictureAsync(string name, bool whole = false) => Page.ScreenshotAsync(new() { Path = FileOf(name, "png"), FullPage = whole });

    /// <summary>A file beside the pictures.</summary>
    public string FileOf(string name, string kind)
    {
        var directory = Directory.CreateDirectory(Environment.GetEnvironmentVariable("SCREENS") ?? Path.Combine(AppContext.BaseDirectory, "screens"));
        return Path.Combine(directory.FullName, $"{Regex.Replace(name, "[^A-Za-z0-9-]", "-")}.{kind}");
    }

    public async ValueTask DisposeAsync()
    {
        // What a page still fetches when its window is closed has not failed.
        var faults = Faults;
        await _window.CloseAsync();
        Assert.Empty(faults);
    }
}

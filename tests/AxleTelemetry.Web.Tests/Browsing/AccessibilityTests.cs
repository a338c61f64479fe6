using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>Every page by the rules of WCAG 2.2 AA as far as a program can judge them (axe-core), light and dark.</summary>
[Collection(DemonstrationTests.Name)]
public sealed class AccessibilityTests(Demonstration demonstration)
{
    private static readonly AxeRunOptions Rules = new() { RunOnly = new() { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] } };

    [Theory]
    [MemberData(nameof(ScreenTests.Pages), MemberType = typeof(ScreenTests))]
    public async Task No_page_violates_a_rule(string page)
    {
        foreach (var screen in Screen.All)
        {
            await using var visit = await demonstration.VisitAsync(page, screen);
            await visit.DrawnAsync();
            await ExpectNoViolationAsync(visit, screen);
        }
    }

    /// <summary>Fails with every rule that a page violates as it stands.</summary>
    internal static async Task ExpectNoViolationAsync(Visit visit, Screen screen)
    {
        var found = await visit.Page.RunAxe(Rules);
        Assert.True(found.Violations.Length == 0, string.Join('\n', found.Violations.Select(v => $"{screen}: {v.Id}: {v.Help}: {string.Join("; ", v.Nodes.Take(3).Select(n => $"{n.Html} {string.Join(' ', n.Any.Select(a => a.Message))}"))}")));
    }
}

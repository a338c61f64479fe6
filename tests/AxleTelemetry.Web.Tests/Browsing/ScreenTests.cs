namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>Pictures of every page, to be looked at; and nothing runs over the edge.</summary>
[Collection(DemonstrationTests.Name)]
public sealed class ScreenTests(Demonstration demonstration)
{
    public static TheoryData<string> Pages { get; } = new("/now", "/vehicles", "/vehicle/tilvane/TTP-001", "/vehicle/ostrel/OTR-001", "/planner?vehicle=ostrel/OTR-001", "/register");

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task Every_page_fits_on_the_desk_and_in_the_hand_light_and_dark(string page)
    {
        foreach (var screen in Screen.All)
        {
            await using var visit = await demonstration.VisitAsync(page, screen);
            await visit.DrawnAsync();
            await visit.PictureAsync($"{page.Trim('/')}-{screen}", whole: page.StartsWith("/vehicle/", StringComparison.Ordinal) || page.StartsWith("/planner", StringComparison.Ordinal));
            Assert.True(await visit.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth <= innerWidth"), $"{page} is wider than {screen}.");
        }
    }
}

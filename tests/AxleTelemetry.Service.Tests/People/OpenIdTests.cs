using System.Net;
using AxleTelemetry.Web.Accounts;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>People who come by a provider of OpenID Connect: held against OpenIddict's server, so against another's reading of OpenID Connect Core 1.0 and RFC 7636.</summary>
public sealed class OpenIdTests
{
    [Fact]
    public async Task Who_is_known_there_comes_in_with_the_roles_that_it_gives_each_time()
    {
        await using var provider = await Provider.OpenAsync();
        await using var door = await ServedDoor.OpenAsync(provider.In);
        using var browser = door.Browser();
        Assert.Contains("Sign in with the house", (await browser.GoAsync("/sign-in")).Text, StringComparison.Ordinal);
        Assert.Equal("/vehicles", await ComeAsync(browser, "/vehicles"));
        Assert.Equal(HttpStatusCode.OK, (await browser.GoAsync("/vehicles")).Status);
        Assert.Equal("/not-allowed", new Uri((await browser.GoAsync("/set-up/people")).Location).AbsolutePath);

        // The same person under another name and with more there.
        provider.Next = ("17", "mira.new", ["masters", "dispatch"]);
        using var other = door.Browser();
        await ComeAsync(other, "/now");
        var people = await other.GoAsync("/set-up/people");
        Assert.Equal(HttpStatusCode.OK, people.Status);
        Assert.Contains("by the house", people.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("mira.new", people.Text, StringComparison.Ordinal);
        // An administrator who comes by it is one: no further link is made.
        Assert.Null(await door.FirstLinkAsync());
        Assert.Equal([("person_added", "", "mira"), ("roles_set", "", "mira"), ("signed_in", "mira", "mira"), ("roles_set", "", "mira"), ("signed_in", "mira", "mira")], await door.EventsAsync());
        // Where he sat with other roles he is out.
        door.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(HttpStatusCode.Redirect, (await browser.GoAsync("/vehicles")).Status);
    }

    [Fact]
    public async Task Who_has_no_role_no_name_or_anothers_name_does_not_come_in()
    {
        await using var provider = await Provider.OpenAsync();
        await using var door = await ServedDoor.OpenAsync(provider.In);
        using var ada = await door.AdministratorAsync();
        await RefusedAsync("1", "eve", ["kitchen"], "gives a role");
        await RefusedAsync("2", "a b", ["dispatch"], "holds no name");
        await RefusedAsync("3", null, ["dispatch"], "holds no name");
        await RefusedAsync("4", "ADA", ["masters"], "Somebody else has your name");

        provider.Next = ("17", "mira", ["dispatch"]);
        using var mira = door.Browser();
        await ComeAsync(mira, "/now");
        var people = (await ada.GoAsync("/set-up/people")).Text;
        await ada.SubmitAsync("/set-up/people", $"lock-{People.Id(people, "lock", "mira")}");
        await RefusedAsync("17", "mira", ["dispatch"], "has locked your account");
        Assert.Equal(5, (await door.EventsAsync()).Count(e => e.What == "sign_in_failed"));

        async Task RefusedAsync(string number, string? name, string[] groups, string told)
        {
            provider.Next = (number, name, groups);
            using var browser = door.Browser();
            var back = await ComeAsync(browser, "/now");
            Assert.StartsWith("/sign-in?why=", back, StringComparison.Ordinal);
            Assert.Contains(told, (await browser.GoAsync(back)).Text, StringComparison.Ordinal);
            Assert.Equal(HttpStatusCode.Redirect, (await browser.GoAsync("/now")).Status);
        }
    }

    [Fact]
    public async Task An_answer_that_nobody_asked_for_or_that_another_asked_for_is_not_taken()
    {
        await using var provider = await Provider.OpenAsync();
        await using var door = await ServedDoor.OpenAsync(provider.In);
        using var victim = door.Browser();
        using var thief = door.Browser();
        var answer = await Provider.FollowAsync((await thief.GoAsync("/sign-in/elsewhere")).Location);
        foreach (var path in (string[])[answer.PathAndQuery, "/sign-in/open-id?code=made-up&state=made-up", "/sign-in/open-id", "/sign-in/entered?back=/now"])
        {
            var taken = await victim.GoAsync(path);
            Assert.Equal("/sign-in?why=Failed", new Uri(door.Address, taken.Location).PathAndQuery);
        }

        Assert.Equal(HttpStatusCode.Redirect, (await victim.GoAsync("/now")).Status);
        // A way back that leads elsewhere is none.
        Assert.Equal("/", await ComeAsync(thief, "//elsewhere.example/"));
    }

    [Fact]
    public async Task A_provider_that_is_away_says_so_and_passwords_go_on()
    {
        var provider = await Provider.OpenAsync();
        await using var door = await ServedDoor.OpenAsync(provider.In);
        await provider.DisposeAsync();
        using var ada = await door.AdministratorAsync();
        using var browser = door.Browser();
        var away = await browser.GoAsync("/sign-in/elsewhere");
        Assert.Equal("/sign-in?why=Away", new Uri(door.Address, away.Location).PathAndQuery);
        Assert.Contains("cannot be reached", (await browser.GoAsync("/sign-in?why=Away")).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Redirect, (await browser.SignInAsync(ServedDoor.Administrator, ServedDoor.Password)).Status);
        Assert.DoesNotContain(Provider.ClientSecret, door.Log, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Who_keeps_looking_is_asked_for_there_again_after_twelve_hours()
    {
        await using var provider = await Provider.OpenAsync();
        await using var door = await ServedDoor.OpenAsync(provider.In);
        using var ada = await door.AdministratorAsync();
        using var mira = door.Browser();
        await ComeAsync(mira, "/now");
        for (var hour = 0; hour < 11; hour++)
        {
            door.Clock.Advance(TimeSpan.FromHours(1));
            Assert.Equal(HttpStatusCode.OK, (await mira.GoAsync("/vehicles")).Status);
            Assert.Equal(HttpStatusCode.OK, (await ada.GoAsync("/vehicles")).Status);
        }

        door.Clock.Advance(TimeSpan.FromHours(1));
        Assert.Equal("/sign-in", new Uri((await mira.GoAsync("/vehicles")).Location).AbsolutePath);
        // Who has a password here has nobody there to be asked.
        Assert.Equal(HttpStatusCode.OK, (await ada.GoAsync("/vehicles")).Status);
    }

    [Fact]
    public async Task Made_up_answers_are_taken_ten_times_a_minute_from_one_place()
    {
        await using var provider = await Provider.OpenAsync();
        await using var door = await ServedDoor.OpenAsync(provider.In);
        using var stranger = door.Browser();
        for (var i = 0; i < 40; i++) await stranger.GoAsync("/sign-in/open-id?error=made-up");
        Assert.Equal(HttpStatusCode.TooManyRequests, (await stranger.GoAsync("/sign-in/open-id?error=made-up")).Status);
        // The minute may turn meanwhile.
        Assert.InRange((await door.EventsAsync()).Length, 10, 20);
    }

    [Fact]
    public async Task Who_comes_by_it_gets_no_password_here_and_is_no_administrator_once_it_is_gone()
    {
        await using var provider = await Provider.OpenAsync();
        await using var door = await ServedDoor.OpenAsync(provider.In);
        provider.Next = ("17", "mira", ["masters"]);
        using var mira = door.Browser();
        await ComeAsync(mira, "/set-up/people");
        var page = (await mira.GoAsync("/set-up/people")).Text;
        var refused = await mira.SubmitAsync("/set-up/people", $"link-{People.Id(page, "link", "mira")}");
        Assert.Contains("comes by the house: its password is there", refused.Text, StringComparison.Ordinal);
        Assert.Null(await door.FirstLinkAsync());

        await using var without = await door.AgainAsync();
        Assert.NotNull(await without.FirstLinkAsync());
    }

    [Fact]
    public async Task A_slash_at_the_end_of_the_issuer_in_the_settings_makes_nobody_a_stranger()
    {
        await using var provider = await Provider.OpenAsync();
        await using var door = await ServedDoor.OpenAsync(provider.In);
        provider.Next = ("17", "mira", ["masters"]);
        using var mira = door.Browser();
        Assert.Equal("/now", await ComeAsync(mira, "/now"));

        await using var slashed = await door.AgainAsync(provider.InWithSlash);
        using var again = slashed.Browser();
        Assert.Equal("/now", await ComeAsync(again, "/now"));
        Assert.Null(await slashed.FirstLinkAsync());

        // As it was kept before: with the slash.
        await KeepWithSlashAsync(slashed, provider, "mira");
        using var once = slashed.Browser();
        Assert.Equal("/now", await ComeAsync(once, "/now"));
        Assert.Null(await slashed.FirstLinkAsync());
        Assert.Single(await slashed.EventsAsync(), e => e.What == "person_added");
    }

    private static async Task KeepWithSlashAsync(ServedDoor door, Provider provider, string name)
    {
        await using var scope = door.App.Services.CreateAsyncScope();
        var people = scope.ServiceProvider.GetRequiredService<UserManager<Person>>();
        var person = (await people.FindByNameAsync(name))!;
        Assert.True((await people.RemoveLoginAsync(person, $"{provider.Address}", provider.Next.Number)).Succeeded);
        Assert.True((await people.AddLoginAsync(person, new UserLoginInfo($"{provider.Address}/", provider.Next.Number, ""))).Succeeded);
    }

    // There by the link, back by the redirect, in by what was said: gives where he is led to then.
    private static async Task<string> ComeAsync(Browser browser, string back)
    {
        var there = await browser.GoAsync($"/sign-in/elsewhere?back={Uri.EscapeDataString(back)}");
        Assert.Equal(HttpStatusCode.Redirect, there.Status);
        Assert.Contains("code_challenge_method=S256", there.Location, StringComparison.Ordinal);
        var returned = await browser.GoAsync((await Provider.FollowAsync(there.Location)).PathAndQuery);
        var entered = await browser.GoAsync(PathOf(returned.Location));
        Assert.Equal(HttpStatusCode.Redirect, entered.Status);
        return PathOf(entered.Location);
    }

    private static string PathOf(string location) => Uri.TryCreate(location, UriKind.Absolute, out var whole) && !whole.IsFile ? whole.PathAndQuery : location;
}

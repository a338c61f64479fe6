using System.Net;
using AxleTelemetry.Web.Accounts;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>What an administrator does, and what it does to others.</summary>
public sealed class PeoplePageTests
{
    private const string Page = "/set-up/people";

    [Fact]
    public async Task Somebody_is_added_comes_in_by_the_link_and_may_what_his_roles_may()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        using var bo = await AddAsync(door, ada, "bo", "controller");
        Assert.Equal(HttpStatusCode.OK, (await bo.GoAsync("/now")).Status);
        var refused = await bo.GoAsync(Page);
        Assert.Equal((HttpStatusCode.Redirect, "/not-allowed"), (refused.Status, new Uri(refused.Location).AbsolutePath));
        Assert.Equal(HttpStatusCode.Forbidden, (await bo.GoAsync("/not-allowed")).Status);
        Assert.DoesNotContain("href=\"/set-up\"", (await bo.GoAsync("/now")).Text, StringComparison.Ordinal);
        Assert.Equal([("person_added", "ada", "bo"), ("link_made", "ada", "bo"), ("password_set_by_link", "bo", "bo"), ("signed_in", "bo", "bo")], (await door.EventsAsync())[2..]);
    }

    [Fact]
    public async Task Roles_that_were_taken_away_are_gone_within_a_minute()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        using var bo = await AddAsync(door, ada, "bo", "administrator");
        Assert.Equal(HttpStatusCode.OK, (await bo.GoAsync(Page)).Status);
        var id = People.Id((await ada.GoAsync(Page)).Text, "roles", "bo");
        await ada.SubmitAsync(Page, $"roles-{id}", ("role", "viewer"));
        Assert.Contains(("roles_set", "ada", "bo"), await door.EventsAsync());
        door.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(HttpStatusCode.Redirect, (await bo.GoAsync(Page)).Status);
        await bo.SignInAsync("bo", ServedDoor.Password);
        Assert.Equal(HttpStatusCode.OK, (await bo.GoAsync("/now")).Status);
        Assert.Equal("/not-allowed", new Uri((await bo.GoAsync(Page)).Location).AbsolutePath);
    }

    [Fact]
    public async Task Who_is_locked_is_out_within_a_minute_and_does_not_come_in_by_password_nor_link()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        using var bo = await AddAsync(door, ada, "bo", "viewer");
        var id = People.Id((await ada.GoAsync(Page)).Text, "lock", "bo");
        var link = People.Once((await ada.SubmitAsync(Page, $"link-{id}")).Text);
        Assert.Contains("locked", (await ada.SubmitAsync(Page, $"lock-{id}")).Text, StringComparison.Ordinal);
        door.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(HttpStatusCode.Redirect, (await bo.GoAsync("/now")).Status);
        Assert.Equal(HttpStatusCode.OK, (await bo.SignInAsync("bo", ServedDoor.Password)).Status);
        Assert.Contains("holds no more", (await bo.GoAsync(new Uri(link).PathAndQuery)).Text, StringComparison.Ordinal);
        await ada.SubmitAsync(Page, $"unlock-{id}");
        Assert.Equal(HttpStatusCode.Redirect, (await bo.SignInAsync("bo", ServedDoor.Password)).Status);
        Assert.Equal(["locked", "unlocked"], (await door.EventsAsync()).Where(e => e.What.EndsWith("locked", StringComparison.Ordinal)).Select(e => e.What));
    }

    [Fact]
    public async Task The_last_administrator_stays_one()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        var id = People.Id((await ada.GoAsync(Page)).Text, "lock", "ada");
        foreach (var (form, fields) in ((string, (string, string)[])[])[($"lock-{id}", []), ($"roles-{id}", [("role", "viewer")])])
            Assert.Contains("last administrator", (await ada.SubmitAsync(Page, form, fields)).Text, StringComparison.Ordinal);
        // One who was added and has not come in yet could not unlock anybody.
        await ada.SubmitAsync(Page, "add-person", ("name", "bo"), ("role", "administrator"));
        Assert.Contains("last administrator", (await ada.SubmitAsync(Page, $"lock-{id}")).Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "viewer", "A name has")]
    [InlineData("bo bo", "viewer", "A name has")]
    [InlineData("Ada", "viewer", "already taken")]
    [InlineData("bo", "", "at least one role")]
    [InlineData("bo", "king", "at least one role")]
    public async Task What_cannot_be_added_says_why(string name, string role, string why)
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        Assert.Contains(why, (await ada.SubmitAsync(Page, "add-person", ("name", name), ("role", role))).Text, StringComparison.Ordinal);
        Assert.DoesNotContain((await door.EventsAsync()), e => e.What == "person_added");
    }

    [Fact]
    public async Task A_token_is_shown_once_kept_as_a_hash_and_holds_until_it_is_revoked()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        var token = People.Once((await ada.SubmitAsync(Page, "make-token", ("name", "scale"), ("role", "viewer"), ("days", "30"))).Text);
        Assert.True(token.Length >= 43, token);
        Assert.DoesNotContain(token, (await ada.GoAsync(Page)).Text, StringComparison.Ordinal);
        Assert.DoesNotContain(token, await door.StoredAsync(), StringComparison.Ordinal);
        using var program = door.Program(token);
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(program, "/api/v1/vehicles"));
        Assert.Equal(HttpStatusCode.Forbidden, await StatusAsync(program, "/api/v1/people/events"));
        await using (var scope = door.App.Services.CreateAsyncScope())
            Assert.NotNull(Assert.Single(await scope.ServiceProvider.GetRequiredService<ProgramTokens>().ListAsync()).UsedAt);
        await ada.SubmitAsync(Page, $"revoke-{People.Id((await ada.GoAsync(Page)).Text, "revoke")}");
        Assert.Equal(HttpStatusCode.Unauthorized, await StatusAsync(program, "/api/v1/vehicles"));
        Assert.Equal([("token_made", "ada", "scale"), ("token_revoked", "ada", "scale")], (await door.EventsAsync())[2..]);
    }

    [Fact]
    public async Task A_token_ends_with_its_last_day()
    {
        await using var door = await ServedDoor.OpenAsync();
        var (program, _) = await door.ProgramAsync("viewer", TimeSpan.FromDays(2));
        using var __ = program;
        door.Clock.Advance(TimeSpan.FromDays(2) - TimeSpan.FromMinutes(5));
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(program, "/api/v1/vehicles"));
        door.Clock.Advance(TimeSpan.FromMinutes(5));
        Assert.Equal(HttpStatusCode.Unauthorized, await StatusAsync(program, "/api/v1/vehicles"));
    }

    [Fact]
    public async Task Who_read_what_is_noted_by_the_hour_and_forgotten_in_time()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        var (program, _) = await door.ProgramAsync("compliance");
        using var __ = program;
        const string messages = "/api/v1/vehicles/north/T-1/messages?at=2026-03-02T06:00:00Z";
        for (var i = 0; i < 3; i++) await StatusAsync(program, messages);
        await StatusAsync(program, "/api/v1/alerts?fleet=north");
        await ada.GoAsync("/now");
        // What is taken along as a file counts too: positions and times stand in it.
        foreach (var file in (string[])["/register.csv", "/register.json", "/vehicles.csv", "/register/sheet"]) await ada.GoAsync(file);
        await ada.GoAsync("/set-up/events");
        var log = door.App.Services.GetRequiredService<IAccessLog>();
        var read = await log.ReadAsync(0, 100, TestContext.Current.CancellationToken);
        Assert.Equal(
            [("ada", "/now", "", 1), ("ada", "/register.csv", "", 1), ("ada", "/register.json", "", 1), ("ada", "/register/sheet", "", 1), ("ada", "/vehicles.csv", "", 1), ("of-compliance (program)", "/api/v1/alerts", "north", 1), ("of-compliance (program)", "/api/v1/vehicles/{fleet}/{vehicle}/messages", "north/T-1", 3)],
            read.Select(a => (a.Who, a.What, a.Subject, (int)a.Times)).Order());
        Assert.Contains("/api/v1/vehicles/{fleet}/{vehicle}/messages", (await ada.GoAsync("/set-up/accesses")).Text, StringComparison.Ordinal);
        door.Clock.Advance(TimeSpan.FromDays(91));
        await door.App.Services.GetRequiredService<AccessLog>().PruneAsync(TestContext.Current.CancellationToken);
        Assert.Empty(await log.ReadAsync(0, 100, TestContext.Current.CancellationToken));
        Assert.NotEmpty(await door.EventsAsync());
    }

    [Fact]
    public async Task Failures_are_forgotten_before_what_else_happened()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        await door.Browser().SignInAsync("nobody", "wrong wrong wrong");
        door.Clock.Advance(TimeSpan.FromDays(91));
        await door.App.Services.GetRequiredService<AccessLog>().PruneAsync(TestContext.Current.CancellationToken);
        Assert.Equal(["password_set_by_link", "signed_in"], (await door.EventsAsync()).Select(e => e.What));
        door.Clock.Advance(TimeSpan.FromDays(3 * 366));
        await door.App.Services.GetRequiredService<AccessLog>().PruneAsync(TestContext.Current.CancellationToken);
        Assert.Empty(await door.EventsAsync());
    }

    private static async Task<Browser> AddAsync(ServedDoor door, Browser administrator, string name, string role)
    {
        var link = People.Once((await administrator.SubmitAsync(Page, "add-person", ("name", name), ("role", role))).Text);
        Assert.StartsWith(door.Address.ToString(), link);
        var browser = door.Browser();
        Assert.Equal(HttpStatusCode.Redirect, (await browser.SubmitAsync(new Uri(link).PathAndQuery, "one-time", ("new-password", ServedDoor.Password), ("again", ServedDoor.Password))).Status);
        return browser;
    }

    private static async Task<HttpStatusCode> StatusAsync(HttpClient client, string address)
    {
        using var answer = await client.GetAsync(new Uri(address, UriKind.Relative), HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
        return answer.StatusCode;
    }
}

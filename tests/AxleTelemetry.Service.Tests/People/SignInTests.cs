using System.Net;

namespace AxleTelemetry.Service.Tests.People;

/// <summary>How people come in, and who does not.</summary>
public sealed class SignInTests
{
    [Fact]
    public async Task The_first_link_makes_an_administrator_once_and_no_start_makes_another_then()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var stranger = door.Browser();
        var sent = await stranger.GoAsync("/now");
        Assert.Equal((HttpStatusCode.Redirect, "/sign-in?back=%2Fnow"), (sent.Status, new Uri(sent.Location).PathAndQuery));
        var link = await door.FirstLinkAsync();
        using var first = door.Browser();
        var entered = await first.SubmitAsync(link!, "one-time", ("name", "ada"), ("new-password", ServedDoor.Password), ("again", ServedDoor.Password));
        Assert.Equal((HttpStatusCode.Redirect, "/"), (entered.Status, new Uri(door.Address, entered.Location).AbsolutePath));
        Assert.Equal(HttpStatusCode.OK, (await first.GoAsync("/now")).Status);
        Assert.Equal(HttpStatusCode.OK, (await first.GoAsync("/set-up/people")).Status);

        var again = await stranger.GoAsync(link!);
        Assert.Contains("This link holds no more", again.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("new-password", again.Text, StringComparison.Ordinal);
        Assert.Null(await door.FirstLinkAsync());
        Assert.Equal([("password_set_by_link", "ada", "ada"), ("signed_in", "ada", "ada")], await door.EventsAsync());
    }

    [Fact]
    public async Task Of_two_that_use_a_link_at_once_one_comes_in()
    {
        await using var door = await ServedDoor.OpenAsync();
        var link = await door.FirstLinkAsync();
        using var one = door.Browser();
        using var other = door.Browser();
        var answers = await Task.WhenAll(EnterAsync(one, "ada"), EnterAsync(other, "eve"));
        Assert.Single(answers, a => a.Status == HttpStatusCode.Redirect);
        Assert.Contains("This link holds no more", Assert.Single(answers, a => a.Status == HttpStatusCode.OK).Text, StringComparison.Ordinal);

        Task<Answer> EnterAsync(Browser who, string name) => who.SubmitAsync(link!, "one-time", ("name", name), ("new-password", ServedDoor.Password), ("again", ServedDoor.Password));
    }

    [Fact]
    public async Task A_link_ends_after_a_day_and_when_another_takes_its_place()
    {
        await using var door = await ServedDoor.OpenAsync();
        var (old, link) = (await door.FirstLinkAsync(), await door.FirstLinkAsync());
        using var browser = door.Browser();
        Assert.Contains("holds no more", (await browser.GoAsync(old!)).Text, StringComparison.Ordinal);
        Assert.Contains("new-password", (await browser.GoAsync(link!)).Text, StringComparison.Ordinal);
        door.Clock.Advance(TimeSpan.FromHours(24));
        Assert.Contains("holds no more", (await browser.GoAsync(link!)).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_link_holds_after_a_try_that_failed()
    {
        await using var door = await ServedDoor.OpenAsync();
        var link = await door.FirstLinkAsync();
        using var browser = door.Browser();
        foreach (var (name, password, again, told) in ((string, string, string, string)[])[("ada", "short", "short", "at least 12"), ("ada", ServedDoor.Password, "another one here", "not the same"), ("a b", ServedDoor.Password, ServedDoor.Password, "A name has")])
            Assert.Contains(told, (await browser.SubmitAsync(link!, "one-time", ("name", name), ("new-password", password), ("again", again))).Text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Redirect, (await browser.SubmitAsync(link!, "one-time", ("name", "ada"), ("new-password", ServedDoor.Password), ("again", ServedDoor.Password))).Status);
    }

    [Fact]
    public async Task After_five_failures_the_right_password_is_refused_too_until_an_administrator_unlocks()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        using var browser = door.Browser();
        for (var i = 0; i < 5; i++) Assert.Contains("do not fit", (await browser.SignInAsync("ada", "wrong wrong wrong")).Text, StringComparison.Ordinal);
        var refused = await browser.SignInAsync("ada", ServedDoor.Password);
        Assert.Equal(HttpStatusCode.OK, refused.Status);
        Assert.Contains("do not fit", refused.Text, StringComparison.Ordinal);
        Assert.Contains(("locked_out", "", "ada"), await door.EventsAsync());

        var people = await ada.GoAsync("/set-up/people");
        Assert.Contains("locked after failures", people.Text, StringComparison.Ordinal);
        await ada.SubmitAsync("/set-up/people", $"unlock-{People.Id(people.Text, "unlock")}");
        Assert.Equal(HttpStatusCode.Redirect, (await browser.SignInAsync("ada", ServedDoor.Password)).Status);
        Assert.Equal(6, (await door.EventsAsync()).Count(e => e.What == "sign_in_failed"));
    }

    [Fact]
    public async Task Who_tries_more_than_ten_times_a_minute_has_to_wait()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var browser = door.Browser();
        for (var i = 0; i < 10; i++) Assert.Equal(HttpStatusCode.OK, (await browser.SignInAsync("nobody", "wrong wrong wrong")).Status);
        Assert.Equal(HttpStatusCode.TooManyRequests, (await browser.SignInAsync("nobody", "wrong wrong wrong")).Status);
        // Pages are looked at all the same.
        Assert.Equal(HttpStatusCode.OK, (await browser.GoAsync("/sign-in")).Status);
    }

    [Fact]
    public async Task Who_signs_in_comes_where_he_wanted_and_nowhere_else()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var _ = await door.AdministratorAsync();
        foreach (var (back, at) in ((string, string)[])[("/set-up/events", "/set-up/events"), ("//elsewhere.example", "/"), ("https://elsewhere.example/", "/"), ("/\\elsewhere.example", "/")])
        {
            using var browser = door.Browser();
            var entered = await browser.SubmitAsync($"/sign-in?back={Uri.EscapeDataString(back)}", "sign-in", ("name", "ADA"), ("password", ServedDoor.Password));
            Assert.Equal(HttpStatusCode.Redirect, entered.Status);
            Assert.Equal(new Uri(door.Address, at), new Uri(door.Address, entered.Location));
        }
    }

    [Fact]
    public async Task The_cookie_is_for_the_service_alone()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var _ = await door.AdministratorAsync();
        using var browser = door.Browser();
        var cookie = Assert.Single((await browser.SignInAsync("ada", ServedDoor.Password)).SetCookies, c => c.StartsWith("axletelemetry=", StringComparison.Ordinal));
        Assert.Contains("; httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("; samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("expires", cookie, StringComparison.OrdinalIgnoreCase);
        var forms = Assert.Single((await door.Browser().GoAsync("/sign-in")).SetCookies, c => c.StartsWith("axletelemetry-forms=", StringComparison.Ordinal));
        Assert.Contains("; httponly", forms, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("; samesite=strict", forms, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Behind_tls_cookies_are_for_tls_only_and_links_name_the_public_address()
    {
        await using var door = await ServedDoor.OpenAsync(c => c with { Settings = c.Settings with { Http = c.Settings.Http with { PublicAddress = new Uri("https://axles.example") } } });
        using var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false, UseCookies = false }) { BaseAddress = door.Address };
        using var request = new HttpRequestMessage(HttpMethod.Get, "/sign-in") { Headers = { Host = "axles.example" } };
        using var answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.All(answer.Headers.GetValues("Set-Cookie"), c => Assert.Contains("; secure", c, StringComparison.OrdinalIgnoreCase));
        Assert.True(answer.Headers.Contains("Strict-Transport-Security"));
        using var other = new HttpRequestMessage(HttpMethod.Get, "/now") { Headers = { Host = "axles.example", Accept = { new("text/html") } } };
        using var sent = await client.SendAsync(other, TestContext.Current.CancellationToken);
        Assert.Equal("https://axles.example/sign-in?back=%2Fnow", sent.Headers.Location?.ToString());
    }

    [Fact]
    public async Task Who_signs_out_is_out_and_a_form_of_another_page_signs_nobody_out()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        Assert.Equal(HttpStatusCode.BadRequest, (await ada.PostAsync("/sign-out")).Status);
        Assert.Equal(HttpStatusCode.OK, (await ada.GoAsync("/now")).Status);
        var left = await ada.SubmitToAsync("/set-up/people", "/sign-out");
        Assert.Equal((HttpStatusCode.Redirect, "/sign-in"), (left.Status, left.Location));
        Assert.Equal(HttpStatusCode.Redirect, (await ada.GoAsync("/now")).Status);
        Assert.Equal(("signed_out", "ada", "ada"), (await door.EventsAsync())[^1]);
    }

    [Fact]
    public async Task A_changed_password_signs_out_everywhere_else()
    {
        await using var door = await ServedDoor.OpenAsync();
        using var here = await door.AdministratorAsync();
        using var elsewhere = door.Browser();
        await elsewhere.SignInAsync("ada", ServedDoor.Password);
        Assert.Contains("Incorrect password", (await here.SubmitAsync("/password", "password", ("old", "wrong"), ("new-password", "other words of mine"), ("again", "other words of mine"))).Text, StringComparison.Ordinal);
        Assert.Contains("The password is changed", (await here.SubmitAsync("/password", "password", ("old", ServedDoor.Password), ("new-password", "other words of mine"), ("again", "other words of mine"))).Text, StringComparison.Ordinal);
        door.Clock.Advance(TimeSpan.FromMinutes(1));
        Assert.Equal(HttpStatusCode.OK, (await here.GoAsync("/now")).Status);
        Assert.Equal(HttpStatusCode.Redirect, (await elsewhere.GoAsync("/now")).Status);
        Assert.Contains(("password_changed", "ada", "ada"), await door.EventsAsync());
    }

    [Theory]
    [InlineData("/sign-in", "sign-in")]
    [InlineData("/one-time", "one-time")]
    [InlineData("/password", "password")]
    [InlineData("/set-up/people", "add-person")]
    [InlineData("/set-up/people", "make-token")]
    public async Task No_form_is_taken_that_was_not_made_for_whoever_sends_it(string path, string form)
    {
        await using var door = await ServedDoor.OpenAsync();
        using var ada = await door.AdministratorAsync();
        var before = await door.EventsAsync();
        var answer = await ada.PostAsync(path, ("_handler", form), ("name", "eve"), ("role", "administrator"), ("days", "9"), ("password", ServedDoor.Password), ("old", ServedDoor.Password), ("new-password", "other words of mine"), ("again", "other words of mine"));
        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal(before, await door.EventsAsync());
    }

    [Fact]
    public async Task Neither_log_nor_file_holds_a_secret_nor_what_was_typed_in_the_wrong_field()
    {
        await using var door = await ServedDoor.OpenAsync();
        var link = await door.FirstLinkAsync();
        using var browser = door.Browser();
        await browser.SubmitAsync(link!, "one-time", ("name", "ada"), ("new-password", ServedDoor.Password), ("again", ServedDoor.Password));
        var (program, token) = await door.ProgramAsync("viewer");
        using (program) await program.GetStringAsync(new Uri("/api/v1/vehicles", UriKind.Relative), TestContext.Current.CancellationToken);
        await door.Browser().SignInAsync("my secret as a name", "and another one");
        var kept = await door.StoredAsync() + door.Log;
        Assert.Contains("signed_in", kept, StringComparison.Ordinal);
        foreach (var secret in (string[])[ServedDoor.Password, token, link!.Split('=')[1], "my secret as a name", "and another one", browser.Cookies.Single(c => c.Name == "axletelemetry").Value])
            Assert.DoesNotContain(secret, kept, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_files_of_people_are_for_the_user_of_the_service_alone()
    {
        if (OperatingSystem.IsWindows()) return;
        await using var door = await ServedDoor.OpenAsync();
        using var _ = await door.AdministratorAsync();
        const UnixFileMode others = UnixFileMode.GroupRead | UnixFileMode.GroupWrite | UnixFileMode.OtherRead | UnixFileMode.OtherWrite;
        Assert.Equal(default, File.GetUnixFileMode(Path.Combine(door.Configuration.DataDirectory, "people.db")) & others);
        Assert.Equal(default, File.GetUnixFileMode(Path.Combine(door.Configuration.DataDirectory, "people-keys")) & others);
        Assert.NotEmpty(Directory.EnumerateFiles(Path.Combine(door.Configuration.DataDirectory, "people-keys")));
    }
}

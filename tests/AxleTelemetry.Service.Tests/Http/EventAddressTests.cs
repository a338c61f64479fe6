using System.Text.Json;
using AxleTelemetry.Service.Events;
using AxleTelemetry.Web.Accounts;
using AxleTelemetry.Web.People;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Service.Tests.Http;

/// <summary>What happens, as it happens.</summary>
[Collection(ServedFleetTests.Name)]
public sealed class EventAddressTests(ServedFleet fleet)
{
    [Fact]
    public async Task From_the_beginning_every_alert_load_and_episode_is_told_once_and_a_break_loses_nothing()
    {
        var all = await ReadAsync($"after={Sent()}~main=0.0", 400);
        Assert.True(all.Select(e => e.Kind).ToHashSet().IsSupersetOf(["alert", "load", "episode"]));
        Assert.Equal(all.Count, all.Select(e => e.Id).Distinct().Count());
        var half = all[all.Count / 2];
        var rest = await ReadAsync($"after={half.Id}", 20);
        Assert.Equal(all.Skip(all.Count / 2 + 1).Take(20).Select(e => e.Data), rest.Select(e => e.Data));
    }

    [Fact]
    public async Task What_a_person_does_is_told_to_a_new_listener_at_once()
    {
        var alerts = (await fleet.GetAsync("/api/v1/alerts")).GetProperty("alerts").EnumerateArray().ToList();
        var id = alerts.Select(a => a.GetProperty("id").GetString()!).Order(StringComparer.Ordinal).Last();
        using var reader = await OpenAsync("");
        await fleet.PostAsync($"/api/v1/alerts/{id}/state-done", """{"text":"two pallets taken off"}""");
        var told = (await EventsAsync(reader, 1)).Single();
        Assert.Equal("alert", told.Kind);
        var change = JsonDocument.Parse(told.Data).RootElement;
        Assert.Equal((id, "state_done"), (change.GetProperty("id").GetString(), change.GetProperty("cause").GetString()));
        Assert.Contains("two pallets taken off", change.GetProperty("happened").GetString());
    }

    [Fact]
    public async Task An_open_stream_ends_when_its_token_is_revoked_and_not_before()
    {
        var (app, client) = await fleet.ServeAsync(fleet.Configuration);
        await using var _ = app;
        using var __ = client;
        await using var scope = app.Services.CreateAsyncScope();
        var tokens = scope.ServiceProvider.GetRequiredService<ProgramTokens>();
        client.DefaultRequestHeaders.Authorization = new("Bearer", await tokens.MakeAsync("listener", Roles.Viewer, TimeSpan.FromDays(1), "test"));
        using var answer = await client.GetAsync(new Uri("/api/v1/events", UriKind.Relative), HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
        using var reader = new StreamReader(await answer.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken));
        Assert.StartsWith("retry: ", await reader.ReadLineAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        // It is looked at every twenty seconds; the heartbeat that comes meanwhile shows that it is open.
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        deadline.CancelAfter(TimeSpan.FromMinutes(2));
        while (await reader.ReadLineAsync(deadline.Token) is { } line && line != ": still here")
        {
        }

        await tokens.RevokeAsync((await tokens.ListAsync()).Single(t => t.Name == "listener").Id);
        while (await reader.ReadLineAsync(deadline.Token) is not null)
        {
        }
    }

    [Theory]
    [InlineData("rubbish")]
    [InlineData("0~main=0.0")]
    [InlineData("1~main=999999999.0")]
    [InlineData("1~other=1.0")]
    public async Task A_listener_that_may_have_missed_something_is_told_so(string last)
    {
        using var reader = await OpenAsync($"after={last}");
        Assert.Equal("gap", (await EventsAsync(reader, 1)).Single().Kind);
    }

    [Fact]
    public void Positions_are_read_as_they_are_written()
    {
        var id = new EventId(17, Positions.None.With("west", new(7, 12)).With("east", new(4, 0)));
        Assert.Equal("17~east=4.0,west=7.12", id.ToString());
        Assert.Equal(id.ToString(), EventId.Parse(id.ToString())!.ToString());
        foreach (var wrong in (string[])["", "17", "17~", "17~east", "17~east=4", "17~east=4.0,east=5.0", "17~east=-4.0", "x~east=4.0", "17~east=4.9999999999", "17~=4.0"]) Assert.Null(EventId.Parse(wrong));
    }

    private long Sent() => fleet.Clock.GetUtcNow().ToUnixTimeSeconds();

    private async Task<List<(string Kind, string Data, string Id)>> ReadAsync(string query, int count)
    {
        using var reader = await OpenAsync(query);
        return await EventsAsync(reader, count);
    }

    private async Task<StreamReader> OpenAsync(string query)
    {
        var answer = await fleet.Client.GetAsync(new Uri($"/api/v1/events?{query}", UriKind.Relative), HttpCompletionOption.ResponseHeadersRead, TestContext.Current.CancellationToken);
        answer.EnsureSuccessStatusCode();
        Assert.Equal("text/event-stream", answer.Content.Headers.ContentType!.MediaType);
        return new StreamReader(await answer.Content.ReadAsStreamAsync(TestContext.Current.CancellationToken));
    }

    private static async Task<List<(string Kind, string Data, string Id)>> EventsAsync(StreamReader reader, int count)
    {
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        deadline.CancelAfter(TimeSpan.FromSeconds(20));
        var events = new List<(string Kind, string Data, string Id)>();
        var (kind, data, id) = ("", "", "");
        while (events.Count < count && await reader.ReadLineAsync(deadline.Token) is { } line)
        {
            if (line.StartsWith("event: ", StringComparison.Ordinal)) kind = line[7..];
            if (line.StartsWith("data: ", StringComparison.Ordinal)) data = line[6..];
            if (line.StartsWith("id: ", StringComparison.Ordinal)) id = line[4..];
            if (line.Length > 0) continue;
            if (data.Length > 0) events.Add((kind, data, id));
            (kind, data) = ("", "");
        }

        return events;
    }
}

using System.Net;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Service.Tests.Serving;

namespace AxleTelemetry.Service.Tests.Http;

/// <summary>What the journal holds of the past, over HTTP.</summary>
[Collection(ServedFleetTests.Name)]
public sealed class HistoryAddressTests(ServedFleet fleet)
{
    [Fact]
    public async Task The_register_is_newest_first_and_pages_give_every_episode_once()
    {
        var all = await EpisodesAsync("limit=500");
        Assert.True(all.Count > 5, $"{all.Count} episodes");
        Assert.Equal(all.Select(Since).OrderDescending(StringComparer.Ordinal), all.Select(Since));
        var paged = new List<JsonElement>();
        string? next = null;
        do
        {
            var page = await fleet.GetAsync($"/api/v1/episodes?limit=3{(next is null ? "" : $"&after={Uri.EscapeDataString(next)}")}");
            paged.AddRange(page.GetProperty("episodes").EnumerateArray());
            next = page.TryGetProperty("next", out var further) ? further.GetString() : null;
        }
        while (next is not null);
        Assert.Equal(all.Select(e => e.ToString()), paged.Select(e => e.ToString()));
    }

    [Fact]
    public async Task An_overload_says_its_limit_where_that_comes_from_and_its_peak()
    {
        var overloads = await EpisodesAsync("kind=overload&limit=500");
        Assert.NotEmpty(overloads);
        Assert.All(overloads, o =>
        {
            var limit = o.GetProperty("limit");
            Assert.NotEmpty(limit.GetProperty("source").GetProperty("place").GetString()!);
            Assert.True(limit.GetProperty("peak_excess_kg").GetProperty("mean").GetDouble() >= limit.GetProperty("opening_excess_kg").GetProperty("mean").GetDouble());
            Assert.DoesNotContain("of the combination", o.GetProperty("about").GetString());
            Assert.True(o.GetProperty("members").GetArrayLength() > 0);
        });
        var open = await EpisodesAsync("kind=overload&open=true&limit=500");
        Assert.All(open, o => Assert.Equal(JsonValueKind.Null, o.GetProperty("closed_at").ValueKind));
        Assert.Equal(overloads.Count, open.Count + (await EpisodesAsync("kind=overload&open=false&limit=500")).Count);
    }

    [Fact]
    public async Task Loads_are_drawn_by_at_most_the_points_asked_for()
    {
        var (from, to) = Span();
        foreach (var vehicle in RandomFleet.Scene.Vehicles.Where(v => v.Kind is Domain.Vehicles.VehicleKind.Rigid or Domain.Vehicles.VehicleKind.Tractor))
        {
            var history = await fleet.GetAsync($"/api/v1/vehicles/north/{vehicle.Id}/loads?from={from}&to={to}&points=50");
            var stretches = history.GetProperty("stretches").EnumerateArray().ToList();
            Assert.NotEmpty(stretches);
            Assert.InRange(stretches.Sum(s => s.GetProperty("points").GetArrayLength()), 1, 50);
            Assert.All(stretches, s => Assert.Equal(s.GetProperty("axles").GetArrayLength(), s.GetProperty("points")[0].GetProperty("axles_kg").GetArrayLength()));
            Assert.All(stretches, s => Assert.DoesNotContain("of the combination", s.GetProperty("axles")[0].GetString()));
        }
    }

    [Fact]
    public async Task Messages_of_a_moment_are_the_bytes_that_were_sent()
    {
        var sent = RandomFleet.Recording(3).Where(m => m.Topic.EndsWith("/frame", StringComparison.Ordinal) || m.Topic.EndsWith("/pressure", StringComparison.Ordinal)).ToList();
        var one = sent[sent.Count / 2];
        var vehicle = one.Topic.Split('/')[3];
        var at = JsonDocument.Parse(one.Payload).RootElement.GetProperty("samples")[0].GetProperty("t").GetInt64();
        var moment = new Domain.Quantities.Moment(at);
        var read = await fleet.GetAsync($"/api/v1/vehicles/north/{vehicle}/messages?at={moment}&within_s=0");
        Assert.Contains(read.GetProperty("messages").EnumerateArray(), m => m.GetProperty("text").GetString() == Encoding.UTF8.GetString(one.Payload.Span));
    }

    [Fact]
    public async Task Refusals_come_newest_first_with_the_bytes_and_what_would_be_right()
    {
        var list = await fleet.GetAsync("/api/v1/refusals");
        var refusals = list.GetProperty("refusals").EnumerateArray().ToList();
        Assert.Equal(["unknown_vehicle", "not_utf8", "not_json"], refusals.Take(3).Select(r => r.GetProperty("reason").GetString()));
        Assert.Equal("{ no json", Encoding.UTF8.GetString(refusals[2].GetProperty("base64").GetBytesFromBase64()));
        Assert.NotEmpty(refusals[2].GetProperty("wrong")[0].GetProperty("right").GetString()!);
        Assert.True(list.GetProperty("tallies").GetArrayLength() >= 2);
        var first = await fleet.GetAsync("/api/v1/refusals?limit=1");
        var second = await fleet.GetAsync($"/api/v1/refusals?limit=1&after={first.GetProperty("next").GetString()}");
        Assert.Equal(refusals[1].ToString(), Assert.Single(second.GetProperty("refusals").EnumerateArray()).ToString());
        Assert.Equal("not_json", Assert.Single((await fleet.GetAsync("/api/v1/refusals?reason=not_json")).GetProperty("refusals").EnumerateArray()).GetProperty("reason").GetString());
    }

    private static (string From, string To) Span()
    {
        var recording = RandomFleet.Recording(3);
        return (recording[0].Received!.Value.Plus(-3600).ToString(), recording[^1].Received!.Value.Plus(3600).ToString());
    }

    private async Task<List<JsonElement>> EpisodesAsync(string query) => [.. (await fleet.GetAsync($"/api/v1/episodes?{query}")).GetProperty("episodes").EnumerateArray()];

    private static string Since(JsonElement episode) => episode.GetProperty("since").GetString()!;
}

using System.Net;
using System.Text.Json;

namespace AxleTelemetry.Service.Tests.Http;

[Collection(ServedFleetTests.Name)]
public sealed class VehicleAddressTests(ServedFleet fleet)
{
    [Fact]
    public async Task Every_vehicle_has_its_loads_with_interval_and_limit_and_the_cautions_stand_once()
    {
        var list = await fleet.GetAsync("/api/v1/vehicles");
        var vehicles = list.GetProperty("vehicles").EnumerateArray().ToList();
        Assert.Equal(list.GetProperty("total").GetInt32(), vehicles.Count);
        Assert.Equal(2, list.GetProperty("cautions").GetArrayLength());
        var measured = vehicles.Where(v => v.GetProperty("gross").ValueKind == JsonValueKind.Object).ToList();
        Assert.NotEmpty(measured);
        foreach (var vehicle in measured)
        {
            var load = vehicle.GetProperty("gross").GetProperty("load_kg");
            Assert.InRange(load.GetProperty("mean").GetDouble(), load.GetProperty("low").GetDouble(), load.GetProperty("high").GetDouble());
            Assert.True(load.GetProperty("sd").GetDouble() > 0);
            Assert.True(vehicle.GetProperty("nearest").GetProperty("limit_kg").GetDouble() > 0);
            Assert.Equal(-vehicle.GetProperty("nearest").GetProperty("excess_kg").GetProperty("mean").GetDouble(), vehicle.GetProperty("nearest").GetProperty("margin_kg").GetDouble());
            Assert.All(vehicle.GetProperty("axles").EnumerateArray(), a => Assert.Contains("axle ", a.GetProperty("name").GetString()));
            Assert.Equal(JsonValueKind.Object, vehicle.GetProperty("position").ValueKind);
        }
    }

    [Fact]
    public async Task A_stranger_is_listed_apart_with_its_messages()
    {
        var list = await fleet.GetAsync("/api/v1/vehicles?fleet=north");
        var stranger = Assert.Single(list.GetProperty("unknown").EnumerateArray());
        Assert.Equal((ServedFleet.Stranger, 1), (stranger.GetProperty("vehicle").GetString(), stranger.GetProperty("messages").GetInt32()));
    }

    [Fact]
    public async Task Pages_of_two_give_every_vehicle_once_in_order()
    {
        var all = Ids(await fleet.GetAsync("/api/v1/vehicles"));
        var paged = new List<string>();
        string? next = null;
        do
        {
            var page = await fleet.GetAsync($"/api/v1/vehicles?limit=2{(next is null ? "" : $"&after={next}")}");
            paged.AddRange(Ids(page));
            next = page.TryGetProperty("next", out var further) ? further.GetString() : null;
        }
        while (next is not null);
        Assert.Equal(all, paged);
        Assert.Equal(all.Order(StringComparer.Ordinal), all);
    }

    [Fact]
    public async Task One_vehicle_comes_with_its_counts_and_refusals()
    {
        var id = Serving.RandomFleet.Scene.Vehicles[0].Id;
        var one = await fleet.GetAsync($"/api/v1/vehicles/north/{id}");
        Assert.Equal(id, one.GetProperty("overview").GetProperty("vehicle").GetString());
        Assert.True(one.GetProperty("readings").GetProperty("taken").GetInt64() > 100);
    }

    [Theory]
    [InlineData("/api/v1/vehicles?limit=0", "limit")]
    [InlineData("/api/v1/vehicles?limit=many", "limit")]
    [InlineData("/api/v1/vehicles?flet=north", "flet")]
    [InlineData("/api/v1/vehicles?fleet=south", "fleet")]
    [InlineData("/api/v1/vehicles?after=somewhere", "after")]
    [InlineData("/api/v1/vehicles?limit=1&limit=2", "limit")]
    [InlineData("/api/v1/alerts?state=ringing", "state")]
    [InlineData("/api/v1/alerts?vehicle=RT-01", "fleet")]
    [InlineData("/api/v1/episodes?from=yesterday", "from")]
    [InlineData("/api/v1/episodes?from=2026-03-02T06:00:00", "from")]
    [InlineData("/api/v1/episodes?open=maybe", "open")]
    [InlineData("/api/v1/episodes?from=2026-03-03T06:00:00Z&to=2026-03-02T06:00:00Z", "from")]
    [InlineData("/api/v1/refusals?reason=bad", "reason")]
    [InlineData("/api/v1/refusals?after=x", "after")]
    [InlineData("/api/v1/vehicles/north/RT-01/messages", "at")]
    [InlineData("/api/v1/vehicles/north/RT-01/loads?points=3", "points")]
    [InlineData("/api/v1/events?fleet=south", "fleet")]
    public async Task A_wrong_parameter_is_refused_by_name_with_what_would_be_right(string address, string field)
    {
        var problem = await fleet.GetAsync(address, HttpStatusCode.BadRequest);
        Assert.Equal(field, problem.GetProperty("field").GetString());
        Assert.NotEmpty(problem.GetProperty("right").GetString()!);
        Assert.Contains(field, problem.GetProperty("detail").GetString());
    }

    [Theory]
    [InlineData("/api/v1/vehicles/north/NOBODY")]
    [InlineData("/api/v1/vehicles/south/RT-01")]
    [InlineData("/api/v1/alerts/north/RT-01/VehicleSilent/12")]
    [InlineData("/api/v1/nothing")]
    public async Task What_is_not_there_is_said_in_a_sentence(string address) =>
        Assert.NotEmpty((await fleet.GetAsync(address, HttpStatusCode.NotFound)).GetProperty("detail").GetString()!);

    [Fact]
    public async Task A_lane_that_runs_has_nothing_to_resume() =>
        await fleet.PostAsync($"/api/v1/vehicles/north/{Serving.RandomFleet.Scene.Vehicles[0].Id}/resume", "{}", HttpStatusCode.Conflict);

    private static List<string> Ids(JsonElement list) => [.. list.GetProperty("vehicles").EnumerateArray().Select(v => v.GetProperty("vehicle").GetString()!)];
}

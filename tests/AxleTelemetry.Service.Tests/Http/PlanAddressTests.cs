using System.Net;
using System.Text.Json;
using System.Xml.Linq;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Tests.Serving;

namespace AxleTelemetry.Service.Tests.Http;

[Collection(ServedFleetTests.Name)]
public sealed class PlanAddressTests(ServedFleet fleet)
{
    [Fact]
    public async Task A_followed_vehicle_is_planned_with_what_is_aboard_and_how_sure_that_is()
    {
        var live = 0;
        foreach (var (address, unit, body) in await UnitsAsync())
        {
            var plan = await fleet.GetAsync(address);
            var configurations = plan.GetProperty("configurations").EnumerateArray().ToList();
            Assert.NotEmpty(configurations);
            Assert.All(configurations, c => Assert.NotEmpty(c.GetProperty("stretches").EnumerateArray()));
            Assert.Equal(2, plan.GetProperty("cautions").GetArrayLength());
            if (plan.GetProperty("source").GetString() != "live") continue;
            var detail = await fleet.GetAsync($"/api/v1/vehicles/north/{unit}");
            var told = detail.GetProperty("payloads").EnumerateArray().First(p => p.GetProperty("vehicle").GetString() == body).GetProperty("payload_kg").GetProperty("mean").GetDouble();
            Assert.Equal(told, Math.Max(0, plan.GetProperty("stages")[0].GetProperty("payload_kg").GetDouble()), 0.11);
            if (plan.GetProperty("edge").GetArrayLength() == 0) continue;
            live++;
            Assert.Matches("down|raised|relieved", plan.GetProperty("present").GetString());
            var edge = plan.GetProperty("edge").EnumerateArray().Select(p => p.GetProperty("payload_kg").GetDouble()).ToList();
            Assert.InRange(told, edge.Min(), edge.Max());
        }

        Assert.True(live > 0, "no vehicle of the fleet has a load with an edge");
    }

    [Fact]
    public async Task A_stated_payload_takes_the_place_of_what_is_inferred()
    {
        var (address, _, _) = (await UnitsAsync())[0];
        var join = address.Contains('?', StringComparison.Ordinal) ? '&' : '?';
        var plan = await fleet.GetAsync($"{address}{join}payload_kg=6000&drops=2000@{(await Middle(address)).ToString(System.Globalization.CultureInfo.InvariantCulture)}");
        double Swept(System.Text.Json.JsonElement of) => of.GetProperty("configurations")[0].GetProperty("turning").GetProperty("swept_width_m").GetDouble();
        Assert.True(Swept(await fleet.GetAsync($"{address}{join}payload_kg=6000&front_overhang_m=1.9")) > Swept(plan));
        Assert.Equal("stated", plan.GetProperty("source").GetString());
        Assert.Equal(0, plan.GetProperty("edge").GetArrayLength());
        Assert.Equal([6000.0, 4000.0], plan.GetProperty("stages").EnumerateArray().Select(s => s.GetProperty("payload_kg").GetDouble()));
    }

    [Fact]
    public async Task The_picture_comes_as_svg()
    {
        var (address, _, _) = (await UnitsAsync())[0];
        using var answer = await fleet.Client.GetAsync(new Uri(address.Replace("/plan", "/plan.svg", StringComparison.Ordinal), UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal("image/svg+xml", answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal("svg", XDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).Root!.Name.LocalName);
    }

    [Theory]
    [InlineData("payload_kg=9t", "payload_kg")]
    [InlineData("payload_kg=-1", "payload_kg")]
    [InlineData("centre_m=3", "centre_m")]
    [InlineData("payload_kg=5000&centre_m=99", "centre_m")]
    [InlineData("drops=4000", "drops")]
    [InlineData("payload_kg=1000&drops=90000@3", "drops")]
    [InlineData("of=NOBODY", "of")]
    [InlineData("payload=1", "payload")]
    public async Task A_wrong_parameter_is_refused_by_name(string query, string field)
    {
        var (address, _, _) = (await UnitsAsync()).First(u => !u.Address.Contains('?', StringComparison.Ordinal));
        var problem = await fleet.GetAsync($"{address}?{query}", HttpStatusCode.BadRequest);
        Assert.Equal(field, problem.GetProperty("field").GetString());
        Assert.DoesNotContain("Right would be", problem.GetProperty("right").GetString());
    }

    [Fact]
    public async Task A_trailer_is_planned_with_its_unit_and_nobody_with_none()
    {
        foreach (var trailer in RandomFleet.Scene.Vehicles.Where(v => !v.Kind.IsPowered()))
            Assert.Contains("trailer", (await fleet.GetAsync($"/api/v1/vehicles/north/{trailer.Id}/plan", HttpStatusCode.Conflict)).GetProperty("title").GetString());
        await fleet.GetAsync("/api/v1/vehicles/north/NOBODY/plan", HttpStatusCode.NotFound);
        await fleet.GetAsync("/api/v1/vehicles/south/RT-01/plan", HttpStatusCode.NotFound);
    }

    private async Task<double> Middle(string address)
    {
        var plan = await fleet.GetAsync(address);
        return Math.Round((plan.GetProperty("front_m").GetDouble() + plan.GetProperty("rear_m").GetDouble()) / 2, 1);
    }

    /// <summary>Units that carry, each with an address of its plan and whose payload it varies.</summary>
    private async Task<List<(string Address, string Unit, string Body)>> UnitsAsync()
    {
        var units = new List<(string, string, string)>();
        foreach (var unit in RandomFleet.Scene.Vehicles.Where(v => v.Kind.IsPowered()).Select(v => v.Id))
        {
            var members = (await fleet.GetAsync($"/api/v1/vehicles/north/{unit}")).GetProperty("overview").GetProperty("members").EnumerateArray().Select(m => m.GetString()!).ToList();
            var carrying = members.Where(m => RandomFleet.Scene.Vehicles.First(v => v.Id == m).LoadSpace is not null).ToList();
            if (carrying.Count > 0) units.Add(($"/api/v1/vehicles/north/{unit}/plan{(carrying.Count > 1 ? $"?of={carrying[0]}" : "")}", unit, carrying[0]));
        }

        return units;
    }
}

using System.Net;
using System.Text.Json;

namespace AxleTelemetry.Service.Tests.Http;

[Collection(ServedFleetTests.Name)]
public sealed class AlertAddressTests(ServedFleet fleet)
{
    [Fact]
    public async Task Open_alerts_come_most_urgent_first_with_a_sentence()
    {
        var alerts = await OpenAsync();
        Assert.True(alerts.Count >= 3, $"{alerts.Count} alerts");
        string[] ranks = ["unacknowledged", "returned_unacknowledged", "returned_unstated", "acknowledged"];
        var order = alerts.Where(a => ranks.Contains(State(a))).Select(a => Array.IndexOf(ranks, State(a))).ToList();
        Assert.Equal(order.Order(), order);
        Assert.All(alerts, a => Assert.EndsWith(".", a.GetProperty("sentence").GetString()));
    }

    [Fact]
    public async Task An_id_is_an_address_with_and_without_escaped_colons()
    {
        var id = (await OpenAsync())[0].GetProperty("id").GetString()!;
        Assert.Contains(":", id);
        var plain = await fleet.GetAsync($"/api/v1/alerts/{id}");
        var escaped = await fleet.GetAsync($"/api/v1/alerts/{string.Join('/', id.Split('/').Select(Uri.EscapeDataString))}");
        Assert.Equal(id, plain.GetProperty("alert").GetProperty("id").GetString());
        Assert.Equal(plain.ToString(), escaped.ToString());
        var numbers = plain.GetProperty("changes").EnumerateArray().Select(c => c.GetProperty("number").GetInt32()).ToList();
        Assert.Equal(Enumerable.Range(1, numbers.Count), numbers);
    }

    [Fact]
    public async Task Acknowledged_once_and_told_why_not_twice()
    {
        var id = await WaitingAsync(0);
        var done = await fleet.PostAsync($"/api/v1/alerts/{id}/acknowledge", "{}");
        Assert.Contains(done.GetProperty("changes").EnumerateArray(), c => c.GetProperty("cause").GetString() == "acknowledge");
        // Who acts is whoever asks, never a name that is typed in.
        Assert.Contains("api_token_file (program)", done.ToString(), StringComparison.Ordinal);
        var again = await fleet.PostAsync($"/api/v1/alerts/{id}/acknowledge", "{}", HttpStatusCode.Conflict);
        Assert.Equal("The alert is acknowledged already.", again.GetProperty("detail").GetString());
    }

    [Fact]
    public async Task A_shelf_needs_its_reason_and_end()
    {
        var id = await WaitingAsync(1);
        var until = new DateTimeOffset(fleet.Clock.GetUtcNow().UtcDateTime).AddMinutes(30).ToString("yyyy-MM-ddTHH:mm:ssZ");
        var noReason = await fleet.PostAsync($"/api/v1/alerts/{id}/shelve", $$"""{"until":"{{until}}"}""", HttpStatusCode.UnprocessableEntity);
        Assert.Contains("reason", noReason.GetProperty("detail").GetString());
        var noEnd = await fleet.PostAsync($"/api/v1/alerts/{id}/shelve", """{"reason":"in the workshop"}""", HttpStatusCode.UnprocessableEntity);
        Assert.Contains("until", noEnd.GetProperty("detail").GetString());
        await fleet.PostAsync($"/api/v1/alerts/{id}/shelve", """{"reason":"in the workshop","until":"soon"}""", HttpStatusCode.BadRequest);
        var shelved = await fleet.PostAsync($"/api/v1/alerts/{id}/shelve", $$"""{"reason":"in the workshop","until":"{{until}}"}""");
        Assert.Equal("shelved", State(shelved.GetProperty("alert")));
        Assert.Contains((await fleet.GetAsync("/api/v1/alerts?state=shelved")).GetProperty("alerts").EnumerateArray(), a => a.GetProperty("id").GetString() == id);
        await fleet.PostAsync($"/api/v1/alerts/{id}/unshelve", "{}");
    }

    [Theory]
    [InlineData("{")]
    [InlineData("null")]
    [InlineData("""{"reason":1}""")]
    [InlineData("""{"reasn":"x"}""")]
    [InlineData("""{"who":"somebody else"}""")]
    public async Task A_body_that_cannot_be_read_changes_nothing(string body)
    {
        var id = (await OpenAsync())[0].GetProperty("id").GetString();
        await fleet.PostAsync($"/api/v1/alerts/{id}/acknowledge", body, HttpStatusCode.BadRequest);
    }

    /// <summary>The id of an alert that waits for notice; each test takes another.</summary>
    private async Task<string> WaitingAsync(int which) =>
        (await OpenAsync()).Where(a => State(a) is "unacknowledged" or "returned_unacknowledged").Select(a => a.GetProperty("id").GetString()!).Order(StringComparer.Ordinal).ElementAt(which);

    private async Task<List<JsonElement>> OpenAsync() => [.. (await fleet.GetAsync("/api/v1/alerts")).GetProperty("alerts").EnumerateArray()];

    private static string State(JsonElement alert) => alert.GetProperty("state").GetProperty("code").GetString()!;
}

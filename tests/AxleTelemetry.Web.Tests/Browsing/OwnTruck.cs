using System.Net;
using System.Text.Json.Nodes;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>A truck added to the running demonstration, of which a test decides what it sends.</summary>
internal sealed class OwnTruck(string id, Demonstration demonstration) : IDisposable
{
    private const string Fleet = "ostrel";
    private static readonly TimeSpan Deadline = TimeSpan.FromSeconds(30);

    private readonly Truck _truck = new(Fleet, id);

    public string Id => id;

    private string Description => Path.Combine(demonstration.Files, Fleet, $"{id}.json");

    /// <summary>What the identities of its alerts begin with.</summary>
    public string Alerts => $"{Fleet}/{id}/";

    /// <summary>Describes it, and waits until the service knows it.</summary>
    public async Task ComeAsync()
    {
        var file = JsonNode.Parse(await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "examples", "rigid-6x2-tag.json")))!;
        (file["id"], file["plate"]) = (id, $"{id} X");
        await File.WriteAllTextAsync(Description, file.ToJsonString());
        using var client = new HttpClient { BaseAddress = new Uri(demonstration.Address) };
        using var deadline = new CancellationTokenSource(Deadline);
        while ((await client.GetAsync(new Uri($"/api/v1/vehicles/{Fleet}/{id}", UriKind.Relative), deadline.Token)).StatusCode != HttpStatusCode.OK)
            await Task.Yield();
        await _truck.ConnectAsync(demonstration.BrokerPort);
    }

    /// <summary>Takes its description away.</summary>
    public void Go() => File.Delete(Description);

    /// <summary>Drives a stretch that ended so many seconds ago; done when it is committed.</summary>
    public Task DriveAsync(int from, int to, bool tagRaised) => _truck.DriveAsync(from, to, tagRaised);

    public void Dispose() => _truck.Dispose();
}

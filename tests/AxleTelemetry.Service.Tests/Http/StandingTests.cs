using System.Text.RegularExpressions;
using AxleTelemetry.Service.Metering;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Service.Tests.Http;

/// <summary>How the service is, in documents and numbers.</summary>
[Collection(ServedFleetTests.Name)]
public sealed class StandingTests(ServedFleet fleet)
{
    private const string Refresh = "UPDATE_OPENAPI";

    private static readonly string[] Names =
    [
        "axletelemetry_alarms_recent", "axletelemetry_alerts_open", "axletelemetry_batch_messages", "axletelemetry_commit_failures", "axletelemetry_commit_seconds",
        "axletelemetry_corrections", "axletelemetry_corrections_waiting", "axletelemetry_journal_bytes", "axletelemetry_messages_acknowledged", "axletelemetry_messages_committed",
        "axletelemetry_messages_received", "axletelemetry_messages_redelivered", "axletelemetry_queue_bytes", "axletelemetry_readings", "axletelemetry_ready",
        "axletelemetry_refusals", "axletelemetry_sse_clients", "axletelemetry_vehicles_heard",
    ];

    [Fact]
    public async Task The_service_is_ready_and_says_so()
    {
        var health = await fleet.GetAsync("/health");
        Assert.True(health.GetProperty("ready").GetBoolean());
        Assert.Equal("main", Assert.Single(health.GetProperty("shards").EnumerateArray()).GetProperty("shard").GetString());
    }

    [Fact]
    public async Task The_metrics_have_their_names_and_hold_what_is_there()
    {
        var (app, client) = await fleet.ServeAsync(fleet.Configuration);
        await using var _ = app;
        using var __ = client;
        await app.Services.GetRequiredService<FleetFigureBoard>().RefreshAsync(TestContext.Current.CancellationToken);
        var text = await client.GetStringAsync(new Uri("/metrics", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.EndsWith("# EOF\n", text);
        Assert.Equal(Names, Regex.Matches(text, "^# TYPE (\\S+) ", RegexOptions.Multiline).Select(m => m.Groups[1].Value).ToArray().AsEnumerable());
        Assert.Matches("(?m)^axletelemetry_ready\\{shard=\"main\"\\} 1$", text);
        Assert.Matches("(?m)^axletelemetry_readings_total\\{shard=\"main\",outcome=\"taken\"\\} [1-9]", text);
        Assert.Matches("(?m)^axletelemetry_alerts_open\\{shard=\"main\",state=\"[a-z_]+\",priority=\"(low|medium|high)\"\\} [1-9]", text);
        Assert.Matches("(?m)^axletelemetry_journal_bytes\\{shard=\"main\"\\} [1-9]", text);
    }

    [Fact]
    public async Task The_document_in_the_repository_is_the_one_that_is_served()
    {
        var served = (await fleet.Client.GetStringAsync(new Uri("/openapi/v1.json", UriKind.Relative), TestContext.Current.CancellationToken)).ReplaceLineEndings("\n").TrimEnd() + "\n";
        var file = Path.Combine(Root(), "src", "AxleTelemetry.Service", "Serving", "openapi.json");
        if (Environment.GetEnvironmentVariable(Refresh) == "1") await File.WriteAllTextAsync(file, served, TestContext.Current.CancellationToken);
        var kept = File.Exists(file) ? (await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken)).ReplaceLineEndings("\n") : "";
        Assert.True(kept == served, $"The interface changed. Where that was wanted, run this test with {Refresh}=1 and read the difference in {file}.");
    }

    private static string Root()
    {
        var at = new DirectoryInfo(AppContext.BaseDirectory);
        while (at is not null && !File.Exists(Path.Combine(at.FullName, "AxleTelemetry.sln"))) at = at.Parent;
        return at?.FullName ?? throw new InvalidOperationException("The repository is not above the tests.");
    }
}

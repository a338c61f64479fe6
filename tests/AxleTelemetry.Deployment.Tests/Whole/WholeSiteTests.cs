using System.Globalization;
using System.Text.Json;
using AxleTelemetry.Deployment.Tests.Series;
using AxleTelemetry.Deployment.Tests.Servers;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Series;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Deployment.Tests.Whole;

/// <summary>
/// The compose file as it is shipped, with images of this machine: a simulated fleet sends by TLS, the service is killed, everything is stopped, taken down and started
/// again in the middle, and at the end all is there once.
/// </summary>
public sealed class WholeSiteTests : IDisposable
{
    private const int Vehicles = 3;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-whole-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task A_fleet_is_followed_through_a_kill_and_a_restart_of_everything_with_nothing_missing_and_nothing_twice()
    {
        await Site.SkipUnlessPossible();
        await using var site = new Site();
        await site.Prepare(Vehicles);
        await using var receiver = new AlertReceiver(Ports.Free());
        await receiver.Start();
        await site.Tell(receiver);
        var fleet = SentFleet.UpTo(DateTimeOffset.UtcNow, Vehicles);
        var devices = await site.Devices(fleet.Vehicles);
        await site.Do("up", "-d", "broker", "influxdb", "service");
        await Healthy(site);

        await fleet.Send(fleet.Count / 4, site.VehiclesPort, devices);
        await site.Do("kill", "-s", "KILL", "service");
        await fleet.Send(fleet.Count / 3, site.VehiclesPort, devices);
        await site.Do("up", "-d", "service");
        await fleet.Send(fleet.Count / 2, site.VehiclesPort, devices);
        await site.Do("down", "--timeout", "60");
        await site.Do("up", "-d", "broker", "influxdb", "service");
        await Healthy(site);
        await fleet.Send(fleet.Count, site.VehiclesPort, devices);
        await Settled(site);

        await Everything_is_in_the_journal_once(site, fleet);
        await Everything_is_in_the_series_once(site);
        await Everything_was_told_once(receiver);
        await The_simulator_of_the_compose_file_sends(site);
    }

    [Fact]
    public async Task A_site_as_it_is_made_is_right_and_only_its_owner_reads_its_keys()
    {
        await Site.SkipUnlessPossible();
        await using var site = new Site();
        await site.Prepare();
        var said = await site.Do("run", "--rm", "--no-deps", "service", "check", "/settings/axletelemetry.json");
        Assert.Contains("0 errors", said, StringComparison.Ordinal);
        if (OperatingSystem.IsWindows()) return;
        foreach (var secret in (string[])["certificates/ca.key", "certificates/broker.key", "certificates/service.key", "secrets/service/api-token", "secrets/service/series-token", "secrets/grafana-password", "settings/axletelemetry.json"])
            Assert.Equal((secret, UnixFileMode.UserRead | UnixFileMode.UserWrite), (secret, File.GetUnixFileMode(site.Of(secret))));
    }

    /// <summary>The history is that of an undisturbed run over what was sent.</summary>
    private async Task Everything_is_in_the_journal_once(Site site, SentFleet fleet)
    {
        var recording = Path.Combine(_folder.FullName, "recording.ndjson");
        fleet.Write(recording);
        var replayed = await site.Do("run", "--rm", "--no-deps", "-v", $"{recording}:/tmp/recording.ndjson:ro", "service", "replay", "/tmp/recording.ndjson", "--settings", "/settings/axletelemetry.json");
        var digest = await site.Ask("digest");
        Assert.Contains(digest.Split('\n')[0]["main ".Length..], replayed, StringComparison.Ordinal);

        // A backup is taken while it runs, restored elsewhere, and has the same digest.
        await site.Ask("backup", "--into", "/data/backup");
        var backup = Path.Combine(_folder.FullName, "backup");
        Directory.Move(site.Of("data/service/backup"), backup);
        await using var restore = RunningProgram.Build("restore", backup, "--into", Data);
        Assert.True(await restore.Exit() == 0, string.Join('\n', restore.Errors.All));
        Assert.Equal(digest.Split('\n')[0], restore.Output.All[0].Split(" at ")[0]);
    }

    /// <summary>Every point of the history in force is in the server, and no other that is not taken back.</summary>
    private async Task Everything_is_in_the_series_once(Site site)
    {
        using var reading = await site.Reading();
        var expected = await Points();
        foreach (var (measurement, field) in ((string, string)[])[("axle_load", "load_kg"), ("axle_load", "margin_kg"), ("gross", "gross_kg"), ("lift", "position"), ("axle_day", "road_m"), ("episode", "excess_kg")])
        {
            var points = expected.Where(p => p.Identity.Measurement == measurement).ToDictionary(p => (SeriesReading.Tags(p.Identity.Tags), p.Identity.At.UnixMilliseconds), p => Value(p, field));
            Assert.NotEmpty(points);
            var (there, taken) = (await reading.FieldAsync(measurement, field), await reading.FieldAsync(measurement, "void"));
            foreach (var (key, value) in points) Assert.Contains(there[key], v => Math.Abs(v - value) <= 1e-6 * Math.Max(1, Math.Abs(value)));
            // The stand-in keeps each writing of a point: one that counts no more was written with void = true.
            Assert.All(there.Where(p => !points.ContainsKey(p.Key)), p => Assert.Contains(1, taken[p.Key]));
        }
    }

    /// <summary>Every change of an alert has come, signed, under an id of its own, and none under two; what came again came as it was.</summary>
    private async Task Everything_was_told_once(AlertReceiver receiver)
    {
        var expected = Told().Order(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(expected);
        await Until(() => Task.FromResult(receiver.Taken.Select(t => t.Id).Distinct().Count() >= expected.Count), "all changes of alerts");
        var came = receiver.Taken.GroupBy(t => t.Id).Select(g => Change(Assert.Single(g.Select(t => t.Body).Distinct())));
        Assert.Equal(expected, came.Order(StringComparer.Ordinal));
        Assert.Empty(receiver.Faults);
        Assert.True(receiver.Away > 0, "None was turned away at first.");
        // Only the one whose answer the kill cut off may have come twice.
        Assert.InRange(receiver.Taken.Count - expected.Count, 0, 1);
    }

    private static string Change(string body)
    {
        using var read = JsonDocument.Parse(body);
        var data = read.RootElement.GetProperty("data");
        return string.Create(CultureInfo.InvariantCulture, $"{data.GetProperty("id").GetString()} {data.GetProperty("number").GetInt32()}");
    }

    private List<string> Told()
    {
        using var reader = Assert.IsType<ReaderOpening.Opened>(JournalReader.Open(Data, "main")).Reader;
        var changes = reader.Told(Position.Start, int.MaxValue).Where(t => t.Row.Kind == Codes.AlertTold).Select(t => AlertChangeJson.Read(t.Row.Bytes.AsSpan())!).ToList();
        // That it reached the receiver stands in the journal, and is not told to it.
        Assert.Contains(changes, c => c is { Cause: "reached", Contact: { Who: "desk", Channel: "webhook" } });
        return [.. changes.Where(c => c.Contact is null)
            .Select(c => string.Create(CultureInfo.InvariantCulture, $"{c.Id} {c.Number}"))];
    }

    /// <summary>The same fleet by the profile of the compose file: its messages arrive.</summary>
    private static async Task The_simulator_of_the_compose_file_sends(Site site)
    {
        var before = (await Shard(site)).GetProperty("messages").GetInt64();
        await site.Do("--profile", "simulator", "up", "-d", "simulator");
        await Until(async () => (await Shard(site)).GetProperty("messages").GetInt64() > before + 100, "messages of the simulator");
    }

    private async Task<List<SeriesPoint>> Points()
    {
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(Data, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var shard = new RunningShard(new ShardSettings("main", []), opened, new Bounds(), new Surroundings { Clock = TimeProvider.System });
        shard.Loop.Start();
        var points = await InForce.OfAsync(shard.Desk);
        await shard.StopAsync();
        return points;
    }

    private string Data => Path.Combine(_folder.FullName, "data");

    private static double Value(SeriesPoint point, string field) => point.Fields.Single(f => f.Name == field).Value switch
    {
        FieldValue.Number number => number.Value,
        FieldValue.Whole whole => whole.Value,
        var other => throw new InvalidOperationException($"{other}"),
    };

    private static Task Healthy(Site site) => Until(async () => (await Health(site)).GetProperty("ready").GetBoolean(), "health");

    /// <summary>Nothing waits any more, here or for the database of series.</summary>
    private static Task Settled(Site site) => Until(async () =>
    {
        var shard = await Shard(site);
        return shard.GetProperty("is_settled").GetBoolean() && shard.GetProperty("to_be_corrected").GetInt32() == 0 && (await Health(site)).GetProperty("reasons").GetArrayLength() == 0 && await IsCarried(site);
    }, "all of it settled and carried");

    private static async Task<bool> IsCarried(Site site)
    {
        var metrics = await site.Client.GetStringAsync(new Uri("/metrics", UriKind.Relative), TestContext.Current.CancellationToken);
        var behind = metrics.Split('\n').Where(l => l.StartsWith("axletelemetry_series_", StringComparison.Ordinal) && l.Contains("behind", StringComparison.Ordinal)).ToList();
        return behind.Count > 0 && behind.TrueForAll(l => double.Parse(l.Split(' ')[^1], CultureInfo.InvariantCulture) <= 0);
    }

    private static async Task<JsonElement> Shard(Site site) => (await Health(site)).GetProperty("shards")[0];

    private static async Task<JsonElement> Health(Site site)
    {
        using var answer = await site.Client.GetAsync(new Uri("/health", UriKind.Relative), TestContext.Current.CancellationToken);
        using var read = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        return read.RootElement.Clone();
    }

    private static async Task Until(Func<Task<bool>> holds, string what)
    {
        var deadline = DateTimeOffset.UtcNow.AddMinutes(3);
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(250));
        while (!await Holds(holds))
        {
            Assert.True(DateTimeOffset.UtcNow < deadline, $"Not in time: {what}.");
            await timer.WaitForNextTickAsync(TestContext.Current.CancellationToken);
        }
    }

    private static async Task<bool> Holds(Func<Task<bool>> holds)
    {
        try
        {
            return await holds();
        }
        catch (Exception away) when (away is HttpRequestException or JsonException)
        {
            return false;
        }
    }
}

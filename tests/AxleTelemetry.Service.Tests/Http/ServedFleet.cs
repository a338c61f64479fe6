using System.Collections.Immutable;
using System.Net;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Configuring;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Storage.Opening;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.DependencyInjection;

namespace AxleTelemetry.Service.Tests.Http;

/// <summary>The tests that share a served fleet.</summary>
[CollectionDefinition(Name)]
public sealed class ServedFleetTests : ICollectionFixture<ServedFleet>
{
    public const string Name = "served fleet";
}

/// <summary>A fleet with an hour and a half behind it, overloads among it, some rubbish and a stranger, served by a real host on a free port. Shared: who changes something changes an alert of its own.</summary>
public sealed class ServedFleet : IAsyncLifetime
{
    public const string Token = "of-the-tests-0123";
    public const string Stranger = "ST-RANGE";
    private const ulong Seed = 3;

    private readonly DirectoryInfo _data = Directory.CreateTempSubdirectory("axle-http-");
    private readonly ServiceFolder _folder = new();
    private RunningShard? _shard;
    private WebApplication? _app;

    /// <summary>A client with the token of the settings.</summary>
    public HttpClient Client { get; private set; } = new();

    internal ShardDesk Desk => _shard!.Desk;

    internal ServiceConfiguration Configuration => _folder.Loaded() with { ApiToken = new Secret(Token) };

    internal ShiftedClock Clock { get; private set; } = new(DateTimeOffset.UnixEpoch);

    public async ValueTask InitializeAsync()
    {
        var recording = RandomFleet.Recording(Seed);
        Drive(recording);
        Clock = new ShiftedClock(DateTimeOffset.FromUnixTimeMilliseconds(recording[^1].Received!.Value.UnixMilliseconds).AddSeconds(30));
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_data.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        _shard = new RunningShard(new ShardSettings("main", ["north"]), opened, new Bounds(), new Surroundings { Clock = Clock });
        _shard.Loop.Start();
        await SendRubbishAsync(_shard);
        (_app, Client) = await ServeAsync(Configuration);
    }

    /// <summary>A further host over the same shard.</summary>
    internal async Task<(WebApplication App, HttpClient Client)> ServeAsync(ServiceConfiguration configuration)
    {
        var app = HttpHost.Build(configuration, new ListenAddress(IPAddress.Loopback, 0), new Desks([Desk]), (Clock, _ => { }));
        await app.StartAsync();
        var address = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.Single();
        var client = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false }) { BaseAddress = new Uri(address) };
        client.DefaultRequestHeaders.Authorization = new System.Net.Http.Headers.AuthenticationHeaderValue("Bearer", Token);
        return (app, client);
    }

    public async Task<JsonElement> GetAsync(string address, HttpStatusCode status = HttpStatusCode.OK)
    {
        using var answer = await Client.GetAsync(new Uri(address, UriKind.Relative), TestContext.Current.CancellationToken);
        return await ReadAsync(answer, status);
    }

    public async Task<JsonElement> PostAsync(string address, string json, HttpStatusCode status = HttpStatusCode.OK)
    {
        using var body = new StringContent(json, Encoding.UTF8, "application/json");
        using var answer = await Client.PostAsync(new Uri(address, UriKind.Relative), body, TestContext.Current.CancellationToken);
        return await ReadAsync(answer, status);
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        if (_app is not null)
        {
            await _app.StopAsync();
            await _app.DisposeAsync();
        }

        if (_shard is not null)
        {
            await _shard.StopAsync();
            _shard.Dispose();
        }

        _folder.Dispose();
        _data.Delete(recursive: true);
    }

    private static async Task<JsonElement> ReadAsync(HttpResponseMessage answer, HttpStatusCode status)
    {
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True(answer.StatusCode == status, $"{(int)answer.StatusCode} instead of {(int)status}: {text}");
        return text.Length == 0 ? default : JsonDocument.Parse(text).RootElement;
    }

    /// <summary>Three messages that are refused, each committed before the next comes.</summary>
    private async Task SendRubbishAsync(RunningShard shard)
    {
        var vehicle = RandomFleet.Scene.Vehicles[0].Id;
        foreach (var (of, payload) in ((string, byte[])[])[(vehicle, "{ no json"u8.ToArray()), (vehicle, [0xff, 0xfe, 0]), (Stranger, """{"samples":[]}"""u8.ToArray())])
        {
            var before = shard.Desk.Committed;
            Assert.True(shard.Intake.TryTake(new Received { Topic = $"axles/v1/north/{of}/pressure", Payload = payload, At = Clock.GetUtcNow() }));
            await shard.Desk.UntilAfterAsync(before, TestContext.Current.CancellationToken).WaitAsync(TimeSpan.FromSeconds(60));
        }
    }

    private void Drive(ImmutableArray<RecordedMessage> recording)
    {
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_data.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var store = opened.Store;
        var run = new ShardRun(opened.Shard);
        run.Configure(recording[0].Received!.Value.Plus(-1));
        foreach (var batch in recording.Chunk(100)) run.Append(batch);
        run.End();
        run.Close();
    }
}

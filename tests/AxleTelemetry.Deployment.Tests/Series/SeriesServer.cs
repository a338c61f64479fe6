using System.Globalization;
using AxleTelemetry.Deployment.Tests.Servers;
using AxleTelemetry.Service.Tests.Crashing;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Storage.Series;
using DotNet.Testcontainers.Builders;
using DotNet.Testcontainers.Containers;

namespace AxleTelemetry.Deployment.Tests.Series;

/// <summary>A server that takes what InfluxDB 2 takes: in a container, or natively where there is no engine. Can be stopped and started again with what it holds.</summary>
internal abstract class SeriesServer : IAsyncDisposable
{
    protected const int Port = 8086;
    private const string Native = "/usr/bin/victoria-metrics";

    public static readonly string Token = new('t', 40);

    public abstract Uri Address { get; }

    public SeriesTarget Target => new(Address, "fleet", "axles");

    public abstract Task Stop();

    public abstract Task Start();

    public abstract ValueTask DisposeAsync();

    /// <summary>Starts one; skips where neither an engine nor the program is there.</summary>
    public static async Task<SeriesServer> New()
    {
        if (!await Engine.IsThere && !File.Exists(Native)) Assert.Skip("There is neither a Docker engine nor victoria-metrics.");
        SeriesServer server = await Engine.IsThere ? new Contained() : new OfThisMachine();
        await server.Start();
        return server;
    }

    /// <summary>What reads back from it.</summary>
    public Task<SeriesReading> Reading() => SeriesReading.OfAsync(Address, Token, Target.Bucket);

    private sealed class Contained : SeriesServer
    {
        // A fixed port: one that is chosen at each start would be another after a restart.
        private readonly int _port = Ports.Free();
        private readonly IContainer _container;

        public Contained() => _container = new ContainerBuilder(Engine.Image("INFLUXDB_IMAGE", "influxdb:2.7"))
            .WithEnvironment(new Dictionary<string, string>(StringComparer.Ordinal)
            {
                ["DOCKER_INFLUXDB_INIT_MODE"] = "setup", ["DOCKER_INFLUXDB_INIT_USERNAME"] = "axletelemetry", ["DOCKER_INFLUXDB_INIT_PASSWORD"] = Token,
                ["DOCKER_INFLUXDB_INIT_ORG"] = "fleet", ["DOCKER_INFLUXDB_INIT_BUCKET"] = "axles", ["DOCKER_INFLUXDB_INIT_ADMIN_TOKEN"] = Token,
            })
            .WithPortBinding(_port, Port)
            .WithWaitStrategy(Wait.ForUnixContainer().UntilHttpRequestIsSucceeded(request => request.ForPort(Port).ForPath("/health")))
            .Build();

        public override Uri Address => new(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{_port}"));

        public override Task Start() => _container.StartAsync(TestContext.Current.CancellationToken);

        public override Task Stop() => _container.StopAsync(TestContext.Current.CancellationToken);

        public override ValueTask DisposeAsync() => _container.DisposeAsync();
    }

    private sealed class OfThisMachine : SeriesServer
    {
        private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-series-");
        private readonly int _port = Ports.Free();
        private RunningProgram? _program;

        public override Uri Address => new(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{_port}"));

        public override async Task Start()
        {
            _program = RunningProgram.Start(Native, $"-storageDataPath={_folder.FullName}", FormattableString.Invariant($"-httpListenAddr=127.0.0.1:{_port}"), "-retentionPeriod=100y", "-loggerLevel=ERROR");
            using var http = new HttpClient { BaseAddress = Address };
            await Eventually.Holds(() => Answers(http), () => string.Join('\n', _program.Errors.All), TimeSpan.FromMilliseconds(50));
        }

        public override async Task Stop()
        {
            await _program!.Signal("TERM");
            await _program.Exit();
        }

        public override async ValueTask DisposeAsync()
        {
            await _program!.DisposeAsync();
            _folder.Delete(recursive: true);
        }

        private static bool Answers(HttpClient http)
        {
            try
            {
                using var request = new HttpRequestMessage(HttpMethod.Get, "/health");
                return http.Send(request).IsSuccessStatusCode;
            }
            catch (HttpRequestException)
            {
                return false;
            }
        }
    }
}

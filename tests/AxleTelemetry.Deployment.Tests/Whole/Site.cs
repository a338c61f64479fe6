using System.Globalization;
using System.Net.Http.Headers;
using AxleTelemetry.Deployment.Tests.Series;
using AxleTelemetry.Deployment.Tests.Servers;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Deployment.Tests.Whole;

/// <summary>A whole installation by the shipped compose file, in a directory that the shipped script makes; taken away with everything it ran.</summary>
internal sealed class Site : IAsyncDisposable
{
    private const string Compose = "docker-compose";
    private static readonly TimeSpan Longest = TimeSpan.FromMinutes(4);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-site-");
    private readonly string _project = "axle" + Guid.NewGuid().ToString("N")[..8];
    private readonly List<string> _files = [Path.Combine(Repository.Root, "docker-compose.yml")];

    public Site() =>
        Client = new HttpClient { BaseAddress = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{PagesPort}")), Timeout = TimeSpan.FromMinutes(1) };

    public int VehiclesPort { get; } = Ports.Free();

    private int PagesPort { get; } = Ports.Free();

    private int SeriesPort { get; } = Ports.Free();

    /// <summary>Asks the service, with the token of its settings.</summary>
    public HttpClient Client { get; }

    public static async Task SkipUnlessPossible()
    {
        if (!await Engine.IsThere) Assert.Skip("There is no Docker engine.");
        if (!File.Exists("/usr/bin/docker-compose") && !File.Exists("/usr/local/bin/docker-compose")) Assert.Skip("docker-compose is not installed.");
        if (!await Engine.Has(Engine.Image("SERVICE_IMAGE", "axletelemetry:local"))) Assert.Skip("The service's image is not built: deploy/build-image.sh.");
    }

    /// <summary>A path within it.</summary>
    public string Of(string name) => Path.Combine(_folder.FullName, "site", name);

    /// <summary>Makes it, for an invented fleet or the one example vehicle.</summary>
    public async Task Prepare(int? vehicles = null)
    {
        await Run(Path.Combine(Repository.Root, "deploy", "prepare.sh"), [Of(""), .. vehicles is { } many ? (string[])["--simulated", many.ToString(CultureInfo.InvariantCulture)] : []]);
        await File.AppendAllTextAsync(Of("compose.env"), string.Create(CultureInfo.InvariantCulture, $"""
            VEHICLES_LISTEN=127.0.0.1:{VehiclesPort}
            PAGES_LISTEN=127.0.0.1:{PagesPort}
            INFLUXDB_LISTEN=127.0.0.1:{SeriesPort}
            PACE=10000

            """));
        Client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", (await File.ReadAllTextAsync(Of("secrets/service/api-token"))).Trim());
    }

    /// <summary>Has every change of an alert go to a receiver on this machine, which the service's container then knows by name.</summary>
    public async Task Tell(AlertReceiver receiver)
    {
        var more = Path.Combine(_folder.FullName, "receiver.yml");
        await File.WriteAllTextAsync(more, "services: { service: { extra_hosts: [\"receiver:host-gateway\"] } }\n");
        _files.Add(more);
        await File.WriteAllTextAsync(Of("secrets/service/receiver"), receiver.Secret + "\n");
        var settings = await File.ReadAllTextAsync(Of("settings/axletelemetry.json"));
        await File.WriteAllTextAsync(Of("settings/axletelemetry.json"), settings.Replace("  \"fleets\": {", string.Create(CultureInfo.InvariantCulture, $$"""
              "delivery": {
                "recipients": { "desk": { "webhook": { "url": "http://receiver:{{receiver.Port}}/alerts", "secret_file": "/secrets/receiver" }, "changes": "all" } },
                "routes": [{ "to": ["desk"] }],
              },
              "fleets": {
            """), StringComparison.Ordinal));
    }

    /// <summary>A certificate for each vehicle, and what its device shows.</summary>
    public async Task<Dictionary<string, TlsOptions>> Devices(IEnumerable<string> vehicles)
    {
        var devices = new Dictionary<string, TlsOptions>(StringComparer.Ordinal);
        foreach (var vehicle in vehicles)
        {
            await Run(Path.Combine(Repository.Root, "deploy", "certificates.sh"), Of("certificates"), "device", vehicle);
            devices.Add(vehicle, new TlsOptions { AuthorityFile = Of("certificates/ca.pem"), CertificateFile = Of($"certificates/devices/{vehicle}.pem"), KeyFile = Of($"certificates/devices/{vehicle}.key") });
        }

        return devices;
    }

    /// <summary>What reads back from its database of time series.</summary>
    public async Task<SeriesReading> Reading() =>
        await SeriesReading.OfAsync(new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{SeriesPort}")), (await File.ReadAllTextAsync(Of("secrets/service/series-token"))).Trim(), "axletelemetry");

    /// <summary>Has compose do something; what it printed.</summary>
    public Task<string> Do(params string[] arguments) =>
        Run(Compose, ["-p", _project, "--project-directory", Repository.Root, "--env-file", Of("compose.env"), .. _files.SelectMany(f => (string[])["-f", f]), .. arguments]);

    /// <summary>Runs a command of the program in the service's container.</summary>
    public Task<string> Ask(params string[] arguments) => Do(["exec", "-T", "service", "/opt/axletelemetry/axletelemetry", .. arguments, "--settings", "/settings/axletelemetry.json"]);

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        if (File.Exists(Of("compose.env"))) await Do("--profile", "simulator", "down", "--volumes", "--remove-orphans", "--timeout", "5");
        _folder.Delete(recursive: true);
    }

    private static async Task<string> Run(string program, params string[] arguments)
    {
        await using var running = RunningProgram.Start(program, arguments);
        var code = await running.Exit(Longest);
        Assert.True(code == 0, $"{program} {string.Join(' ', arguments)} ended with {code}:\n{string.Join('\n', running.Output.All.Concat(running.Errors.All))}");
        return string.Join('\n', running.Output.All);
    }
}

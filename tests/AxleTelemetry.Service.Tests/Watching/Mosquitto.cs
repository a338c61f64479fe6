using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>A real broker on a free port of this machine, with further lines of settings for its listener.</summary>
internal sealed class Mosquitto(params string[] further) : IAsyncDisposable
{
    private const string Broker = "/usr/sbin/mosquitto", Publisher = "/usr/bin/mosquitto_pub";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("mosquitto");
    private RunningProgram? _broker;

    public int Port { get; } = FreePort();

    /// <summary>Where it keeps its files.</summary>
    public string Folder => _folder.FullName;

    public string Address => FormattableString.Invariant($"127.0.0.1:{Port}");

    /// <summary>Waits until its log says something so often; what it says beyond errors is a setting.</summary>
    public Task UntilLogged(string text, int times = 1) => _broker!.Errors.Until(text, times);

    public static void SkipUnlessInstalled()
    {
        if (!File.Exists(Broker) || !File.Exists(Publisher)) Assert.Skip("mosquitto is not installed.");
    }

    public async Task Start()
    {
        var settings = Path.Combine(_folder.FullName, "mosquitto.conf");
        await File.WriteAllTextAsync(settings, string.Join('\n', [.. Settings(), .. further, ""]));
        _broker = RunningProgram.Start(Broker, "-c", settings);
        await _broker.Errors.Until("running");
    }

    private IEnumerable<string> Settings() =>
    [
        FormattableString.Invariant($"listener {Port} 127.0.0.1"), "max_inflight_messages 2000", "max_queued_messages 0", "log_dest stderr", "user root", $"persistence_location {Folder}/",
        further.Any(line => line.StartsWith("password_file", StringComparison.Ordinal)) ? "allow_anonymous false" : "allow_anonymous true",
    ];

    public async Task Kill()
    {
        if (_broker is not null) await _broker.DisposeAsync();
        _broker = null;
    }

    /// <summary>Whether its store holds a payload: what it holds outlives a kill.</summary>
    public bool HasStored(ReadOnlySpan<byte> payload) => File.Exists(Store) && File.ReadAllBytes(Store).AsSpan().IndexOf(payload) >= 0;

    /// <summary>Takes its store away, while it does not run.</summary>
    public void Forget() => File.Delete(Store);

    private string Store => Path.Combine(Folder, "mosquitto.db");

    /// <summary>Publishes payloads on one topic, one a line, and waits until the broker has them all.</summary>
    public async Task Publish(string topic, params IEnumerable<string> payloads)
    {
        await using var publisher = RunningProgram.Start(Publisher, "-V", "mqttv5", "-h", "127.0.0.1", "-p", Port.ToString(CultureInfo.InvariantCulture), "-q", "1", "-t", topic, "-l");
        await publisher.Feed(payloads);
        Assert.Equal(0, await publisher.Exit());
    }

    public async ValueTask DisposeAsync()
    {
        await Kill();
        _folder.Delete(recursive: true);
    }

    public static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

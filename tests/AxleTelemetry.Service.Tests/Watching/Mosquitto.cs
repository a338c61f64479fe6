using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>A real broker on a free port of this machine.</summary>
internal sealed class Mosquitto : IAsyncDisposable
{
    private const string Broker = "/usr/sbin/mosquitto", Publisher = "/usr/bin/mosquitto_pub";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("mosquitto");
    private RunningProgram? _broker;

    public int Port { get; } = FreePort();

    public string Address => FormattableString.Invariant($"127.0.0.1:{Port}");

    public static void SkipUnlessInstalled()
    {
        if (!File.Exists(Broker) || !File.Exists(Publisher)) Assert.Skip("mosquitto is not installed.");
    }

    public async Task Start()
    {
        var settings = Path.Combine(_folder.FullName, "mosquitto.conf");
        await File.WriteAllTextAsync(settings, FormattableString.Invariant($"listener {Port} 127.0.0.1\nallow_anonymous true\nmax_inflight_messages 2000\nlog_dest stderr\n"));
        _broker = RunningProgram.Start(Broker, "-c", settings);
        await _broker.Errors.Until("running");
    }

    public async Task Kill()
    {
        if (_broker is not null) await _broker.DisposeAsync();
        _broker = null;
    }

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

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

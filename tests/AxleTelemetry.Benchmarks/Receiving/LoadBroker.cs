using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace AxleTelemetry.Benchmarks.Receiving;

/// <summary>A real broker and a sender beside it, both processes of their own.</summary>
internal sealed class LoadBroker : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("load");
    private readonly Process _broker;
    private Process? _sender;

    public LoadBroker()
    {
        using (var listener = new TcpListener(IPAddress.Loopback, 0))
        {
            listener.Start();
            Port = ((IPEndPoint)listener.LocalEndpoint).Port;
        }

        var settings = Path.Combine(_folder.FullName, "mosquitto.conf");
        File.WriteAllText(settings, FormattableString.Invariant($"listener {Port} 127.0.0.1\nallow_anonymous true\nmax_inflight_messages 2000\nmax_queued_messages 0\nlog_dest stderr\n"));
        _broker = Process.Start(new ProcessStartInfo("/usr/sbin/mosquitto", ["-c", settings]) { RedirectStandardError = true })!;
        while (_broker.StandardError.ReadLine() is { } line && !line.EndsWith("running", StringComparison.Ordinal))
        {
        }

        // It stands still when nobody reads what it says. Its queue has no bound here: once it drops messages of a reader that
        // falls behind, 2.0.11 hands over some 200 messages a second and no more.
        _ = _broker.StandardError.BaseStream.CopyToAsync(Stream.Null);
    }

    public int Port { get; }

    public void Send(int rate) => _sender = Process.Start(Environment.ProcessPath!, ["send", Port.ToString(CultureInfo.InvariantCulture), rate.ToString(CultureInfo.InvariantCulture)]);

    public void Dispose()
    {
        if (_broker.HasExited) Console.WriteLine(FormattableString.Invariant($"  The broker ended by itself ({_broker.ExitCode})."));
        _sender?.Kill();
        _broker.Kill();
        _sender?.WaitForExit();
        _broker.WaitForExit();
        _folder.Delete(recursive: true);
    }
}

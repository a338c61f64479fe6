using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Benchmarks.Serving;

/// <summary>The service of this build as a process of its own, on a journal in a directory of its own, and a sender beside it.</summary>
internal sealed class LoadedService : IDisposable
{
    private readonly string _directory = Directory.CreateTempSubdirectory("serve-").FullName;
    private readonly Process _service;
    private readonly List<Process> _senders = [];

    public LoadedService(int brokerPort, int vehicles)
    {
        HttpPort = FreePort();
        var settings = LoadFleet.Write(_directory, vehicles, brokerPort, HttpPort);
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "axletelemetry.dll"), "serve", "--settings", settings]) { RedirectStandardOutput = true };
        _service = Process.Start(start)!;
        var connected = new ManualResetEventSlim();
        _service.OutputDataReceived += (_, said) =>
        {
            if (said.Data is { Length: > 0 } line) Console.WriteLine($"  {line}");
            if (said.Data?.Contains("Connected", StringComparison.Ordinal) ?? true) connected.Set();
        };
        _service.BeginOutputReadLine();
        connected.Wait();
        Reader = Open();
    }

    /// <summary>Its directory.</summary>
    public string Home => _directory;

    public JournalReader Reader { get; }

    /// <summary>Directory of its journal.</summary>
    public string Data => Path.Combine(_directory, "data");

    /// <summary>Where its interface for programs is, on this machine.</summary>
    public int HttpPort { get; }

    /// <summary>How many the sender had sent, and when by the monotonic clock.</summary>
    public ConcurrentQueue<(long Sent, long At)> Sent { get; } = [];

    /// <summary>When the marked message of each vehicle was sent, by the monotonic clock.</summary>
    public ConcurrentDictionary<int, long> Marked { get; } = [];

    /// <summary>Processor time of the service, user and system.</summary>
    public TimeSpan Processor
    {
        get
        {
            _service.Refresh();
            return _service.TotalProcessorTime;
        }
    }

    /// <summary>Memory of the service that is in RAM, bytes.</summary>
    public long Memory
    {
        get
        {
            _service.Refresh();
            return _service.WorkingSet64;
        }
    }

    public void Send(FleetTraffic traffic)
    {
        var sender = Process.Start(new ProcessStartInfo(Environment.ProcessPath!, ["fleet", .. traffic.Words()]) { RedirectStandardOutput = true })!;
        sender.OutputDataReceived += (_, said) => Note(said.Data?.Split(' ') ?? []);
        sender.BeginOutputReadLine();
        _senders.Add(sender);
    }

    public void EndSending()
    {
        foreach (var sender in _senders)
        {
            sender.Kill();
            sender.WaitForExit();
        }

        _senders.Clear();
    }

    /// <summary>Messages committed in each batch after one, up to another.</summary>
    public Dictionary<long, int> Batches(long after, long to)
    {
        var counts = new Dictionary<long, int>();
        var position = new Position(after, Position.RowsPerBatch - 1);
        for (var page = Reader.Inputs(position, 5_000); !page.IsEmpty && page[0].Position.Batch <= to; page = Reader.Inputs(position, 5_000))
        {
            foreach (var input in page)
                if (input.Position.Batch <= to)
                    counts[input.Position.Batch] = counts.GetValueOrDefault(input.Position.Batch) + 1;
            position = page[^1].Position;
        }

        return counts;
    }

    public void Dispose()
    {
        EndSending();
        Reader.Dispose();
        _service.Kill();
        _service.WaitForExit();
        Directory.Delete(_directory, recursive: true);
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    private JournalReader Open() => JournalReader.Open(Data, "main") is ReaderOpening.Opened opened
        ? opened.Reader
        : throw new InvalidOperationException("The journal cannot be read.");

    private void Note(string[] words)
    {
        if (words is ["sent", var sent, var at]) Sent.Enqueue((Number(sent), Number(at)));
        else if (words is ["marked", var vehicle, var when]) Marked[(int)Number(vehicle)] = Number(when);
    }

    private static long Number(string word) => long.Parse(word, CultureInfo.InvariantCulture);
}

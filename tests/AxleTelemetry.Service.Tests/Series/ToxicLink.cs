using System.Net;
using System.Net.Sockets;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>
/// A network that does to each connection what chance draws: hand it on, late, slowly, a part of it, half of the answer, or nothing at all; reset it, or leave it
/// open with nobody behind. Even a good connection ends by a reset after some bytes, as they are kept and used again.
/// </summary>
internal sealed class ToxicLink : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _stop = new();
    private readonly IPEndPoint _behind;
    private readonly Random _random;
    private readonly Lock _gate = new();
    private readonly Dictionary<Harm, int> _done = [];
    private readonly Queue<Harm> _deck = [];
    private readonly List<Task> _connections = [];
    private readonly Task _accepting;

    public ToxicLink(IPEndPoint behind, int seed)
    {
        _behind = behind;
        _random = new Random(seed);
        _listener.Start();
        Address = new Uri(FormattableString.Invariant($"http://127.0.0.1:{((IPEndPoint)_listener.LocalEndpoint).Port}"));
        _accepting = AcceptAsync();
    }

    /// <summary>What can happen to a connection.</summary>
    internal enum Harm
    {
        None,
        ResetAtOnce,
        NobodyBehind,
        ResetWithinTheRequest,
        ResetBeforeTheAnswer,
        TruncatedAnswer,
        SlowBothWays,
    }

    /// <summary>Where writers connect to.</summary>
    public Uri Address { get; }

    /// <summary>True while nothing gets through: whoever connects is left waiting.</summary>
    public bool IsDead { get; set; }

    /// <summary>True once nothing bad happens any more to new connections.</summary>
    public bool IsWell { get; set; }

    /// <summary>How often each happened.</summary>
    public Dictionary<Harm, int> Done
    {
        get
        {
            lock (_gate) return new(_done);
        }
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        _listener.Stop();
        await _accepting;
        await Task.WhenAll(_connections);
        _stop.Dispose();
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true) _connections.Add(HandleAsync(await _listener.AcceptTcpClientAsync(_stop.Token)));
        }
        catch (Exception ended) when (ended is OperationCanceledException or SocketException or ObjectDisposedException)
        {
        }
    }

    private async Task HandleAsync(TcpClient from)
    {
        using var _ = from;
        var (harm, after) = Draw();
        try
        {
            using var behind = new TcpClient();
            switch (harm)
            {
                case Harm.ResetAtOnce:
                    Reset(from);
                    return;
                case Harm.NobodyBehind:
                    // What comes is acknowledged by the system and read by nobody, until the writer has had enough.
                    await Swallow(from);
                    return;
                default:
                    await behind.ConnectAsync(_behind, _stop.Token);
                    await Task.WhenAny(
                        Hand(from, behind, harm == Harm.ResetWithinTheRequest ? after : int.MaxValue, harm),
                        Hand(behind, from, harm is Harm.TruncatedAnswer ? after % 40 : harm is Harm.ResetBeforeTheAnswer ? 0 : harm is Harm.None or Harm.SlowBothWays ? after : int.MaxValue, harm));
                    if (harm == Harm.TruncatedAnswer) from.Client.Shutdown(SocketShutdown.Both);
                    else Reset(from);
                    Reset(behind);
                    return;
            }
        }
        catch (Exception broken) when (broken is IOException or SocketException or OperationCanceledException or ObjectDisposedException)
        {
            // The other side was first.
        }
    }

    private (Harm Harm, int After) Draw()
    {
        lock (_gate)
        {
            var harm = IsDead ? Harm.NobodyBehind : IsWell ? Harm.None : Next();
            _done[harm] = _done.GetValueOrDefault(harm) + 1;
            return (harm, IsWell && !IsDead ? int.MaxValue : _random.Next(50, 400));
        }
    }

    // Of so many connections each happens to one: which comes first is chance, that it comes is not.
    private Harm Next()
    {
        if (_deck.Count == 0)
        {
            var harms = Enum.GetValues<Harm>();
            _random.Shuffle(harms);
            foreach (var harm in harms) _deck.Enqueue(harm);
        }

        return _deck.Dequeue();
    }

    /// <summary>Hands bytes on until so many went, or either side ends.</summary>
    private async Task Hand(TcpClient from, TcpClient to, int most, Harm harm)
    {
        var buffer = new byte[harm == Harm.SlowBothWays ? 512 : 16 * 1024];
        for (var left = most; left > 0;)
        {
            var read = await from.GetStream().ReadAsync(buffer, _stop.Token);
            if (read == 0) return;
            // The network's own slowness: what is tested here, not waiting for a condition.
            if (harm == Harm.SlowBothWays) await Task.Delay(TimeSpan.FromMilliseconds(5), _stop.Token);
            await to.GetStream().WriteAsync(buffer.AsMemory(0, Math.Min(read, left)), _stop.Token);
            left -= read;
        }

        // Nothing is handed back before the request was taken: the answer is read, and lost.
        if (most == 0) await from.GetStream().ReadAtLeastAsync(buffer, 1, throwOnEndOfStream: false, _stop.Token);
    }

    private async Task Swallow(TcpClient from)
    {
        var buffer = new byte[4096];
        while (await from.GetStream().ReadAsync(buffer, _stop.Token) > 0)
        {
        }
    }

    private static void Reset(TcpClient connection)
    {
        connection.LingerState = new LingerOption(true, 0);
        connection.Close();
    }
}

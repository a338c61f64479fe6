using System.Text;
using AxleTelemetry.Service.Receiving;

namespace AxleTelemetry.Service.Tests.Receiving;

/// <summary>A receiver at work, with the test as the consumer of what it takes.</summary>
internal sealed class Station : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly Lock _gate = new();
    private readonly List<ReceiverNotice> _notices = [];
    private Task _running = Task.CompletedTask;

    public Station(IntakeOptions? options = null, TimeProvider? clock = null)
    {
        Trace = new ReceiveTrace(_ => Changed.Changed());
        Intake = new Intake(options ?? new IntakeOptions(), Trace, clock ?? TimeProvider.System);
    }

    public Signal Changed { get; } = new();

    public ReceiveTrace Trace { get; }

    public Intake Intake { get; }

    public static BrokerOptions At(int port) => new()
    {
        Host = "127.0.0.1", Port = port, ClientId = "station", FirstWait = TimeSpan.FromMilliseconds(20), LongestWait = TimeSpan.FromMilliseconds(100), Settled = TimeSpan.Zero,
    };

    public Station Run(BrokerOptions options)
    {
        var receiver = new BrokerReceiver(options, Intake, Trace, TimeProvider.System, notice =>
        {
            lock (_gate) _notices.Add(notice);
            Changed.Changed();
        });
        _running = receiver.RunAsync(_stop.Token);
        return this;
    }

    public IReadOnlyList<T> Told<T>()
        where T : ReceiverNotice
    {
        lock (_gate) return [.. _notices.OfType<T>()];
    }

    public Task UntilTold<T>(int times = 1)
        where T : ReceiverNotice => Changed.Until(() => Told<T>().Count >= times, $"{times} times {typeof(T).Name}");

    /// <summary>The next batches, until they hold so many messages.</summary>
    public async Task<List<IntakeBatch>> Take(int messages)
    {
        using var deadline = new CancellationTokenSource(TimeSpan.FromSeconds(60));
        var batches = new List<IntakeBatch>();
        while (batches.Sum(batch => batch.Messages.Length) < messages)
            batches.Add(await Intake.NextAsync(deadline.Token) ?? throw new InvalidOperationException("The intake has ended."));
        return batches;
    }

    public void Commit(IEnumerable<IntakeBatch> batches)
    {
        foreach (var batch in batches) Intake.Committed(batch);
    }

    public static string[] Texts(IEnumerable<IntakeBatch> batches) => [.. batches.SelectMany(batch => batch.Messages).Select(message => Encoding.UTF8.GetString(message.Payload.Span))];

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _running;
        _stop.Dispose();
    }
}

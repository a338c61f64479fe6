using System.Buffers;
using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Tests.Watching;

/// <summary>The example vehicles watched: what was sent, and what was told.</summary>
internal sealed class WatchedConvoy : IDisplay
{
    public const long Begin = 1_772_431_200_000;

    private readonly FleetWatch _watch;
    private long _received = Begin + 7_200_000;

    public WatchedConvoy(ImmutableDictionary<string, ImmutableArray<string>>? coupled = null, TimeSpan? wait = null) => _watch = new FleetWatch(
        Files(), new WatchTuning { Wait = wait ?? TimeSpan.FromSeconds(2), Coupled = coupled ?? ImmutableDictionary<string, ImmutableArray<string>>.Empty }, this, TimeProvider.System);

    public List<FleetEvent> Events { get; } = [];

    public int Held => _watch.Held;

    public IEnumerable<LaneOutput> Said(string id) => Events.OfType<FleetEvent.Said>().Where(e => e.Vehicle.Id == id).Select(e => e.Output);

    /// <summary>A vehicle as it stands.</summary>
    public VehicleState this[string id] => _watch.Look(shard => shard.State.Find(new("north", id))!);

    public T Look<T>(Func<Shard, T> look) => _watch.Look(look);

    public Lane LaneOf(string id) => _watch.Look(shard => shard.State.History.LaneOf(new("north", id))!);

    /// <summary>Sends a message; every one is received a millisecond after the one before.</summary>
    public void Send(string vehicle, string stream, string payload) => SendTo($"axles/v1/north/{vehicle}/{stream}", payload);

    public void SendTo(string topic, string payload) => SendAt(topic, payload, new Moment(++_received));

    public void SendAt(string topic, string payload, Moment received) => _watch.Take(topic, new ReadOnlySequence<byte>(Encoding.UTF8.GetBytes(payload)), received);

    public void Pressure(string vehicle, double at, string kpa) => Send(vehicle, "pressure", $$$"""{"samples":[{"t":{{{Ms(at)}}},"kpa":{ {{{kpa}}} }}]}""");

    public void Lift(string vehicle, double at, string axle, string state) => Send(vehicle, "lift", $$$"""{"samples":[{"t":{{{Ms(at)}}},"axles":{"{{{axle}}}":"{{{state}}}"}}]}""");

    public void Couple(string vehicle, double at, params string[] trailers) =>
        Send(vehicle, "coupling", $$"""{"samples":[{"t":{{Ms(at)}},"trailers":[{{string.Join(',', trailers.Select(t => $"\"{t}\""))}}]}]}""");

    /// <summary>A tractor's or rigid's whole word of a moment.</summary>
    public static string Frame(double at, string kpa, double speed = 20) =>
        $$$"""{"samples":[{"t":{{{Ms(at)}}},"kpa":{ {{{kpa}}} },"lat":46,"lon":15,"speed_mps":{{{speed}}}}]}""";

    public static string Topic(string vehicle, string stream) => $"axles/v1/north/{vehicle}/{stream}";

    /// <summary>Receive time passes before the next message.</summary>
    public void Silence(double seconds) => _received += (long)(seconds * 1000);

    /// <summary>Nothing more comes.</summary>
    public WatchSummary End() => _watch.End();

    public static long Ms(double seconds) => Begin + (long)Math.Round(seconds * 1000);

    void IDisplay.Tell(FleetEvent happened) => Events.Add(happened);

    void IDisplay.Note(string text) => throw new InvalidOperationException(text);

    Task IDisplay.ShowAsync(FleetWatch watch, CancellationToken cancel) => Task.CompletedTask;

    void IDisplay.End(WatchSummary summary)
    {
    }

    private static FleetFiles Files()
    {
        var errors = new List<InputProblem>();
        var files = FleetFiles.Read(new InputRequest { VehicleFiles = [ExampleFiles.Of("")] }, errors);
        Assert.Empty(errors);
        return files!;
    }
}

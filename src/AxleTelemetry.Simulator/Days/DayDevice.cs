using System.Buffers;
using System.Globalization;
using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Writes the samples of one vehicle straight into messages and gives those to the network.</summary>
internal sealed class DayDevice(FleetVehicle vehicle, SeededRandom random, Action<SentMessage> send)
{
    private const int StoredSamples = 60, StoredSeconds = 60;

    private readonly Outbox?[] _outboxes = new Outbox?[Enum.GetValues<UpStream>().Length];
    private string _boot = "";

    public DeviceHabits Habits => vehicle.Habits!;

    /// <summary>By how many seconds the device's clock is ahead.</summary>
    public int ClockAhead { get; set; }

    /// <summary>Until when it sends as one that stores; <c>null</c> for never.</summary>
    public Moment? StoredUntil { get; init; }

    /// <summary>True between start and stop.</summary>
    public bool On { get; private set; }

    public void Start(Moment at)
    {
        On = true;
        _boot = random.Next().ToString("x", CultureInfo.InvariantCulture)[..6];
        foreach (var outbox in _outboxes) outbox?.Restart();
        Presence(at, online: true);
    }

    /// <summary>Everything held goes out; then the broker speaks the last will, which holds no time.</summary>
    public void Stop(Moment at)
    {
        if (!On) return;
        Flush(at);
        Presence(at, online: false);
        On = false;
    }

    /// <summary>Begins a sample: its time is written.</summary>
    public Utf8JsonWriter Begin(UpStream stream, Moment at)
    {
        var outbox = _outboxes[(int)stream] ??= new Outbox(new Topic(vehicle.Haulier.Id, vehicle.Id, stream).ToString());
        if (outbox.Samples == 0) Open(outbox, at);
        outbox.Json.WriteStartObject();
        Time(outbox.Json, at);
        return outbox.Json;
    }

    /// <summary>Ends a sample. News that is rare is not held back.</summary>
    public void End(UpStream stream, Moment at)
    {
        var outbox = _outboxes[(int)stream]!;
        outbox.Json.WriteEndObject();
        outbox.Samples++;
        var (samples, seconds) = at < StoredUntil ? (StoredSamples, StoredSeconds) : (Habits.Samples, Habits.MostSecondsHeld);
        var full = stream is UpStream.Lift or UpStream.Coupling ? 1 : samples;
        if (outbox.Samples >= full) Close(outbox, at);
        foreach (var other in _outboxes)
            if (other is { Samples: > 0 } && at.SecondsSince(other.Oldest) >= seconds)
                Close(other, at);
    }

    public void Flush(Moment at)
    {
        foreach (var outbox in _outboxes)
            if (outbox is { Samples: > 0 })
                Close(outbox, at);
    }

    private void Open(Outbox outbox, Moment at)
    {
        outbox.Oldest = at;
        outbox.Json.WriteStartObject();
        if (Habits.Boots) outbox.Json.WriteString("boot", _boot);
        if (Habits.Numbers) outbox.Json.WriteNumber("seq", outbox.Sequence++);
        outbox.Json.WriteStartArray("samples");
    }

    private void Close(Outbox outbox, Moment at)
    {
        outbox.Json.WriteEndArray();
        outbox.Json.WriteEndObject();
        outbox.Samples = 0;
        Send(outbox, at);
    }

    private void Presence(Moment at, bool online)
    {
        var outbox = _outboxes[(int)UpStream.Presence] ??= new Outbox(new Topic(vehicle.Haulier.Id, vehicle.Id, UpStream.Presence).ToString());
        outbox.Json.WriteStartObject();
        outbox.Json.WriteBoolean("online", online);
        if (online) Time(outbox.Json, at);
        if (Habits.Boots) outbox.Json.WriteString("boot", _boot);
        outbox.Json.WriteEndObject();
        Send(outbox, at);
    }

    private void Send(Outbox outbox, Moment at) => send(new SentMessage(at, outbox.Topic, outbox.Take()));

    private void Time(Utf8JsonWriter json, Moment at)
    {
        var shown = at.Plus(ClockAhead);
        if (Habits.TextTimes) json.WriteString("t", shown.ToString());
        else json.WriteNumber("t", shown.UnixMilliseconds);
    }

    private sealed class Outbox
    {
        private readonly ArrayBufferWriter<byte> _bytes = new();

        public Outbox(string topic)
        {
            Topic = topic;
            Json = new Utf8JsonWriter(_bytes);
        }

        public string Topic { get; }

        public Utf8JsonWriter Json { get; }

        public int Samples { get; set; }

        public long Sequence { get; set; }

        public Moment Oldest { get; set; }

        public void Restart() => Sequence = 0;

        public byte[] Take()
        {
            Json.Flush();
            var taken = _bytes.WrittenSpan.ToArray();
            _bytes.ResetWrittenCount();
            Json.Reset(_bytes);
            return taken;
        }
    }
}

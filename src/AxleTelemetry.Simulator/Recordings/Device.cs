using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>Gathers a vehicle's samples into messages and sends them.</summary>
internal sealed class Device((string Fleet, string Vehicle) name, DeviceHabits habits, SeededRandom random, Action<RecordedMessage> send)
{
    // News that is rare is not held back until a message is full.
    private const double MostSecondsHeld = 30, LeastLatency = 0.1, MostLatency = 3;

    private readonly Dictionary<UpStream, Outbox> _outboxes = [];
    private string _boot = "";
    private Moment _sent;
    private bool _restarted;

    public DeviceHabits Habits => habits;

    /// <summary>Starts, at the first call or when its time has come to start again. True where what was said before is forgotten.</summary>
    public bool RestartedBy(Moment at)
    {
        if (_boot.Length > 0 && (_restarted || !(habits.Restart <= at))) return false;
        if (_boot.Length > 0) GoOffline(at);
        _boot = random.Next().ToString("x", System.Globalization.CultureInfo.InvariantCulture)[..6];
        Send(UpStream.Presence, at, json =>
        {
            json.WriteBoolean("online", true);
            WriteTime(json, at);
        });
        return true;
    }

    /// <summary>Takes a sample; nothing is taken of one that says nothing.</summary>
    public void Add(UpStream stream, Moment at, Action<Utf8JsonWriter> write)
    {
        var sample = FrameSample.Object(json =>
        {
            WriteTime(json, at);
            write(json);
        });
        if (!sample.Contains((byte)',')) return;
        var outbox = OutboxOf(stream);
        if (outbox.Samples.Count == 0) outbox.Oldest = at;
        outbox.Samples.Add(sample);
        outbox.Newest = at;
        if (outbox.Samples.Count >= outbox.Full) Send(stream, at);
        foreach (var (other, held) in _outboxes.Where(o => o.Value.Samples.Count > 0 && at.SecondsSince(o.Value.Oldest) > MostSecondsHeld)) Send(other, at);
    }

    /// <summary>Says at once what hangs on the vehicle.</summary>
    public void Couple(Moment at, IEnumerable<string> trailers)
    {
        RestartedBy(at);
        Add(UpStream.Coupling, at, json =>
        {
            json.WriteStartArray("trailers");
            foreach (var trailer in trailers) json.WriteStringValue(trailer);
            json.WriteEndArray();
        });
        Send(UpStream.Coupling, at);
    }

    /// <summary>Sends what is held.</summary>
    public void Flush()
    {
        foreach (var (stream, outbox) in _outboxes) Send(stream, outbox.Newest);
    }

    // The broker speaks the last will: it holds no time, since it was written before it was true.
    private void GoOffline(Moment at)
    {
        Flush();
        _restarted = true;
        Send(UpStream.Presence, at, json => json.WriteBoolean("online", false));
        foreach (var outbox in _outboxes.Values) outbox.Sequence = 0;
    }

    private Outbox OutboxOf(UpStream stream)
    {
        if (!_outboxes.TryGetValue(stream, out var outbox)) _outboxes[stream] = outbox = new Outbox { Full = Full() };
        return outbox;
    }

    private int Full() => random.Whole(1, habits.MostSamples);

    private void Send(UpStream stream, Moment at)
    {
        var outbox = OutboxOf(stream);
        if (outbox.Samples.Count == 0) return;
        var newest = outbox.Newest > at ? outbox.Newest : at;
        Send(stream, newest, json =>
        {
            if (habits.Numbers) json.WriteNumber("seq", outbox.Sequence++);
            json.WriteStartArray("samples");
            foreach (var sample in outbox.Samples) json.WriteRawValue(sample, skipInputValidation: true);
            json.WriteEndArray();
        });
        outbox.Samples.Clear();
        outbox.Full = Full();
    }

    private void Send(UpStream stream, Moment at, Action<Utf8JsonWriter> write)
    {
        var payload = FrameSample.Object(json =>
        {
            if (habits.Boots) json.WriteString("boot", _boot);
            write(json);
        });
        // A connection keeps the order of its messages.
        var received = at.Plus(random.Between(LeastLatency, MostLatency));
        if (received > _sent) _sent = received;
        send(new RecordedMessage(new Topic(name.Fleet, name.Vehicle, stream).ToString(), payload, _sent));
    }

    private void WriteTime(Utf8JsonWriter json, Moment at)
    {
        if (habits.TextTimes) json.WriteString("t", at.ToString());
        else json.WriteNumber("t", at.UnixMilliseconds);
    }

    private sealed class Outbox
    {
        public readonly List<byte[]> Samples = [];
        public Moment Oldest;
        public Moment Newest;
        public int Full;
        public long Sequence;
    }
}

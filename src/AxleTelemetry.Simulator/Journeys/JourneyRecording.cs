using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>
/// What the units send of a journey, as messages of the contract: frames of several samples, one sample a second; couplings
/// and conditions when there is news. Trailers send their own pressures and lifts under their own topic.
/// </summary>
public sealed class JourneyRecording
{
    private const int MostSamples = 20;

    private readonly JourneyScript _script;
    private readonly string _fleet;
    private readonly Outbox[] _outboxes;

    private JourneyRecording(JourneyScript script, string fleet)
    {
        _script = script;
        _fleet = fleet;
        _outboxes = [.. script.Combination.Bodies.Select(_ => new Outbox())];
    }

    /// <summary>The messages in the order received, each received when its last sample was taken.</summary>
    public static IEnumerable<RecordedMessage> Of(JourneyScript script, IEnumerable<JourneyMoment> moments, string fleet) =>
        new JourneyRecording(script, fleet).Messages(moments);

    private IEnumerable<RecordedMessage> Messages(IEnumerable<JourneyMoment> moments)
    {
        var begun = false;
        var last = _script.Start;
        foreach (var moment in moments.Where(m => m.Heard))
        {
            if (!begun && _script.Combination.Bodies.Length > 1) yield return Coupling(moment.At);
            begun = true;
            last = moment.At;
            foreach (var body in _script.Combination.Bodies)
            {
                if (Condition(body, moment) is { } condition) yield return condition;
                var outbox = _outboxes[body.Index];
                outbox.Frames.Add(FrameSample.Of(_script, body, moment, outbox.Said));
                if (outbox.Frames.Count >= MostSamples) yield return Frame(body, moment.At);
            }
        }

        foreach (var body in _script.Combination.Bodies)
            if (_outboxes[body.Index].Frames.Count > 0)
                yield return Frame(body, last);
    }

    private RecordedMessage Coupling(Moment at) => Message(_script.Combination.Bodies[0], UpStream.Coupling, 0, at, [FrameSample.Object(json =>
    {
        json.WriteNumber("t", at.UnixMilliseconds);
        json.WriteStartArray("trailers");
        foreach (var trailer in _script.Combination.Vehicles.Skip(1)) json.WriteStringValue(trailer.Id);
        json.WriteEndArray();
    })]);

    private RecordedMessage? Condition(BodyPart body, JourneyMoment moment)
    {
        var outbox = _outboxes[body.Index];
        // What moves all the time travels in the frame.
        var report = moment.Reports[body.Index] with { WheelSpeed = null };
        if (outbox.Condition == report || (body.Index > 0 && outbox.Condition is null && report == default)) return null;
        var before = outbox.Condition;
        outbox.Condition = report;
        var sample = FrameSample.Condition(body, moment.At, before, report);
        return Message(body, UpStream.Condition, outbox.Conditions++, moment.At, [sample]);
    }

    private RecordedMessage Frame(BodyPart body, Moment at)
    {
        var outbox = _outboxes[body.Index];
        var message = Message(body, UpStream.Frame, outbox.Sequence++, at, outbox.Frames);
        outbox.Frames.Clear();
        return message;
    }

    private RecordedMessage Message(BodyPart body, UpStream stream, long sequence, Moment at, IReadOnlyList<byte[]> samples)
    {
        var payload = FrameSample.Object(json =>
        {
            json.WriteNumber("seq", sequence);
            json.WriteStartArray("samples");
            foreach (var sample in samples) json.WriteRawValue(sample, skipInputValidation: true);
            json.WriteEndArray();
        });
        return new RecordedMessage(new Topic(_fleet, body.Vehicle.Id, stream).ToString(), payload, at.Plus(0.4));
    }

    /// <summary>What a unit has said and has still to send.</summary>
    private sealed class Outbox
    {
        public readonly List<byte[]> Frames = [];
        public readonly Dictionary<int, Domain.Readings.LiftReport> Said = [];
        public long Sequence;
        public long Conditions;
        public SelfReport? Condition;
    }
}

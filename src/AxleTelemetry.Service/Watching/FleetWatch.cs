using System.Buffers;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Fleet;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Watching;

/// <summary>
/// A fleet that is watched: messages in from one side, looked at from the other. A message is taken on the thread that
/// brings it, so that a slow reader of the output holds up the broker's hand-over and nothing piles up here.
/// </summary>
internal sealed class FleetWatch
{
    private const long AdvanceEveryMilliseconds = 250;

    private readonly Lock _gate = new();
    private readonly FleetLanes _lanes;
    private readonly IDisplay _display;
    private readonly TimeProvider _clock;
    private readonly SortedDictionary<FindingKind, long> _episodes = [];
    private Moment? _received;
    private long _advanced = long.MinValue;

    /// <summary>Opens a watch that nothing has come to yet.</summary>
    public FleetWatch(FleetInput input, FleetOptions options, IDisplay display, TimeProvider clock)
    {
        _display = display;
        _clock = clock;
        _lanes = new FleetLanes(new Roster(input.Vehicles), input.Setup, Tell, options);
    }

    /// <summary>By our clock.</summary>
    public Moment Now => new(_clock.GetUtcNow().ToUnixTimeMilliseconds());

    /// <summary>Takes a message.</summary>
    /// <param name="topic">Its topic.</param>
    /// <param name="payload">Its bytes.</param>
    /// <param name="received">When it was received; <c>null</c> where a recording does not say.</param>
    public void Take(string topic, in ReadOnlySequence<byte> payload, Moment? received)
    {
        lock (_gate)
        {
            _received = received;
            if (received is { } at) AdvanceTo(at);
            _lanes.Take(topic, payload.IsSingleSegment ? payload.FirstSpan : payload.ToArray(), received ?? Now);
        }
    }

    /// <summary>Something that should have been a message was none.</summary>
    public void Refuse(Refusal refusal)
    {
        lock (_gate) _lanes.Refuse(default, _received ?? Now, refusal);
    }

    /// <summary>Time has passed by our clock.</summary>
    public void Advance()
    {
        lock (_gate) AdvanceTo(Now);
    }

    /// <summary>Says something about the watch itself.</summary>
    public void Note(string text)
    {
        lock (_gate) _display.Note(text);
    }

    /// <summary>Looks at the fleet while nothing moves.</summary>
    public T Look<T>(Func<FleetLanes, T> look)
    {
        lock (_gate) return look(_lanes);
    }

    /// <summary>Nothing more will come.</summary>
    public WatchSummary End()
    {
        lock (_gate)
        {
            _lanes.Flush();
            return WatchSummary.Of(_lanes, _episodes);
        }
    }

    private void AdvanceTo(Moment at)
    {
        if (at.UnixMilliseconds - _advanced < AdvanceEveryMilliseconds && _advanced != long.MinValue) return;
        _advanced = at.UnixMilliseconds;
        _lanes.Advance(at);
    }

    private void Tell(FleetEvent happened)
    {
        if (happened is FleetEvent.Said { Output: LaneOutput.Episode { Change: EpisodeChange.Opened } episode })
            _episodes[episode.Key.Kind] = _episodes.GetValueOrDefault(episode.Key.Kind) + 1;
        _display.Tell(happened);
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Fleet;

/// <summary>
/// A powered vehicle with its lane. Its readings, those of the trailers behind it and its couplings are taken in the order
/// of their moments, whatever the order they came in.
/// </summary>
internal sealed class PoweredUnit : Followed
{
    private readonly Func<Combination, LaneSetup> _setup;
    private readonly Action<FleetEvent> _tell;
    private readonly SortedDictionary<(long At, int Rank), CouplingChange> _changes = [];
    private readonly List<LaneOutput> _outputs = [];
    private long _statedAt = long.MinValue;
    private long _takenTo = long.MinValue;

    /// <summary>A vehicle that drives solo until told otherwise.</summary>
    public PoweredUnit(VehicleName name, Described described, Func<Combination, LaneSetup> setup, Action<FleetEvent> tell)
        : base(name, described)
    {
        _setup = setup;
        _tell = tell;
        Lane = new Lane(setup(Solo(described.Vehicle)));
    }

    /// <summary>The lane of the combination as it stands at the latest reading taken.</summary>
    public Lane Lane { get; private set; }

    /// <summary>The trailers behind it, in order.</summary>
    public ImmutableArray<Trailer> Trailers { get; private set; } = [];

    /// <summary>Trailers it ever claimed.</summary>
    public HashSet<Trailer> EverClaimed { get; } = [];

    /// <summary>Why the lane stopped, a fault of ours; <c>null</c> while it runs.</summary>
    public string? StoppedBecause { get; private set; }

    /// <summary>Latest moment of anything that belongs to the combination, Unix milliseconds.</summary>
    public long Newest
    {
        get
        {
            var newest = _changes.Count > 0 ? Math.Max(Queue.Newest, _changes.Keys.Last().At) : Queue.Newest;
            foreach (var trailer in EverClaimed)
                if (trailer.Queue.Newest > newest && trailer.Claims.At(trailer.Queue.Newest) == Name)
                    newest = trailer.Queue.Newest;
            return newest;
        }
    }

    /// <summary>True where something waits to be taken.</summary>
    public bool Waits => Queue.Waiting > 0 || _changes.Count > 0 || Trailers.Any(t => t.Queue.Waiting > 0);

    /// <summary>
    /// Takes a statement of what hangs on it. One that comes late holds from now on, unless a later one was taken already:
    /// a trailer unknown for the rest of the trip would be worse than one known too late.
    /// </summary>
    /// <returns>The moment it holds from; <c>null</c> where it changes nothing.</returns>
    public long? State(CouplingChange.Stated stated)
    {
        var at = stated.At;
        if (at <= _takenTo && stated.Trailers.SequenceEqual(Trailers) && _changes.Count == 0)
        {
            Counts.Repeated++;
            return null;
        }

        if (at <= _takenTo) Counts.Late++;
        if (at <= _statedAt) return null;
        var from = Math.Max(at, _takenTo);
        if (_changes.TryGetValue((from, 1), out var before) && before is CouplingChange.Stated other)
        {
            if (other.At == stated.At && other.Text == stated.Text) Counts.Repeated++;
            else if (other.At == stated.At) Counts.Conflicting++;
            if (other.CompareTo(stated) >= 0) return null;
        }

        _changes[(from, 1)] = stated;
        return from;
    }

    /// <summary>Couples it before anything was heard of it.</summary>
    public void Begin(Combination combination, ImmutableArray<Trailer> trailers)
    {
        Lane = new Lane(_setup(combination));
        Trailers = trailers;
    }

    /// <summary>Another vehicle claims a trailer from a moment on.</summary>
    public void Lose(long at, Trailer trailer) => _changes[(at, 0)] = new CouplingChange.Lost(trailer);

    /// <summary>Takes everything up to a moment.</summary>
    public void Release(long to)
    {
        while (true)
        {
            var body = NextBody(to, out var next);
            if (_changes.Count > 0 && _changes.First() is var change && change.Key.At <= to && (body < 0 || change.Key.At < next.At.UnixMilliseconds))
            {
                _changes.Remove(change.Key);
                Apply(change.Key.At, change.Value);
            }
            else if (body < 0)
            {
                break;
            }
            else
            {
                Step(body, body == 0 ? Take() : Trailers[body - 1].Take());
            }
        }

        Queue.Close(to);
        foreach (var trailer in Trailers) trailer.Queue.Close(to);
        _takenTo = Math.Max(_takenTo, to);
    }

    private int NextBody(long to, out Reading next)
    {
        var body = -1;
        next = default;
        if (Queue.Waiting > 0 && Queue.Next.At.UnixMilliseconds <= to)
        {
            body = 0;
            next = Queue.Next;
        }

        for (var i = 0; i < Trailers.Length; i++)
        {
            var queue = Trailers[i].Queue;
            Trailers[i].PassOver(body < 0 ? to : Math.Min(to, next.At.UnixMilliseconds));
            if (queue.Waiting == 0 || queue.Next.At.UnixMilliseconds > to || body >= 0 && queue.Next.At >= next.At) continue;
            if (Trailers[i].Claims.At(queue.Next.At.UnixMilliseconds) != Name) continue;
            body = i + 1;
            next = queue.Next;
        }

        return body;
    }

    private void Step(int body, Reading reading)
    {
        var counts = body == 0 ? Counts : Trailers[body - 1].Counts;
        if (StoppedBecause is not null) counts.Unstepped++;
        // A trailer that another vehicle held up in between: its readings lie behind what this lane has taken.
        else if (reading.At.UnixMilliseconds <= _takenTo) counts.Late++;
        else
        {
            counts.Stepped++;
            try
            {
                Lane.Step(body, reading, _outputs);
            }
            catch (Exception fault) when (fault is not OutOfMemoryException)
            {
                Stop(reading.At, fault);
            }

            if (_outputs.Count > 0) Tell(Lane.Setup.Combination);
        }
    }

    private void Apply(long at, CouplingChange change)
    {
        switch (change)
        {
            case CouplingChange.Stated stated:
                _statedAt = stated.At;
                Recouple(at, stated.Combination, stated.Trailers);
                break;
            case CouplingChange.Lost lost when Trailers.IndexOf(lost.Trailer) is var first and >= 0:
                var left = Trailers[..first];
                if (Combination.Couple([Described.Vehicle, .. left.Select(t => t.Described.Vehicle)]) is CouplingResult.Coupled coupled)
                    Recouple(at, coupled.Combination, left);
                break;
            case CouplingChange.Lost:
                break;
            default:
                throw new InvalidOperationException("A change of coupling that nobody handles.");
        }
    }

    private void Recouple(long at, Combination combination, ImmutableArray<Trailer> trailers)
    {
        if (trailers.SequenceEqual(Trailers)) return;
        var moment = new Moment(at);
        try
        {
            Replace(at, moment, combination, trailers);
        }
        catch (Exception fault) when (fault is not OutOfMemoryException)
        {
            Stop(moment, fault);
        }

        Tell(Lane.Setup.Combination);
    }

    private void Replace(long at, Moment moment, Combination combination, ImmutableArray<Trailer> trailers)
    {
        var before = Lane;
        LaneHandover.End(before, moment, _outputs);
        Tell(before.Setup.Combination);
        Lane = new Lane(_setup(combination));
        LaneHandover.TakeOver(before, Lane, moment);
        var stayed = Trailers;
        Trailers = trailers;
        _tell(new FleetEvent.Coupled(Name, moment, combination));
        for (var i = 0; i < trailers.Length; i++)
            if (!stayed.Contains(trailers[i])) Join(trailers[i], i + 1, at);
    }

    private void Join(Trailer trailer, int body, long at)
    {
        trailer.PassOver(at);
        foreach (var word in trailer.WordsAt(at)) Lane.Step(body, word, _outputs);
    }

    /// <summary>A broken rule of ours stops this lane loudly, and no other.</summary>
    private void Stop(Moment at, Exception fault)
    {
        StoppedBecause = fault.Message;
        _tell(new FleetEvent.Stopped(Name, at, fault.Message));
    }

    private void Tell(Combination combination)
    {
        foreach (var output in _outputs) _tell(new FleetEvent.Said(Name, combination, output));
        _outputs.Clear();
    }

    private static Combination Solo(VehicleDescription vehicle) => Combination.Couple([vehicle]) switch
    {
        CouplingResult.Coupled coupled => coupled.Combination,
        CouplingResult.Impossible impossible => throw new InvalidOperationException(impossible.Reason),
        _ => throw new InvalidOperationException("An outcome of coupling that nobody handles."),
    };
}

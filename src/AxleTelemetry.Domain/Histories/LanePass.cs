using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Takes a track through a stretch of time: readings of all its vehicles by moment, vehicle, stream and key; after a moment's readings what was said of couplings and versions at it.</summary>
/// <param name="track">The track.</param>
/// <param name="ledger">Who is coupled to whom when, in which version.</param>
/// <param name="readings">A vehicle's readings after one moment, up to another.</param>
/// <param name="words">What a vehicle last said of its lifts and suspension, up to a moment.</param>
internal sealed class LanePass(
    LaneTrack track, FleetLedger ledger, Func<VehicleName, long, long, IEnumerable<Reading>> readings, Func<VehicleName, long, IEnumerable<Reading>> words)
{
    private VehicleName Unit => track.Members[0].Vehicle;

    /// <summary>The members may be others than those the track was left with: word came too late for their own moment, and counts from here.</summary>
    public void TakeUp(long after, LaneSaid said)
    {
        if (after > long.MinValue) Become(ledger.MembersAt(Unit, after), after + 1, said);
    }

    /// <summary>Steps one reading after another. Nothing happens but what is asked for.</summary>
    /// <param name="after">Everything up to here was taken.</param>
    /// <param name="to">The end, included.</param>
    /// <param name="said">Receives what follows.</param>
    /// <param name="before">Called with the moment of each reading before it is stepped.</param>
    public IEnumerable<Reading> Steps(long after, long to, LaneSaid said, Action<long> before)
    {
        while (after < to)
        {
            var next = ledger.Next(Unit, after);
            var end = next is { } change && change < to ? change : to;
            foreach (var (body, reading) in Merged(track.Members, after, end))
            {
                before(reading.At.UnixMilliseconds);
                track.Step(body, reading, said);
                yield return reading;
            }

            if (next <= to) Become(ledger.MembersAt(Unit, end), end, said);
            after = end;
        }
    }

    private void Become(ImmutableArray<LaneMember> members, long at, LaneSaid said)
    {
        if (!members.AsSpan().SequenceEqual(track.Members.AsSpan())) track.Become(members, at, words, said);
    }

    private IEnumerable<(int Body, Reading Reading)> Merged(ImmutableArray<LaneMember> members, long after, long to)
    {
        ReadingStream?[] streams = [.. members.Select(m => new ReadingStream(readings(m.Vehicle, after, to)))];
        for (var i = 0; i < streams.Length; i++) Advance(streams, i);
        while (First(streams) is var body and >= 0)
        {
            yield return (body, streams[body]!.Current);
            Advance(streams, body);
        }
    }

    private static int First(ReadingStream?[] streams)
    {
        var first = -1;
        for (var i = 0; i < streams.Length; i++)
            if (streams[i] is { } stream && (first < 0 || stream.Current.At < streams[first]!.Current.At))
                first = i;
        return first;
    }

    private static void Advance(ReadingStream?[] streams, int at)
    {
        if (streams[at]!.Advance()) return;
        streams[at]!.Dispose();
        streams[at] = null;
    }
}

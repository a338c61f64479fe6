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
    LaneTrack track, FleetLedger ledger, Func<VehicleName, long, long, ReadingStream> readings, Func<VehicleName, long, IEnumerable<Reading>> words)
{
    private VehicleName Unit => track.Members[0].Vehicle;

    /// <summary>The members may be others than those the track was left with: word came too late for their own moment, and counts from here.</summary>
    public void TakeUp(long after, LaneSaid said)
    {
        if (after == long.MinValue) return;
        Become(ledger.MembersAt(Unit, after), after + 1, said);
        track.Claim(ledger.ClaimsOf(Unit, after), after + 1, said);
    }

    /// <summary>Steps one reading after another. Nothing happens but what is asked for.</summary>
    /// <param name="after">Everything up to here was taken.</param>
    /// <param name="to">The end, included.</param>
    /// <param name="said">Receives what follows.</param>
    /// <param name="before">Called with each moment before its first reading is stepped.</param>
    public IEnumerable<Reading> Steps(long after, long to, LaneSaid said, Action<long> before)
    {
        while (after < to)
        {
            var next = ledger.Next(Unit, after);
            var end = next is { } change && change < to ? change : to;
            var streams = Begin(after, end);
            var moment = after;
            for (var body = First(streams); body >= 0; body = First(streams))
            {
                var reading = streams[body]!.Current;
                if (reading.At.UnixMilliseconds != moment) before(moment = reading.At.UnixMilliseconds);
                track.Step(body, reading, said);
                yield return reading;
                Advance(streams, body);
            }

            if (next <= to)
            {
                Become(ledger.MembersAt(Unit, end), end, said);
                track.Claim(ledger.ClaimsOf(Unit, end), end, said);
            }

            after = end;
        }
    }

    private void Become(ImmutableArray<LaneMember> members, long at, LaneSaid said)
    {
        if (!members.AsSpan().SequenceEqual(track.Members.AsSpan())) track.Become(members, at, new FormerKnowledge(words, ledger.AboardAt), said);
    }

    private ReadingStream?[] Begin(long after, long to)
    {
        var streams = new ReadingStream?[track.Members.Length];
        for (var i = 0; i < streams.Length; i++)
        {
            streams[i] = readings(track.Members[i].Vehicle, after, to);
            Advance(streams, i);
        }

        return streams;
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

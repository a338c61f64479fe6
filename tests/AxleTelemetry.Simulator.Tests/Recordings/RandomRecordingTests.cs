using System.Collections.Immutable;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Recordings;

namespace AxleTelemetry.Simulator.Tests.Recordings;

public sealed class RandomRecordingTests
{
    private static readonly ImmutableArray<ImmutableArray<RecordedMessage>> Several = [.. Enumerable.Range(1, 6).Select(seed => RandomRecording.Draw((ulong)seed, Recorded.Scene))];

    [Fact]
    public void A_seed_gives_the_same_bytes_and_another_seed_gives_others()
    {
        Assert.Equal(Written(Several[0]), Written(RandomRecording.Draw(1, Recorded.Scene)));
        Assert.NotEqual(Written(Several[0]), Written(Several[1]));
    }

    [Fact]
    public void A_recording_is_read_back_as_it_was_written()
    {
        using var stream = new MemoryStream(Written(Several[0]));
        var read = new RecordingReader(stream).Entries().Select(e => Assert.IsType<RecordingEntry.Read>(e).Message).ToList();
        Assert.Equal(Several[0].Select(m => (m.Topic, m.Received)), read.Select(m => (m.Topic, m.Received)));
        Assert.All(Several[0].Zip(read), pair => Assert.True(pair.First.Payload.Span.SequenceEqual(pair.Second.Payload.Span)));
    }

    [Fact]
    public void Messages_are_good_in_order_and_none_before_its_samples()
    {
        foreach (var recording in Several)
        {
            Assert.NotEmpty(Recorded.Decoded(recording));
            Assert.Equal(recording.Select(m => m.Received).Order(), recording.Select(m => m.Received));
        }
    }

    [Fact]
    public void Nothing_is_said_twice_with_different_values()
    {
        foreach (var recording in Several)
        {
            var all = Recorded.Decoded(recording).SelectMany(d => d.Message.Readings.ToArray().Select(r => (d.Topic.Vehicle, r.At, r.Kind, r.Key))).ToList();
            Assert.Equal(all.Count, all.Distinct().Count());
        }
    }

    [Fact]
    public void Every_stream_every_length_and_every_habit_occurs()
    {
        var decoded = Several.SelectMany(r => Recorded.Decoded(r)).ToList();
        Assert.Equal(Enum.GetValues<UpStream>(), decoded.Select(d => d.Topic.Stream).Distinct().Order());
        Assert.Equal(Enumerable.Range(0, 31), decoded.Select(d => d.Message.Samples).Distinct().Order());
        Assert.Contains(decoded, d => d.Message.Sequence is null && d.Topic.Stream != UpStream.Presence);
        Assert.Contains(decoded, d => d.Message.Boot is null);
        Assert.Contains(decoded, d => d.Message.Presence is { Online: false });
        foreach (var kind in Enum.GetValues<ReadingKind>()) Assert.Contains(decoded, d => d.Message.Readings.ToArray().Any(r => r.Kind == kind));
    }

    [Fact]
    public void A_trailer_speaks_for_itself_and_changes_between_tractors()
    {
        var statements = Several.SelectMany((r, i) => Recorded.Decoded(r).SelectMany(d => d.Message.Couplings.ToArray().Select(c => (Recording: i, d.Topic.Vehicle, c.Trailers)))).ToList();
        Assert.Contains(statements, s => s.Trailers.IsEmpty);
        var pullers = statements.SelectMany(s => s.Trailers.Select(t => (s.Recording, Trailer: t, s.Vehicle))).Distinct().GroupBy(p => (p.Recording, p.Trailer));
        Assert.Contains(pullers, p => p.Count() > 1);
        Assert.All(Several, r => Assert.Contains(r, m => m.Topic.StartsWith("axles/v1/north/ST-06/", StringComparison.Ordinal)));
    }

    private static byte[] Written(ImmutableArray<RecordedMessage> messages)
    {
        using var stream = new MemoryStream();
        var writer = new RecordingWriter(stream);
        foreach (var message in messages) writer.Write(message);
        return stream.ToArray();
    }
}

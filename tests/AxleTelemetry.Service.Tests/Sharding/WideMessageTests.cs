using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Sharding;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>Messages with samples far apart.</summary>
public sealed class WideMessageTests
{
    private const int Hour = 3600;

    private static readonly Moment Start = new(1_772_431_200_000);

    [Fact]
    public void What_the_archive_was_asked_for_in_the_batch_of_a_wide_message_it_holds_after_the_commit()
    {
        var (run, _) = ShardRun.InMemory(Start);
        run.Append(Message(0, 0));
        run.Append(Message(60, 60));
        // The second makes the archive look for it while the first is not yet committed.
        run.Append(Message(20 * Hour, 4 * Hour, 20 * Hour), Message(20 * Hour, 0, 1));
        var vehicle = new VehicleName("north", "RT-01");
        var held = run.Shard.State.Archive.Between(vehicle, Start.Plus(3 * Hour), Start.Plus(30 * Hour));
        Assert.Equal([Start.Plus(4 * Hour), Start.Plus(20 * Hour)], held.Select(r => r.At).Distinct());
    }

    private static RecordedMessage Message(int received, params int[] seconds)
    {
        var samples = seconds.Select((s, i) => FormattableString.Invariant($$"""{"t":{{Start.Plus(s).UnixMilliseconds}},"kpa":{"drive":{{400 + i}} } }"""));
        return new("axles/v1/north/RT-01/pressure", Encoding.UTF8.GetBytes($$"""{"samples":[{{string.Join(',', samples)}}]}"""), Start.Plus(received));
    }
}

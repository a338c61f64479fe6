using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
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

    [Fact]
    public void Opened_ones_are_let_go_beyond_a_bound_and_opened_again()
    {
        var (run, store) = ShardRun.InMemory(Start);
        string[] vehicles = ["RT-01", "TR-04", "TP-05", "ST-06", "SB-07"];
        foreach (var vehicle in vehicles) run.Append(Message(20 * Hour, 0, 4 * Hour, 20 * Hour) with { Topic = $"axles/v1/north/{vehicle}/position", Payload = Positions });
        var wide = new WideMessages(store, run.Shard.State.Readings, most: 60);
        var all = new WideMessages(store, run.Shard.State.Readings);
        var fresh = new Reading(Start.Plus(4 * Hour), ReadingKind.Position, 0, 1);
        Assert.NotEmpty(wide.Of(new VehicleName("north", "RT-01"), WideMessages.HourOf(fresh.At)));
        wide.Add(new VehicleName("north", "RT-01"), fresh);
        for (var round = 0; round < 3; round++)
        {
            foreach (var vehicle in vehicles.Select(v => new VehicleName("north", v)))
            {
                var own = wide.Of(vehicle, WideMessages.HourOf(fresh.At)).Order().ToList();
                if (vehicle.Id == "RT-01") Assert.True(own.Remove(fresh), "not yet committed, and still there");
                Assert.Equal(all.Of(vehicle, WideMessages.HourOf(fresh.At)).Order(), own);
                Assert.NotEmpty(own);
                Assert.InRange(wide.Held, 1, 60);
            }
        }
    }

    private static byte[] Positions => Encoding.UTF8.GetBytes($$"""{"samples":[{{string.Join(',', new[] { 0, 4, 20 }.Select(h =>
        FormattableString.Invariant($$"""{"t":{{Start.Plus(h * Hour).UnixMilliseconds}},"lat":50.1,"lon":8.{{h}},"speed":20}""")))}}]}""");

    private static RecordedMessage Message(int received, params int[] seconds)
    {
        var samples = seconds.Select((s, i) => FormattableString.Invariant($$"""{"t":{{Start.Plus(s).UnixMilliseconds}},"kpa":{"drive":{{400 + i}} } }"""));
        return new("axles/v1/north/RT-01/pressure", Encoding.UTF8.GetBytes($$"""{"samples":[{{string.Join(',', samples)}}]}"""), Start.Plus(received));
    }
}

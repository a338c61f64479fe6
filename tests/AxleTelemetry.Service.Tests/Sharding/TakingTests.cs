using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>What becomes of single messages.</summary>
public sealed class TakingTests
{
    private static readonly Moment Start = new(1_772_431_200_000);

    [Theory]
    [InlineData("TR-04", "\"ST-06\"", true)]
    [InlineData("TR-04", "", true)]
    [InlineData("TR-04", "\"XX-99\"", true)]
    [InlineData("R8-03", "\"XX-99\"", false)]
    [InlineData("RT-01", "\"ST-06\"", false)]
    [InlineData("ST-06", "\"SB-07\"", false)]
    public void A_coupling_that_cannot_be_is_refused_with_its_reason(string by, string trailers, bool taken)
    {
        var (run, store) = ShardRun.InMemory(Start);
        run.Append(Message(by, "coupling", $$"""{"samples":[{"t":{{Start.UnixMilliseconds}},"trailers":[{{trailers}}]}]}"""));
        Assert.Equal(taken ? 1 : 0, Inputs(store, by).Length);
        var refused = run.Shard.State.Refusals.Of("north", by);
        Assert.Equal(taken ? 0 : 1, refused.Total);
        if (!taken) Assert.Equal(RefusalReason.CannotBeCoupled, Assert.Single(refused.Counts).Key);
    }

    [Theory]
    [InlineData("clearance", "clearance", 0)]
    [InlineData("none", null, 0)]
    [InlineData("fun", null, 1)]
    public void Why_an_axle_stands_so_is_shown_with_it(string said, string? shown, int refused)
    {
        var (run, _) = ShardRun.InMemory(Start);
        run.Append(Message("RT-01", "lift", $$"""{"samples":[{"t":{{Start.UnixMilliseconds}},"axles":{"tag":"raised"},"by":"driver","reason":"{{said}}"}]}"""));
        run.End();
        var axle = Assert.Single(VehicleWriting.Of(run.Shard.State.Find(new VehicleName("north", "RT-01"))!).Axles, a => a.Axle == "tag");
        Assert.Equal(("raised", shown), (axle.State, axle.Reason));
        Assert.Equal(refused, run.Shard.State.Refusals.Of("north", "RT-01").Total);
    }

    [Fact]
    public void A_presence_that_is_known_and_a_numbered_message_of_nothing_are_not_kept_again()
    {
        var (run, store) = ShardRun.InMemory(Start);
        var (on, off) = (Message("RT-01", "presence", """{"online":true}"""), Message("RT-01", "presence", """{"online":false}"""));
        run.Append(on);
        run.Append(on, off, off);
        run.Append(on);
        Assert.Equal(3, Inputs(store, "RT-01").Length);
        Assert.True(run.Shard.State.Find(new VehicleName("north", "RT-01"))!.Online);
        var empty = Message("TR-04", "pressure", """{"seq":7,"boot":"a1","samples":[]}""");
        run.Append(empty);
        run.Append(empty);
        run.Append(Message("TR-04", "pressure", """{"seq":8,"boot":"a1","samples":[]}"""));
        Assert.Equal(2, Inputs(store, "TR-04").Length);
    }

    [Fact]
    public void What_all_came_before_is_not_kept_again_and_a_conflict_is()
    {
        var (run, store) = ShardRun.InMemory(Start);
        var once = Message("RT-01", "pressure", Pressure(400));
        run.Append(once);
        run.Append(once);
        Assert.Single(Inputs(store, "RT-01"));
        run.Append(Message("RT-01", "pressure", Pressure(410)));
        Assert.Equal(2, Inputs(store, "RT-01").Length);
        var counts = run.Shard.State.Find(new VehicleName("north", "RT-01"))!.Readings;
        Assert.Equal((1, 1, 1), (counts.Taken - counts.Conflicting, counts.Repeated, counts.Conflicting));
    }

    [Fact]
    public void Unknown_vehicles_and_bad_topics_are_counted_and_kept_apart()
    {
        var (run, store) = ShardRun.InMemory(Start);
        run.Append(Message("NOBODY", "pressure", Pressure(400)), new RecordedMessage("axles/v1/north", "x"u8.ToArray(), Start), Message("RT-01", "pressure", Pressure(400)));
        Assert.Equal(1, run.Shard.State.Unknown.Messages);
        Assert.Equal(1, run.Shard.State.Refusals.Of("", "").Total);
        Assert.Single(Inputs(store, "RT-01"));
    }

    [Fact]
    public void What_a_person_does_after_a_while_in_which_nothing_happened_is_taken()
    {
        var (run, store) = ShardRun.InMemory(Start);
        run.Append(Message("RT-01", "pressure", Pressure(400)));
        run.Pass(Start.Plus(3 * 86_400));
        var silent = Assert.Single(run.Shard.State.Alerts.Alerts);
        // A tick of which nothing comes gives its number back.
        for (var minute = 1; minute < 10; minute++) run.Pass(run.Now.Plus(60));
        var taken = Assert.IsType<ActionOutcome.Taken>(run.Shard.Act(silent.Id, new OperatorAction.Acknowledge("desk"), run.Now.Plus(1)));
        run.Write();
        Assert.NotEmpty(taken.Changes);
        Assert.IsType<AlertState.Acknowledged>(run.Shard.State.Alerts.Find(silent.Id)!.State);
    }

    [Fact]
    public void What_was_refused_is_read_back_as_it_came()
    {
        var refused = new RefusedBytes("axles/v1/north/RT-01/lift", [new Refusal(RefusalReason.NotJson, "payload", "?", "JSON")], [1, 2, 255]);
        var read = RefusedBytes.Read(refused.Write())!;
        Assert.Equal(refused.Topic, read.Topic);
        Assert.Equal(refused.Refusals, read.Refusals);
        Assert.Equal(refused.Payload, read.Payload);
        Assert.Null(RefusedBytes.Read([9, 0, 0]));
    }

    private static LoggedInput[] Inputs(MemoryStore store, string vehicle) =>
        [.. store.Inputs(new InputQuery(new VehicleKey("north", vehicle), new SampleSpan(new Moment(0), new Moment(long.MaxValue))))];

    private static string Pressure(double kpa) => FormattableString.Invariant($$"""{"samples":[{"t":{{Start.UnixMilliseconds}},"kpa":{"drive":{{kpa}} } }]}""");

    private static RecordedMessage Message(string vehicle, string stream, string payload) => new($"axles/v1/north/{vehicle}/{stream}", Encoding.UTF8.GetBytes(payload), Start);
}

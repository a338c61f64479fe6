using System.Collections.Immutable;
using System.Text.Json.Nodes;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>What drivers are shown, and when nothing.</summary>
public sealed class AdviceTests
{
    private static readonly VehicleName Truck = new("north", "RT-01");

    [Fact]
    public void Whoever_drives_overloaded_is_told_which_axle_to_lower_until_the_stop_is_two_minutes_old()
    {
        var given = Given(RaisedHaul.Messages);
        var lower = given.Where(g => g.Advice is not null).ToArray();
        Assert.NotEmpty(lower);
        Assert.All(lower, g => Assert.Equal([2], g.Advice!.Lower));
        Assert.All(lower, g => Assert.Empty(g.Advice!.Raise));
        Assert.All(lower, g => Assert.Equal(FindingKind.Overload, g.Advice!.About.Kind));
        Assert.Contains(lower, g => g.Rolls);
        // The stop takes eight minutes: none of the advice is of its last six.
        Assert.DoesNotContain(lower, g => g.StoodSeconds > 121);
        Assert.Contains(given, g => g.StoodSeconds > 121);
    }

    [Theory]
    [InlineData(121)]
    [InlineData(86_400)]
    public void Who_is_not_heard_for_two_minutes_is_told_nothing(int seconds)
    {
        var (run, at) = UpToAdvice();
        Assert.Single(run.Shard.State.Advices(at));
        Assert.Empty(run.Shard.State.Advices(at.Plus(seconds)));
    }

    [Fact]
    public void To_raise_is_advised_at_a_stop_and_not_when_a_minute_has_passed_without_word()
    {
        var messages = RaisedHaul.Drawn("""
            vehicle rigid-6x2-tag
            calibration tickets
            trip national
            seed 11

            journey
            lift tag lowered
            load 3.5 t at 4.2 m
            stop 5 min
            drive 14 km at 70 km/h
            stop 3 min

            findings
            """);
        var run = new ShardRun(Shard.Begin(new TellingStore(), new ShardOptions()));
        run.Configure(messages[0].Received!.Value);
        var raises = 0;
        foreach (var some in messages.Chunk(10))
        {
            run.Append(some);
            if (!run.Shard.State.Advices(run.Now).Any(a => a.Advice.Raise.Contains(2))) continue;
            raises++;
            Assert.Equal(Movement.Standing, run.Shard.State.Find(Truck)!.View!.Movement);
            Assert.DoesNotContain(run.Shard.State.Advices(run.Now.Plus(71)), a => !a.Advice.Raise.IsEmpty);
        }

        Assert.True(raises > 0, "Nothing was to be raised.");
    }

    [Fact]
    public void A_lift_that_moves_ends_it()
    {
        var (run, at) = UpToAdvice();
        var lowered = $$"""{"samples":[{"t":{{at.UnixMilliseconds + 500}},"axles":{"tag":"lowered"} }]}""";
        run.Append(new RecordedMessage("axles/v1/north/RT-01/lift", System.Text.Encoding.UTF8.GetBytes(lowered)) { Received = at.Plus(1) });
        run.Pass(at.Plus(5));
        Assert.DoesNotContain(run.Shard.State.Advices(at.Plus(5)), a => a.Advice.Lower.Contains(2));
    }

    [Theory]
    [InlineData("nothing", true)]
    [InlineData("kpa", false)]
    [InlineData("lat lon alt_m speed_mps heading_deg accuracy_m", false)]
    public void Two_minutes_without_position_or_without_pressure_end_it_whatever_else_comes(string lost, bool goesOn)
    {
        var (run, at) = UpToAdvice();
        foreach (var some in RaisedHaul.Messages.Skip(RaisedHaul.UpToAdvice.Length).TakeWhile(m => m.Received!.Value.SecondsSince(at) < 150).Chunk(10))
        {
            run.Append(some.Select(m => Without(m, lost.Split(' '))));
            // A minute is no loss yet.
            if (run.Now.SecondsSince(at) < 60) Assert.Contains(run.Shard.State.Advices(run.Now), g => g.Advice.Lower.Contains(2));
        }

        Assert.True(run.Now.SecondsSince(at) > 125);
        Assert.Equal(goesOn, run.Shard.State.Advices(run.Now).Any());
    }

    [Fact]
    public void A_trailer_that_is_coupled_ends_it()
    {
        var (run, at) = UpToAdvice();
        var coupled = $$"""{"samples":[{"t":{{at.UnixMilliseconds + 500}},"trailers":["TR-07"]}]}""";
        run.Append(new RecordedMessage("axles/v1/north/RT-01/coupling", System.Text.Encoding.UTF8.GetBytes(coupled)) { Received = at.Plus(1) });
        run.Pass(at.Plus(5));
        Assert.Empty(run.Shard.State.Advices(at.Plus(5)));
    }

    [Theory]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(9)]
    public void Whatever_vehicles_send_nothing_is_to_be_raised_while_it_moves_and_nothing_old_is_shown(int seed)
    {
        var all = 0;
        var run = new ShardRun(Shard.Begin(new TellingStore(), new ShardOptions()));
        var recording = RandomFleet.Recording((ulong)seed);
        run.Configure(recording[0].Received!.Value);
        foreach (var some in recording.Chunk(25))
        {
            run.Append(some);
            foreach (var (unit, advice, vehicles) in run.Shard.State.Advices(run.Now))
            {
                all++;
                var view = run.Shard.State.Find(unit)!.View!;
                if (view.Movement != Movement.Standing) Assert.Empty(advice.Raise);
                Assert.NotEqual(Movement.Carried, view.Movement);
                Assert.True(run.Now.SecondsSince(view.At!.Value) <= LaneAdvising.LongestWithout);
                Assert.Equal(view.Configuration, advice.Present);
                Assert.All(advice.Lower, a => Assert.NotEqual(AxleState.Loaded, advice.Present[a]));
                Assert.All(advice.Raise, a => Assert.NotEqual(AxleState.Raised, advice.Present[a]));
                Assert.NotEmpty(AdviceDocument.Of("id", advice, vehicles, (run.Now, run.Now.Plus(120))).Why["en"]);
            }
        }

        TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant($"{all} times advice was given"));
    }

    private static RecordedMessage Without(RecordedMessage message, string[] keys)
    {
        var payload = JsonNode.Parse(message.Payload.Span)!;
        foreach (var sample in payload["samples"]?.AsArray() ?? [])
            foreach (var key in keys)
                sample!.AsObject().Remove(key);
        return new RecordedMessage(message.Topic, System.Text.Encoding.UTF8.GetBytes(payload.ToJsonString())) { Received = message.Received };
    }

    /// <summary>A shard that has taken as much of the haul as brings the first advice.</summary>
    private static (ShardRun Run, Moment At) UpToAdvice()
    {
        var run = new ShardRun(Shard.Begin(new TellingStore(), new ShardOptions()));
        run.Configure(RaisedHaul.Messages[0].Received!.Value);
        foreach (var some in RaisedHaul.UpToAdvice.Chunk(10)) run.Append(some);
        return (run, run.Now);
    }

    private static List<(DriverAdvice? Advice, bool Rolls, double StoodSeconds)> Given(ImmutableArray<RecordedMessage> messages)
    {
        var run = new ShardRun(Shard.Begin(new TellingStore(), new ShardOptions()));
        run.Configure(messages[0].Received!.Value);
        var given = new List<(DriverAdvice?, bool, double)>();
        Moment? stood = null;
        foreach (var some in messages.Chunk(10))
        {
            run.Append(some);
            var movement = run.Shard.State.Find(Truck)?.View?.Movement;
            stood = movement == Movement.Standing ? stood ?? run.Now : null;
            given.Add((run.Shard.State.Advices(run.Now).Select(a => a.Advice).FirstOrDefault(), movement == Movement.Rolling, stood is { } since ? run.Now.SecondsSince(since) : 0));
        }

        return given;
    }
}

using System.Buffers;
using System.Collections.Concurrent;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Simulating;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace AxleTelemetry.Service.Tests.Simulating;

public sealed class SimulatedSendingTests
{
    private static readonly DateTimeOffset Now = new(2026, 11, 25, 15, 30, 0, 250, TimeSpan.Zero);

    private static readonly SimulationOrder Order = new(5, new FleetPlan { EverySeconds = 10, Units = FleetPlan.Each(0).SetItem(UnitKind.TagRigid, 1) }, 1, new SimulationTarget.Files(""));

    [Fact]
    public async Task A_broker_gets_every_message_once_in_order_and_none_before_its_time()
    {
        var port = Mosquitto.FreePort();
        var clock = new LeapingClock(Now);
        var came = new ConcurrentQueue<(string Topic, string Payload, bool Retained, DateTimeOffset At)>();
        using var server = new MqttServerFactory().CreateMqttServer(new MqttServerOptionsBuilder().WithDefaultEndpoint().WithDefaultEndpointBoundIPAddress(System.Net.IPAddress.Loopback).WithDefaultEndpointPort(port).Build());
        server.InterceptingPublishAsync += sent =>
        {
            Assert.Equal(MqttQualityOfServiceLevel.AtLeastOnce, sent.ApplicationMessage.QualityOfServiceLevel);
            came.Enqueue((sent.ApplicationMessage.Topic, Convert.ToHexString(sent.ApplicationMessage.Payload.ToArray()), sent.ApplicationMessage.Retain, clock.GetUtcNow()));
            return Task.CompletedTask;
        };
        await server.StartAsync();
        var target = new SimulationTarget.Broker("127.0.0.1", port, 1);
        var sending = new SimulatedSending(target, clock, TextWriter.Null);
        var expected = SimulatedFleet.Draw(Order.Seed, sending.Timed(Order, new Moment(Now.ToUnixTimeMilliseconds()))).Vehicles[0].Messages(0, 1).ToList();
        await sending.RunAsync(Order with { Into = target }, TestContext.Current.CancellationToken);
        await server.StopAsync();

        Assert.Equal(expected.Select(m => (m.Topic, Convert.ToHexString(m.Payload.Span))), came.Select(m => (m.Topic, m.Payload)));
        Assert.All(came, m => Assert.Equal(m.Topic.EndsWith("/presence", StringComparison.Ordinal), m.Retained));
        Assert.All(expected.Zip(came), p => Assert.True(p.Second.At.ToUnixTimeMilliseconds() >= p.First.SentAt.UnixMilliseconds, $"{p.First.SentAt} at {p.Second.At}"));
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(60, 1)]
    [InlineData(600, 2)]
    public void In_real_time_the_first_message_is_of_now_and_faster_the_last_is_not_later(double pace, int days)
    {
        var now = new Moment(Now.ToUnixTimeMilliseconds());
        var order = Order with { Days = days };
        var plan = new SimulatedSending(new SimulationTarget.Broker("127.0.0.1", 1883, pace), TimeProvider.System, TextWriter.Null).Timed(order, now);
        var sent = SimulatedFleet.Draw(order.Seed, plan).Play(0, days).OfType<DayOutput.Sent>().Select(s => s.Message.SentAt).ToList();
        if (pace > 1) Assert.InRange(sent[^1].SecondsSince(now), -86_400, 0);
        else Assert.InRange(sent[0].SecondsSince(now), -1, 0);
    }
}

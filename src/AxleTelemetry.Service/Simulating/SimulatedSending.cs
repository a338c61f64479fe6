using System.Globalization;
using System.Net.Sockets;
using System.Security.Authentication;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Watching;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace AxleTelemetry.Service.Simulating;

/// <summary>
/// Sends a simulated fleet's messages to a broker, each when its time has come. In real time the first is sent at once; faster
/// than that the days lie in the past and end now, so that nothing is ever ahead of the clock.
/// </summary>
internal sealed class SimulatedSending(SimulationTarget.Broker broker, TimeProvider clock, TextWriter output)
{
    private const double SecondsOfDay = 86_400;

    private readonly MqttClientFactory _factory = new();
    private readonly Backoff _backoff = new();
    private long _sent;

    /// <summary>Runs until the last message is acknowledged, or until cancelled.</summary>
    public async Task RunAsync(SimulationOrder order, CancellationToken cancel)
    {
        var fleet = SimulatedFleet.Draw(order.Seed, Timed(order, new Moment(clock.GetUtcNow().ToUnixTimeMilliseconds())));
        output.WriteLine($"Seed {order.Seed}: {fleet.Vehicles.Length} powered vehicles of {string.Join(", ", fleet.Everything.Select(v => v.Haulier.Id).Distinct())} to {broker.Host}:{broker.Port}.");
        using var client = _factory.CreateMqttClient();
        var began = clock.GetTimestamp();
        Moment? first = null;
        try
        {
            foreach (var message in fleet.Play(0, order.Days).OfType<DayOutput.Sent>().Select(s => s.Message))
            {
                first ??= message.SentAt;
                var due = TimeSpan.FromSeconds(message.SentAt.SecondsSince(first.Value) / broker.Pace) - clock.GetElapsedTime(began);
                if (due > TimeSpan.Zero) await Task.Delay(due, clock, cancel);
                await SendAsync(client, message, cancel);
            }
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // Ended by the user: what was sent is told below.
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{_sent} messages sent and acknowledged."));
    }

    /// <summary>The plan with its days put where the clock allows them.</summary>
    internal FleetPlan Timed(SimulationOrder order, Moment now)
    {
        var whole = new Moment(now.UnixMilliseconds / 1000 * 1000);
        if (broker.Pace > 1) return order.Plan with { Start = whole.Plus(-SecondsOfDay * order.Days) };
        var first = SimulatedFleet.Draw(order.Seed, order.Plan).Play(0, 1).OfType<DayOutput.Sent>().First().At;
        return order.Plan with { Start = order.Plan.Start.Plus(Math.Floor(now.SecondsSince(first))) };
    }

    private async Task SendAsync(IMqttClient client, SentMessage message, CancellationToken cancel)
    {
        var packet = new MqttApplicationMessageBuilder().WithTopic(message.Topic).WithPayload(message.Payload.ToArray())
            .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
            .WithRetainFlag(message.Topic.EndsWith("/presence", StringComparison.Ordinal)).Build();
        while (true)
        {
            try
            {
                if (!client.IsConnected) await client.ConnectAsync(Options(), cancel);
                await client.PublishAsync(packet, cancel);
                _backoff.Reset();
                _sent++;
                return;
            }
            catch (Exception failed) when (failed is MqttCommunicationException or MqttClientNotConnectedException or MqttClientDisconnectedException or SocketException or AuthenticationException or IOException)
            {
                var wait = _backoff.Next();
                output.WriteLine(FormattableString.Invariant($"{broker.Host}:{broker.Port} does not answer: {failed.Message} Trying again in {wait.TotalSeconds:0} s."));
                await Task.Delay(wait, clock, cancel);
            }
        }
    }

    private MqttClientOptions Options()
    {
        var options = _factory.CreateClientOptionsBuilder()
            .WithTcpServer(broker.Host, broker.Port).WithProtocolVersion(MqttProtocolVersion.V500).WithClientId($"axletelemetry-simulate-{Guid.NewGuid():N}");
        return (broker.Tls is { } tls ? options.WithTlsOptions(tls.Apply) : options).Build();
    }
}

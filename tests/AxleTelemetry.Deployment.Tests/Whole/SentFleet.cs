using System.Collections.Immutable;
using AxleTelemetry.Deployment.Tests.Access;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;
using MQTTnet;
using MQTTnet.Exceptions;

namespace AxleTelemetry.Deployment.Tests.Whole;

/// <summary>A day of the fleet that a simulated site has, sent by a device for each vehicle; what is not acknowledged is sent again.</summary>
internal sealed class SentFleet(ImmutableArray<RecordedMessage> messages)
{
    private const ulong Seed = 1;
    private const double SecondsOfDay = 86_400, Half = 30;
    private static readonly TimeSpan BeforeTheNextTry = TimeSpan.FromMilliseconds(100);

    private int _sent;

    /// <summary>How many there are.</summary>
    public int Count => messages.Length;

    /// <summary>Each vehicle that sends, as FLEET/VEHICLE.</summary>
    public IEnumerable<string> Vehicles => messages.Select(Of).Distinct();

    /// <summary>Its last day, laden more than trucks are on most days.</summary>
    public static SentFleet UpTo(DateTimeOffset now, int vehicles)
    {
        var plan = new FleetPlan
        {
            Units = FleetPlan.InTurn(vehicles), EverySeconds = 10, Faults = FleetPlan.AllFaults(0.05), LadenMean = 1.02,
            Start = new Moment(now.ToUnixTimeSeconds() * 1000).Plus(-SecondsOfDay - Half),
        };
        return new([.. SimulatedFleet.Draw(Seed, plan).Play(0, 1).OfType<DayOutput.Sent>().Select(s => s.Message.AsRecorded())]);
    }

    /// <summary>As a recording.</summary>
    public void Write(string path)
    {
        using var file = File.Create(path);
        var writer = new RecordingWriter(file);
        foreach (var message in messages) writer.Write(message);
    }

    /// <summary>Sends up to so many, and waits until the broker has acknowledged them.</summary>
    public async Task Send(int upTo, int port, Dictionary<string, TlsOptions> devices)
    {
        var lines = new Dictionary<string, Line>(StringComparer.Ordinal);
        while (_sent < upTo)
        {
            var (vehicle, message) = (Of(messages[_sent]), messages[_sent]);
            try
            {
                if (!lines.TryGetValue(vehicle, out var line)) lines.Add(vehicle, line = await Line.To(port, devices[vehicle], vehicle));
                Assert.Contains(await line.Send(message.Topic, message.Payload.ToArray()), new[] { MqttClientPublishReasonCode.Success, MqttClientPublishReasonCode.NoMatchingSubscribers });
                _sent++;
            }
            catch (Exception gone) when (gone is MqttCommunicationException or MqttClientNotConnectedException or MqttClientDisconnectedException)
            {
                if (lines.Remove(vehicle, out var line)) await line.DisposeAsync();
                await Task.Delay(BeforeTheNextTry, TestContext.Current.CancellationToken);
            }
        }

        foreach (var line in lines.Values) await line.DisposeAsync();
    }

    private static string Of(RecordedMessage message) => string.Join('/', message.Topic.Split('/')[2..4]);
}

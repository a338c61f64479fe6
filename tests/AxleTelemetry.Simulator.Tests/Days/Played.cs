using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Simulator.Tests.Days;

/// <summary>Days of drawn fleets, played once for many tests.</summary>
internal static class Played
{
    public const ulong Seed = 20260302;

    /// <summary>A unit of every kind, nothing wrong.</summary>
    public static readonly SimulatedFleet Plain = SimulatedFleet.Draw(Seed, new FleetPlan { EverySeconds = 10 });

    /// <summary>Some of every kind, much wrong.</summary>
    public static readonly SimulatedFleet Faulty = SimulatedFleet.Draw(Seed + 1, new FleetPlan
    {
        EverySeconds = 10,
        Units = FleetPlan.Each(2),
        Faults = FleetPlan.AllFaults(0.35),
    });

    private static readonly Dictionary<SimulatedFleet, List<(SimulatedVehicle Vehicle, List<DayOutput> Outputs)>> Known = [];

    /// <summary>Two days of every unit.</summary>
    public static List<(SimulatedVehicle Vehicle, List<DayOutput> Outputs)> Days(SimulatedFleet fleet)
    {
        lock (Known)
        {
            if (!Known.TryGetValue(fleet, out var days))
                Known[fleet] = days = [.. fleet.Vehicles.Select(v => (v, v.Play(0, 2).ToList()))];
            return days;
        }
    }

    public static IEnumerable<SentMessage> Messages(IEnumerable<DayOutput> outputs) => outputs.OfType<DayOutput.Sent>().Select(s => s.Message);

    public static IEnumerable<T> Truth<T>(IEnumerable<DayOutput> outputs)
        where T : TruthRecord => outputs.OfType<DayOutput.True>().Select(t => t.Record).OfType<T>();

    /// <summary>Decodes messages under the vehicles' own files; what is refused fails the test.</summary>
    public static IEnumerable<(Topic Topic, DecodedMessage Message)> Decoded(SimulatedFleet fleet, IEnumerable<SentMessage> messages)
    {
        var keys = fleet.Everything.ToDictionary(v => v.Id, v => new KeyTable(
            v.Description.Sensors.Select(s => s.Key), v.Description.Axles.Select(a => a.Key), v.Description.Modes.Select(m => m.Name)));
        foreach (var message in messages)
        {
            var topic = Assert.IsType<TopicResult.Named>(Topic.Parse(message.Topic)).Topic;
            var into = new DecodedMessage();
            PayloadDecoder.Decode(message.Payload.Span, new Envelope(topic, keys[topic.Vehicle], message.SentAt, TimeSpan.FromSeconds(60)), into);
            Assert.Empty(into.Refusals.Details.ToArray());
            yield return (topic, into);
        }
    }
}

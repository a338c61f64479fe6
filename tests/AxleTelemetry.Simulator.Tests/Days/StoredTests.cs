using System.Text.Json;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Simulator.Tests.Days;

public sealed class StoredTests
{
    [Fact]
    public void What_is_stored_comes_in_fewer_messages_and_nothing_of_it_is_another()
    {
        var until = Played.Plain.Plan.Start.Plus(11 * 3600);
        var habit = Samples(Played.Plain.Plan);
        var stored = Samples(Played.Plain.Plan with { StoredUntil = until });
        Assert.Equal(habit.All, stored.All);
        Assert.All(stored.Messages.Where(m => m.SentAt < until), m => Assert.InRange(SamplesOf(m).Count(), 0, 60));
        Assert.True(stored.Messages.Count(m => m.SentAt < until) < habit.Messages.Count(m => m.SentAt < until), $"seed {Played.Seed}");
    }

    [Fact]
    public void Work_begins_when_the_plan_says()
    {
        var plan = Played.Plain.Plan with { WorkBegins = (3600, 7200) };
        foreach (var vehicle in SimulatedFleet.Draw(Played.Seed, plan).Vehicles)
            Assert.InRange(vehicle.Play(1, 1).First().At.SecondsSince(plan.Start.Plus(86_400)), 3600, 7200);
    }

    private static (List<SentMessage> Messages, List<string> All) Samples(FleetPlan plan)
    {
        var messages = SimulatedFleet.Draw(Played.Seed, plan).Vehicles.SelectMany(v => v.Messages(0, 1)).ToList();
        return (messages, [.. messages.SelectMany(m => SamplesOf(m).Select(s => m.Topic + s)).Order(StringComparer.Ordinal)]);
    }

    private static IEnumerable<string> SamplesOf(SentMessage message)
    {
        using var json = JsonDocument.Parse(message.Payload);
        return json.RootElement.TryGetProperty("samples", out var samples) ? [.. samples.EnumerateArray().Select(s => s.GetRawText())] : [];
    }
}

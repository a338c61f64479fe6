using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Fleet;
using AxleTelemetry.Simulator.Statics;
using AxleTelemetry.Simulator.Weighings;

namespace AxleTelemetry.Simulator.Tests.Weighings;

/// <summary>The tickets that are shipped, invented. UPDATE_SCENARIOS=1 in the environment writes them anew.</summary>
public sealed class ExampleTicketsTests
{
    // What the registered gross leaves beside crew, kit and a full tank.
    private const double Full = 14_900;

    private static readonly string Shipped = Path.Combine(Repository.Root, "deploy", "examples", "tickets-rt-01.csv");

    private static readonly ImmutableArray<WeighingPlan> Plans =
    [
        Plan("W1", "2026-02-03T06:40:00Z", 0.30, 4.60, WeighingMethod.FullPlatform),
        Plan("W2", "2026-02-05T14:15:00Z", 0.55, 4.35, WeighingMethod.FullPlatform),
        Plan("W3", "2026-02-10T07:05:00Z", 1.00, 4.30, WeighingMethod.FullPlatform),
        Plan("W4", "2026-02-12T11:30:00Z", 0.70, 4.45, WeighingMethod.AxleByAxle) with { Held = new("drive", -0.12, "handbrake on, driver at the counter") },
        Plan("W5", "2026-02-18T09:50:00Z", 0.85, 4.20, WeighingMethod.FullPlatform),
        Plan("W6", "2026-02-24T16:20:00Z", 0.42, 4.55, WeighingMethod.AxleByAxle) with { Note = "rain, bridge wet" },
    ];

    [Fact]
    public void The_shipped_tickets_are_what_the_weighbridge_gives()
    {
        var made = Made(out _);
        if (Environment.GetEnvironmentVariable("UPDATE_SCENARIOS") == "1") File.WriteAllText(Shipped, made);
        else Assert.Equal(made, File.ReadAllText(Shipped));
    }

    [Fact]
    public void They_are_tickets_of_both_circuits_that_agree_with_the_truth_but_for_one()
    {
        var read = Assert.IsType<TicketsRead>(TicketsCsv.Parse(Made(out var truth))).Tickets;
        var vehicle = Repository.Vehicle("rigid-6x2-tag")!;
        Assert.Equal(2 * Plans.Length, read.Length);
        foreach (var (circuit, ticket) in read)
        {
            var sensor = vehicle.Sensors.Single(s => s.Key == circuit.Sensor);
            var (offset, gain) = truth[vehicle.Sensors.IndexOf(sensor)];
            var unsprung = vehicle.Axles[sensor.Axles[0]].Unsprung;
            var departure = ticket.AxleLoad.Kilograms - unsprung.Kilograms - offset - gain * ticket.Pressure.Kilopascals;
            // Friction, the bridge and a wrong unsprung mass stay well within 4 % of a full drive axle.
            if ((ticket.Weighing, circuit.Sensor) == ("W4", "drive")) Assert.True(departure > 600, $"{departure} kg");
            else Assert.InRange(departure, -460, 460);
        }
    }

    private static string Made(out ImmutableArray<SensorTruth> sensors)
    {
        var random = new SeededRandom(5);
        var combination = Assert.IsType<CouplingResult.Coupled>(Combination.Couple([Repository.Vehicle("rigid-6x2-tag")!])).Combination;
        var truth = TrueCombination.AsDescribed(combination).With(0, v => TruthDraw.Vehicle(v.Description, random));
        sensors = [.. combination.Sensors.Select(s => TruthDraw.Sensor(s.Sensor, ticketed: false, random))];
        var bridge = new Weighbridge(truth, sensors, random);
        return TicketsText.Of(Plans.SelectMany(plan => bridge.Weigh(plan)));
    }

    private static WeighingPlan Plan(string name, string at, double part, double centre, WeighingMethod method) => new(
        name, new Moment(DateTimeOffset.Parse(at, CultureInfo.InvariantCulture).ToUnixTimeMilliseconds()), part * Full, centre, method);
}

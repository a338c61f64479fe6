using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Simulator.Tests.Days;

public sealed class TruthTests
{
    [Fact]
    public void Axles_add_up_to_the_gross_and_the_gross_to_what_is_aboard()
    {
        foreach (var (vehicle, outputs) in Played.Days(Played.Faulty))
        {
            foreach (var record in Played.Truth<TruthRecord.Now>(outputs))
            {
                Assert.Equal(record.GrossKilograms, record.Axles.Sum(a => a.Kilograms), 6);
                Assert.All(record.Axles.Where(a => a.State == AxleState.Raised), a => Assert.Equal(0, a.Kilograms));
                var kerb = record.GrossKilograms - record.Payloads.Sum(p => p.Kilograms);
                var described = record.Vehicles.Sum(id => Played.Faulty.Everything.Single(v => v.Id == id).Description.Kerb.AxleLoads.Sum(l => l.Kilograms)
                    + Played.Faulty.Everything.Single(v => v.Id == id).Description.Kerb.CouplingLoad.Kilograms);
                // Fuel, crew and the errors of the kerb weighings.
                Assert.InRange(kerb - described, -900, 900);
            }

            Assert.All(Played.Truth<TruthRecord.Leg>(outputs), leg => Assert.True(leg.GrossKilograms <= leg.Axles.Sum(a => a.Kilograms) + 1e-6, vehicle.Lead.Id));
        }
    }

    [Fact]
    public void Without_noise_pressures_are_what_the_domains_own_statics_make_of_the_truth()
    {
        var fleet = SimulatedFleet.Draw(11, new FleetPlan { EverySeconds = 10, Errors = false, Noise = false });
        foreach (var vehicle in fleet.Vehicles)
        {
            var outputs = vehicle.Play(0, 1).ToList();
            var shown = new Dictionary<(string, ushort, Moment), double>();
            foreach (var (topic, message) in Played.Decoded(fleet, Played.Messages(outputs)))
                foreach (var reading in message.Readings)
                    if (reading.Kind == ReadingKind.Pressure)
                        shown[(topic.Vehicle, reading.Key, reading.At)] = reading.Value;
            var compared = Played.Truth<TruthRecord.Now>(outputs).Sum(record => Compare(fleet, record, shown));
            Assert.True(compared > (vehicle.Kind == UnitKind.Tipper ? 50 : 300), $"{vehicle.Lead.Id}: {compared}");
        }
    }

    [Fact]
    public void Laden_trucks_come_as_near_to_their_limit_as_the_plan_says()
    {
        var fleet = SimulatedFleet.Draw(12, new FleetPlan { EverySeconds = 10, Units = FleetPlan.Each(0).SetItem(UnitKind.TagRigid, 24), LadenMean = 0.96, LadenSd = 0.03 });
        var greatest = fleet.Vehicles.Select(v =>
        {
            var leg = v.Truth(0, 1).OfType<TruthRecord.Leg>().MaxBy(l => l.GrossKilograms)!;
            return Math.Max(leg.GrossKilograms / 26_000, Math.Max(leg.Axles[0].Kilograms / 8000, Math.Max(leg.Axles[1].Kilograms / 11_500, leg.Axles[2].Kilograms / 7500)));
        }).ToList();
        Assert.InRange(greatest.Average(), 0.93, 0.99);
        Assert.InRange(Math.Sqrt(greatest.Average(g => Math.Pow(g - greatest.Average(), 2))), 0.01, 0.06);
    }

    private static int Compare(SimulatedFleet fleet, TruthRecord.Now record, Dictionary<(string, ushort, Moment), double> shown)
    {
        var vehicles = record.Vehicles.Select(id => fleet.Everything.Single(v => v.Id == id)).ToList();
        var combination = Assert.IsType<CouplingResult.Coupled>(Combination.Couple(vehicles.Select(v => v.Description))).Combination;
        var configuration = record.Axles.Select((a, i) => (a.State, i)).Aggregate(default(Configuration), (c, a) => c.With(a.i, a.State));
        var map = Model(combination).Map(configuration)!;
        double[] state = [.. record.Payloads.SelectMany(p => (double[])[p.Kilograms, p.Kilograms * p.Centre])];
        for (var i = 0; i < combination.Axles.Length; i++) Assert.Equal(map.Load(i, state), record.Axles[i].Kilograms, 3);
        var compared = 0;
        var measured = new double[map.Width];
        foreach (var part in combination.Sensors.Where(_ => record.Rolling))
        {
            var vehicle = vehicles[part.Body];
            var own = part.Index - combination.Bodies[part.Body].FirstSensor;
            if (configuration[part.Axles[0]] != AxleState.Loaded || !shown.TryGetValue((vehicle.Id, (ushort)own, record.At), out var pressure)) continue;
            map.Measured(part.Axles[0], new Motion(record.Motion.Slope, record.Motion.AirSpeed * record.Motion.AirSpeed, true), measured);
            var felt = LoadMap.Value(measured, state) - combination.Axles[part.Axles[0]].Axle.Unsprung.Kilograms;
            // The pressure is told to a tenth; bellows hold no vacuum.
            var sensor = vehicle.Sensors[own];
            var expected = Math.Max(0, (felt - sensor.OffsetKilograms) / sensor.KilogramsPerKilopascal);
            Assert.InRange(pressure, expected - 0.06, expected + 0.06);
            compared++;
        }

        return compared;
    }

    private static readonly Dictionary<string, LoadModel> Models = [];

    private static LoadModel Model(Combination combination)
    {
        var name = string.Join(' ', combination.Vehicles.Select(v => v.Id));
        if (!Models.TryGetValue(name, out var model)) Models[name] = model = new LoadModel(combination);
        return model;
    }
}

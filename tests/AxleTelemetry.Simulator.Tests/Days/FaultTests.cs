using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Simulator.Tests.Days;

public sealed class FaultTests
{
    [Fact]
    public void Every_fault_occurs_and_without_them_none_does()
    {
        var seen = Played.Days(Played.Faulty).SelectMany(d => Played.Truth<TruthRecord.Now>(d.Outputs)).SelectMany(t => t.Faults).Select(f => f.Kind).ToHashSet();
        Assert.Equal(Enum.GetValues<FaultKind>(), seen.Order());
        Assert.All(Played.Days(Played.Plain).SelectMany(d => Played.Truth<TruthRecord.Now>(d.Outputs)), t => Assert.Empty(t.Faults));
    }

    [Fact]
    public void What_a_network_does_is_done()
    {
        foreach (var (vehicle, outputs) in Played.Days(Played.Plain))
        {
            // The last will is the same every day.
            var messages = Played.Messages(outputs).Where(m => !m.Topic.EndsWith("presence", StringComparison.Ordinal)).Select(m => m.Topic + Convert.ToHexString(m.Payload.Span)).ToList();
            Assert.Equal(messages.Count, messages.Distinct().Count());
        }

        Assert.Contains(Played.Days(Played.Faulty), d => Played.Messages(d.Outputs).GroupBy(m => m.Topic + Convert.ToHexString(m.Payload.Span)).Any(g => g.Count() > 1));
    }

    [Fact]
    public void After_an_outage_what_was_stored_comes_newest_first_where_it_is_so()
    {
        var plan = new FleetPlan { EverySeconds = 10, Units = FleetPlan.Each(0).SetItem(UnitKind.TagRigid, 3), Faults = One(FaultKind.StoredNewestFirst) };
        var fleet = SimulatedFleet.Draw(4, plan);
        Assert.Contains(fleet.Vehicles, vehicle =>
        {
            var sent = Played.Decoded(fleet, vehicle.Messages(0, 1)).Where(d => d.Message.Readings.Length > 0).Select(d => d.Message.Readings[^1].At).ToList();
            return sent.Zip(sent.Skip(1)).Count(p => p.Second < p.First) > 20;
        });
    }

    [Fact]
    public void An_automatic_lifts_what_is_empty_and_lowers_what_is_laden_and_a_failing_one_does_not()
    {
        var units = FleetPlan.Each(0).SetItem(UnitKind.TagRigid, 3).SetItem(UnitKind.Articulated, 3);
        var good = Rolling(new FleetPlan { EverySeconds = 10, Units = units });
        Assert.True(good.Where(Laden).All(t => Lifted(t) == AxleState.Loaded));
        Assert.Contains(good, t => t.Payloads.All(p => p.Kilograms == 0) && Lifted(t) == AxleState.Raised);
        Assert.Contains(Rolling(new FleetPlan { EverySeconds = 10, Units = units, Faults = One(FaultKind.AutomaticFails) }), t => Laden(t) && Lifted(t) == AxleState.Raised);
        Assert.All(Rolling(new FleetPlan { EverySeconds = 10, Units = units, Faults = One(FaultKind.LeftDown) }), t => Assert.Equal(AxleState.Loaded, Lifted(t)));
        var late = Rolling(new FleetPlan { EverySeconds = 10, Units = units, Faults = One(FaultKind.RaisedTooLong) });
        Assert.Contains(late, t => Laden(t) && Lifted(t) == AxleState.Raised);
        Assert.Contains(late, t => Laden(t) && Lifted(t) == AxleState.Loaded);
    }

    [Fact]
    public void Trailers_change_between_tractors_and_no_two_pull_one_at_once()
    {
        var fleet = SimulatedFleet.Draw(5, new FleetPlan { EverySeconds = 10, Units = FleetPlan.Each(0).SetItem(UnitKind.Articulated, 6) });
        var pulled = fleet.Vehicles.SelectMany(v => v.Truth(0, 2).OfType<TruthRecord.Now>().SelectMany(t => t.Vehicles.Skip(1).Select(trailer => (Day: t.At.UnixMilliseconds / 86_400_000, trailer, v.Lead.Id)))).Distinct().ToList();
        Assert.All(pulled.GroupBy(p => (p.Day, p.trailer)), g => Assert.Single(g));
        Assert.Contains(pulled.GroupBy(p => p.trailer), g => g.Select(p => p.Id).Distinct().Count() > 1);
        Assert.Contains(fleet.Vehicles[0].Truth(0, 1).OfType<TruthRecord.Now>(), t => t.Vehicles.Length == 1);
    }

    private static System.Collections.Immutable.ImmutableSortedDictionary<FaultKind, double> One(FaultKind kind) =>
        System.Collections.Immutable.ImmutableSortedDictionary<FaultKind, double>.Empty.Add(kind, 1);

    private static List<TruthRecord.Now> Rolling(FleetPlan plan) =>
        [.. SimulatedFleet.Draw(6, plan).Vehicles.SelectMany(v => v.Truth(0, 1)).OfType<TruthRecord.Now>().Where(t => t.Rolling && t.Vehicles.Length == (t.Vehicles[0].Contains("TR", StringComparison.Ordinal) ? 2 : 1))];

    private static bool Laden(TruthRecord.Now truth) => truth.GrossKilograms > (truth.Vehicles.Length > 1 ? 36_500 : 23_500);

    private static AxleState Lifted(TruthRecord.Now truth) => truth.Vehicles.Length > 1 ? truth.Axles[2].State : truth.Axles[2].State;
}

using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Replaying;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Tests.Simulating;

/// <summary>
/// What the service makes of a simulated fleet without faults is near its truth. A few vehicles only: that intervals hold as often as they say is
/// shown elsewhere, over hundreds; here truth and messages must be of the same fleet, vehicle by vehicle and axle by axle.
/// </summary>
public sealed class SimulatedTruthTests(ITestOutputHelper output) : IDisposable
{
    private const ulong Seed = 77;

    private readonly DirectoryInfo _directory = Directory.CreateTempSubdirectory("simulated-truth-");

    public void Dispose() => _directory.Delete(recursive: true);

    [Fact]
    public void Sensed_axles_are_inferred_near_their_truth_at_the_end_of_every_leg()
    {
        output.WriteLine($"Seed {Seed}");
        var fleet = SimulatedFleet.Draw(Seed, new FleetPlan { EverySeconds = 10, Units = FleetPlan.InTurn(14) });
        var outputs = fleet.Play(0, 1).ToList();
        var truth = outputs.OfType<DayOutput.True>().Select(t => t.Record).ToList();
        var rows = Rows(fleet, outputs).ToLookup(r => r.Key.Unit.Id);
        var legs = truth.OfType<TruthRecord.Leg>().Where(leg => leg.Metres > 5000).ToList();
        var compared = legs.SelectMany(leg => Compared(fleet, leg, rows[leg.Vehicles[0]], truth)).ToList();
        foreach (var (axle, estimate, real) in compared.Where(c => Math.Abs(c.Estimate.Mean - c.Real) > Math.Max(450, 0.05 * c.Real)))
            Assert.Fail(FormattableString.Invariant($"{axle}: {estimate.Mean:0} +-{estimate.HalfWidth:0} kg, truly {real:0}"));
        Assert.True(legs.Count > 40 && compared.Count > 2 * legs.Count, $"{legs.Count} legs, {compared.Count} axles");
        Assert.True(compared.Count(c => c.Real >= c.Estimate.Low && c.Real <= c.Estimate.High) > 0.9 * compared.Count);
    }

    private IEnumerable<HistoryRow.Load> Rows(SimulatedFleet fleet, List<DayOutput> outputs)
    {
        fleet.WriteFiles(_directory.FullName);
        var settings = Assert.IsType<ServiceResult.Loaded>(ServiceReading.Read(Path.Combine(_directory.FullName, FleetFiles.Settings))).Configuration;
        var replay = new Replay(settings.Fleets, TimeProvider.System);
        foreach (var sent in outputs.OfType<DayOutput.Sent>()) replay.Take(sent.Message.AsRecorded());
        replay.End();
        Assert.Empty(replay.Shard.State.Stopped);
        return [.. replay.Store.History.Select(row => Read(row.Bytes.AsSpan())).OfType<HistoryRow.Load>()];
    }

    /// <summary>The last settled figures of a leg for the axles with a sensor on their circuit, each with what was true then.</summary>
    private static IEnumerable<(string Axle, Estimated Estimate, double Real)> Compared(
        SimulatedFleet fleet, TruthRecord.Leg leg, IEnumerable<HistoryRow.Load> rows, List<TruthRecord> truth)
    {
        var row = rows.Where(r => r.Standing == LoadStanding.Settled && r.Key.At > leg.From && r.Key.At <= leg.At).MaxBy(r => r.Key.At);
        if (row is null) yield break;
        var now = truth.OfType<TruthRecord.Now>().Where(t => t.Vehicles[0] == leg.Vehicles[0] && t.At <= row.Key.At).MaxBy(t => t.At)!;
        for (var i = 0; i < now.Axles.Length; i++)
        {
            var axle = now.Axles[i];
            var vehicle = fleet.Everything.Single(v => v.Id == axle.Vehicle).Description;
            var sensed = vehicle.Sensors.Any(s => s.Axles.Contains(vehicle.IndexOfAxle(axle.Axle)));
            if (sensed && row.Configuration[i] == axle.State && row.Axles[i] is { } estimate) yield return ($"{axle.Vehicle} {axle.Axle}", estimate, axle.Kilograms);
        }
    }

    private static HistoryRow? Read(ReadOnlySpan<byte> bytes)
    {
        var from = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref from);
    }
}

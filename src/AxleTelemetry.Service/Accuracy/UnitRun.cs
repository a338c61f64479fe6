using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Replaying;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>Runs one combination through a shard of its own, and holds what came out against the truth.</summary>
internal static class UnitRun
{
    // After the last message of a leg and before anything is heard of the next one.
    private const double AfterLeg = 90;

    public static UnitResult Run(SimulatedFleet fleet, SimulatedVehicle vehicle, int days)
    {
        var configuration = Configuration(fleet.Alone(vehicle));
        var replay = new Replay(configuration, TimeProvider.System);
        var truth = new UnitTruth();
        var unit = new VehicleName(vehicle.Lead.Haulier.Id, vehicle.Lead.Id);
        var review = new LegReview(configuration.Find(unit.Fleet)!, truth);
        var ended = new Queue<TruthRecord.Leg>();
        foreach (var output in vehicle.Play(0, days))
            switch (output)
            {
                case DayOutput.True { Record: var record }:
                    truth.Add(record);
                    if (record is TruthRecord.Leg leg) ended.Enqueue(leg);
                    break;
                case DayOutput.Sent { Message: var message }:
                    while (ended.TryPeek(out var last) && message.SentAt > last.At.Plus(AfterLeg))
                    {
                        ended.Dequeue();
                        replay.Catch();
                        review.Ended(last, replay.Shard.State.History.LaneOf(unit));
                    }

                    replay.Take(message.AsRecorded());
                    break;
                default:
                    throw new InvalidOperationException("An output of a day that nobody handles.");
            }

        replay.End();
        while (ended.TryDequeue(out var last)) review.Ended(last, replay.Shard.State.History.LaneOf(unit));
        if (replay.Shard.State.Stopped.Count > 0) throw new InvalidOperationException($"A lane stopped: {string.Join("; ", replay.Shard.State.Stopped)}");
        return review.Result(vehicle, days, replay);
    }

    private static FleetConfiguration Configuration(SimulatedFleet fleet)
    {
        var directory = Directory.CreateTempSubdirectory("accuracy-").FullName;
        try
        {
            fleet.WriteFiles(directory);
            return ServiceReading.Read(Path.Combine(directory, FleetFiles.Settings)) switch
            {
                ServiceResult.Loaded loaded => loaded.Configuration.Fleets,
                ServiceResult.Refused refused => throw new InvalidOperationException(string.Join("; ", refused.Errors)),
                _ => throw new InvalidOperationException("An outcome of reading that nobody handles."),
            };
        }
        finally
        {
            Directory.Delete(directory, recursive: true);
        }
    }
}

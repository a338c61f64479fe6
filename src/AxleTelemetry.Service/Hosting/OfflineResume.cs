using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Commands;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Hosting;

/// <summary>Lets stopped lanes of a shard go on while the service is stopped, and runs their history again at once.</summary>
internal sealed class OfflineResume(Shard shard, TextWriter output)
{
    /// <summary>Runs; without vehicles it lists those that stopped.</summary>
    public int Run(IReadOnlyCollection<string> vehicles)
    {
        if (vehicles.Count == 0) List();
        var now = Codes.At(TimeProvider.System.GetUtcNow());
        foreach (var vehicle in vehicles)
        {
            var name = new VehicleName(vehicle.Split('/')[0], vehicle.Split('/')[^1]);
            if (!shard.Resume(name, now)) output.WriteLine($"The lane of {vehicle} had not stopped.");
            else if (!Write()) return ExitCode.Suspicious;
        }

        if (vehicles.Count == 0) return ExitCode.Done;
        if (!Catch(now)) return ExitCode.Suspicious;
        foreach (var vehicle in vehicles.Where(v => shard.State.Stopped.Any(s => $"{s.Key.Fleet}/{s.Key.Id}" == v)))
            output.WriteLine($"The lane of {vehicle} stopped again: {shard.State.Stopped.First(s => $"{s.Key.Fleet}/{s.Key.Id}" == vehicle).Value}");
        return shard.State.Stopped.Count > 0 ? ExitCode.Suspicious : ExitCode.Done;
    }

    private bool Catch(Moment now)
    {
        for (var later = now.Plus(60); shard.HasToCorrect(later);)
            if (shard.Correct(later) && !Write())
                return false;
        output.WriteLine(FormattableString.Invariant($"History was run again {shard.Corrected} times."));
        shard.Close(now);
        return Write();
    }

    private bool Write()
    {
        if (shard.Write() is WriteOutcome.Committed) return true;
        output.WriteLine("The journal cannot be written now: nothing was changed.");
        return false;
    }

    private void List()
    {
        if (shard.State.Stopped.Count == 0) output.WriteLine("No lane has stopped.");
        foreach (var (unit, why) in shard.State.Stopped) output.WriteLine($"{unit.Fleet}/{unit.Id}: {why}");
    }
}

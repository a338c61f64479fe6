using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Commands;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Hosting;

/// <summary>Lets stopped lanes of a shard go on while the service is stopped, and runs their history again at once.</summary>
internal sealed class OfflineResume(Shard shard, TextWriter output)
{
    private const int MostRounds = 10;

    /// <summary>Runs; without vehicles it lists those that stopped.</summary>
    public int Run(IReadOnlyCollection<string> vehicles)
    {
        if (vehicles.Count == 0) List();
        var now = Codes.At(TimeProvider.System.GetUtcNow());
        var resumed = new List<VehicleName>();
        foreach (var vehicle in vehicles.Distinct())
        {
            var name = new VehicleName(vehicle.Split('/')[0], vehicle.Split('/')[^1]);
            if (!shard.Resume(name, now)) output.WriteLine($"The lane of {vehicle} had not stopped.");
            else if (!Write()) return ExitCode.Suspicious;
            else resumed.Add(name);
        }

        if (resumed.Count == 0) return ExitCode.Done;
        return Catch(now) && Tell(resumed) ? ExitCode.Done : ExitCode.Suspicious;
    }

    /// <summary>True where all of them run.</summary>
    private bool Tell(List<VehicleName> resumed)
    {
        foreach (var unit in resumed)
            output.WriteLine(shard.State.Stopped.TryGetValue(unit, out var why)
                ? $"The lane of {unit.Fleet}/{unit.Id} stopped again: {why}"
                : $"The lane of {unit.Fleet}/{unit.Id} runs again, its history with it.");
        return !resumed.Exists(shard.State.Stopped.ContainsKey);
    }

    private bool Catch(Moment now)
    {
        // As time would have it: what came late is run again, what nobody waits for any more is taken, and what that makes late again.
        for (var round = 1; round <= MostRounds; round++)
        {
            var later = now.Plus(60 * round);
            while (shard.HasToCorrect(later))
                if (shard.Correct(later) && !Write())
                    return false;
            if (shard.Flush(later) && !Write()) return false;
            if (shard.IsSettled) break;
        }

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

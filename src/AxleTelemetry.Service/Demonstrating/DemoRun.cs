using System.CommandLine;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>One demonstration: a fleet, the service it sends to, and what is said of them, until it is told to stop.</summary>
internal sealed class DemoRun(DemoOrder order, InvocationConfiguration console, TimeProvider clock)
{
    // More than anybody watches.
    private const int Days = 3650;
    private const int BufferBytes = 1 << 16;

    /// <summary>Runs. False where it could not start; why was told then.</summary>
    public async Task<bool> UntilAsync(CancellationToken cancel)
    {
        try
        {
            await using var truth = order.Truth is { } file ? new FileStream(file, FileMode.Create, FileAccess.Write, FileShare.Read, BufferBytes) : null;
            using var place = DemoPlace.Create(order.Data);
            if (place is not null) return await UntilAsync(place, truth, cancel);
            await console.Error.WriteLineAsync($"--data: found something in '{order.Data}'. A demonstration is of now, and begins in an empty directory: right is an empty one or one that is not there yet. 'axletelemetry serve' serves what an earlier one has left.");
        }
        catch (UnauthorizedAccessException denied)
        {
            await console.Error.WriteLineAsync($"--data, --truth: {denied.Message}");
        }

        return false;
    }

    private async Task<bool> UntilAsync(DemoPlace place, FileStream? truth, CancellationToken cancel)
    {
        var pace = new DemoPace(clock);
        var fleet = DemoFleet.Draw(order.Seed, order.Units, pace);
        place.Write(fleet, order.Pages, DemoPlace.FreePort());
        if (Read(place) is not { } configuration) return false;
        var telling = new DemoTelling(console.Output, pace);
        return await new ServiceRun(place.Settings, configuration, null)
        {
            IsQuiet = true,
            PagesOption = "--listen",
            Beside = async (broker, stop) =>
            {
                telling.Begin(order, fleet, (place, broker.Port));
                using var devices = new DemoDevices(broker, clock, stop);
                await new DemoSending(pace, devices.Connect, telling.Tell) { Truth = truth }.RunAsync(fleet.Play(0, Days), stop);
            },
        }.UntilAsync(console, cancel);
    }

    private ServiceConfiguration? Read(DemoPlace place)
    {
        switch (ServiceReading.Read(place.Settings))
        {
            case ServiceResult.Loaded loaded:
                foreach (var warning in loaded.Configuration.Warnings) console.Error.WriteLine($"Warning: {warning}");
                return loaded.Configuration;
            case ServiceResult.Refused refused:
                foreach (var problem in refused.Errors) console.Error.WriteLine(problem);
                return null;
            default:
                throw new InvalidOperationException("An outcome of reading the configuration that nobody handles.");
        }
    }
}

using System.CommandLine;
using System.Net;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Simulator.Hauling;

namespace AxleTelemetry.Service.Demonstrating;

/// <summary>One demonstration: a fleet, the service it sends to, and what is said of them, until it is told to stop.</summary>
internal sealed class DemoRun(DemoOrder order, InvocationConfiguration console, TimeProvider clock)
{
    // More than anybody watches.
    private const int Days = 3650;

    /// <summary>Runs. False where it could not start; why was told then.</summary>
    public async Task<bool> UntilAsync(CancellationToken cancel)
    {
        using var place = DemoPlace.Create(order.Data);
        if (place is null)
        {
            await console.Error.WriteLineAsync($"--data: found something in '{order.Data}'. A demonstration is of now, and begins in an empty directory: right is an empty one or one that is not there yet. 'axletelemetry serve' serves what an earlier one has left.");
            return false;
        }

        var pace = new DemoPace(clock);
        var fleet = DemoFleet.Draw(order.Seed, order.Units, pace);
        var broker = DemoPlace.FreePort();
        place.Write(fleet, order.Pages, broker);
        if (Read(place) is not { } configuration) return false;
        var telling = new DemoTelling(console.Output, pace);
        return await new ServiceRun(place.Settings, configuration, null)
        {
            IsQuiet = true,
            PagesOption = "--listen",
            Beside = async (endPoint, stop) =>
            {
                telling.Begin(order, fleet, (place, endPoint.Port));
                await SendAsync(fleet, (pace, telling), endPoint, stop);
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

    private async Task SendAsync(SimulatedFleet fleet, (DemoPace Pace, DemoTelling Telling) how, IPEndPoint broker, CancellationToken stop)
    {
        var clients = new List<DeviceClient>();
        await using var truth = order.Truth is { } file ? new FileStream(file, FileMode.Create, FileAccess.Write, FileShare.Read, 1 << 20) : null;
        try
        {
            await new DemoSending(how.Pace, vehicle =>
            {
                var client = new DeviceClient(vehicle, broker, clock);
                clients.Add(client);
                return message => client.SendAsync(message, stop);
            }, how.Telling.Tell) { Truth = truth }.RunAsync(fleet.Play(0, Days), stop);
        }
        finally
        {
            foreach (var client in clients) client.Dispose();
        }
    }
}

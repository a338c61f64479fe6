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
    private const int Tries = 3;
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
        for (var tries = 1; ; tries++)
        {
            var port = DemoPlace.FreePort();
            place.Write(fleet, order.Pages, port);
            if (Read(place) is not { } configuration) return false;
            using var said = new StringWriter();
            if (await Run((place, configuration), (fleet, pace, truth)).UntilAsync(new InvocationConfiguration { Output = console.Output, Error = said }, cancel)) return true;
            // Between looking and listening another may have taken the port: a second demonstration, started together with this one.
            if (tries < Tries && DemoPlace.IsTaken(port)) continue;
            await console.Error.WriteAsync(said.ToString());
            return false;
        }
    }

    private ServiceRun Run((DemoPlace Place, ServiceConfiguration Configuration) where, (SimulatedFleet Fleet, DemoPace Pace, FileStream? Truth) what)
    {
        var telling = new DemoTelling(console.Output, what.Pace);
        return new ServiceRun(where.Place.Settings, where.Configuration, null)
        {
            IsQuiet = true,
            IsDemonstration = true,
            PagesOption = "--listen",
            Beside = async (broker, stop) =>
            {
                telling.Begin(order, what.Fleet, (where.Place, broker.Port));
                using var devices = new DemoDevices(broker, clock, stop);
                await new DemoSending(what.Pace, devices.Connect, telling.Tell) { Truth = what.Truth }.RunAsync(what.Fleet.Play(0, Days), stop);
            },
        };
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

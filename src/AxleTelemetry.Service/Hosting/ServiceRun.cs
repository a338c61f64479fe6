using System.CommandLine;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Receiving;

namespace AxleTelemetry.Service.Hosting;

/// <summary>One run of the service, from its start until it is told to stop.</summary>
/// <param name="settings">Path of the settings file, which is watched.</param>
/// <param name="configuration">What it says.</param>
/// <param name="hook">Told of every step of a message; <c>null</c> where nobody listens.</param>
internal sealed class ServiceRun(string settings, ServiceConfiguration configuration, Action<TraceEvent>? hook)
{
    /// <summary>Runs. False where it could not start; why was told then.</summary>
    public async Task<bool> UntilAsync(InvocationConfiguration console, CancellationToken cancel)
    {
        var around = new Surroundings
        {
            Clock = TimeProvider.System,
            Hook = hook,
            TellReceiver = (shard, notice) => console.Output.WriteLine($"{shard}: {notice.Text}"),
            TellShard = notice => console.Output.WriteLine($"{notice.Shard}: {notice.Text}"),
            TellConfiguration = (_, sentence) => console.Output.WriteLine(sentence),
        };
        switch (await FleetService.StartAsync(settings, configuration, around))
        {
            case ServiceStart.Failed failed:
                await console.Error.WriteLineAsync(failed.Why);
                return false;
            case ServiceStart.Started { Service: var service }:
                await using (service)
                {
                    if (service.BrokerEndPoint is { } broker) await console.Output.WriteLineAsync($"The broker inside listens on {broker}.");
                    await Task.Delay(Timeout.Infinite, cancel).ContinueWith(_ => { }, TaskScheduler.Default);
                }

                return true;
            default:
                throw new InvalidOperationException("An outcome of starting that nobody handles.");
        }
    }
}

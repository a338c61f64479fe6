using AxleTelemetry.Web.Accounts;
using Microsoft.Extensions.Hosting;

namespace AxleTelemetry.Web.People;

/// <summary>Before anything else starts, <c>people.db</c> and the directory of keys are there, for the user of the service only.</summary>
internal sealed class PeopleStart(PeopleFile file, PeopleSettings settings) : IHostedLifecycleService
{
    public async Task StartingAsync(CancellationToken cancellationToken)
    {
        await file.PrepareAsync(cancellationToken);
        var keys = PeopleHost.KeysIn(settings.Directory);
        if (OperatingSystem.IsWindows()) Directory.CreateDirectory(keys);
        else Directory.CreateDirectory(keys, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
    }

    public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StartedAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppingAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppedAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}

using AxleTelemetry.Web.Accounts;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Hosting;

namespace AxleTelemetry.Web.People;

/// <summary>
/// Before any page is served, <c>people.db</c> and the directory of keys are there, for the user of the service only. A full disk makes the pages wait for room:
/// what receives and commits goes on meanwhile.
/// </summary>
internal sealed class PeopleStart(PeopleFile file, PeopleSettings settings, TimeProvider clock) : IHostedLifecycleService
{
    private const int SqliteFull = 13, NoSpace = 28, NoSpaceOfWindows = 112;
    private static readonly TimeSpan Again = TimeSpan.FromSeconds(1);

    public async Task StartingAsync(CancellationToken cancellationToken)
    {
        while (true)
        {
            try
            {
                await PrepareAsync(cancellationToken);
                return;
            }
            catch (Exception full) when (IsForWantOfRoom(full.GetBaseException()))
            {
                await Task.Delay(Again, clock, cancellationToken);
            }
        }
    }

    private static bool IsForWantOfRoom(Exception why) => why switch
    {
        SqliteException sqlite => sqlite.SqliteErrorCode == SqliteFull,
        IOException io => (io.HResult & 0xFFFF) is NoSpace or NoSpaceOfWindows,
        _ => false,
    };

    private async Task PrepareAsync(CancellationToken cancellationToken)
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

using System.CommandLine;
using AxleTelemetry.Service.Hosting;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>healthy</c>: whether a service on this machine takes messages and commits them.</summary>
internal sealed class HealthyCommand
{
    private const string Description = """
        Ask the service that runs on this machine whether it takes and commits messages.

        Prints what somebody should look at, one sentence a line, and nothing where all is well. For what watches a process: the container image asks
        so. A reader outside that is away, a configuration file in error, a lane that stopped leave it healthy: messages are kept all the same.

        Example:
          axletelemetry healthy --settings axletelemetry.json

        Exit code: 0 it takes and commits messages; 1 it answers, and does not; 2 bad input, or it does not answer.
        """;

    private readonly SettingsOption _settings = new();

    private HealthyCommand()
    {
    }

    public static Command Create()
    {
        var healthy = new HealthyCommand();
        var command = new Command("healthy", Description);
        healthy._settings.AddTo(command);
        command.SetAction(healthy.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel) => _settings.ReadPlace(parsed) is { } place
        ? await new RunningService(place, parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error).HealthAsync(cancel)
        : ExitCode.BadInput;
}

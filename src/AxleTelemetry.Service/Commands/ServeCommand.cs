using System.CommandLine;
using AxleTelemetry.Service.Hosting;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>serve</c>: the service itself.</summary>
internal sealed class ServeCommand
{
    private const string Description = """
        Run the service: receive what the vehicles send, keep it in the journal, infer loads, tell alerts, serve pages.

        Messages come from the MQTT broker that the settings name, or, where they name none, to a broker of its own on this machine.
        What was acknowledged to a vehicle (own broker) or to the broker is in the journal: a kill at any moment loses nothing and
        tells nothing twice. Pages and the interface for programs are at http://127.0.0.1:8080 unless set otherwise. Changed
        vehicle files, tickets and limits are taken within seconds. Ctrl-C stops it cleanly.

        Example:
          axletelemetry serve --settings deploy/examples/service/axletelemetry.json

        Exit code: 0 stopped as asked, 2 it could not start, and every reason.
        """;

    private readonly SettingsOption _settings = new();

    private readonly Option<bool> _logJson = new("--log-json") { Description = "Write the log as JSON, one object a line." };

    // For tests that pull the plug at a chosen moment.
    private readonly Option<string?> _trace = new("--trace") { Hidden = true };
    private readonly Option<string?> _holdAt = new("--hold-at") { Hidden = true };

    private ServeCommand()
    {
    }

    public static Command Create()
    {
        var serve = new ServeCommand();
        var command = new Command("serve", Description);
        serve._settings.AddTo(command);
        command.Options.Add(serve._logJson);
        command.Options.Add(serve._trace);
        command.Options.Add(serve._holdAt);
        command.SetAction(serve.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        // The command line stops cleanly only what it already has the task of; reading and opening would keep it from that.
        await Task.Yield();
        if (_settings.Read(parsed) is not { } configuration) return ExitCode.BadInput;
        using var trace = parsed.GetValue(_trace) is { } file ? new TraceFile(file, parsed.GetValue(_holdAt)) : null;
        var run = new ServiceRun(_settings.Path(parsed), configuration, trace is null ? null : trace.Write) { LogsJson = parsed.GetValue(_logJson) };
        return await run.UntilAsync(parsed.InvocationConfiguration, cancel) ? ExitCode.Done : ExitCode.BadInput;
    }
}

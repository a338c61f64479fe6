using System.CommandLine;
using AxleTelemetry.Service.Demonstrating;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>demo</c>: the service with an invented fleet on the road.</summary>
internal sealed class DemoCommand
{
    private const string Description = """
        Show the service at work, with an invented fleet in the middle of its day.

        A fleet of hauliers that do not exist sends over MQTT to the service, both in this one program. Its day began eight hours ago: what the
        devices have stored of the first seven comes at once, the last hour six times faster than time passes (12 minutes), and then it is
        live. Most of it is well behaved; a few axles are left down for nothing, or up too long, a load is too great, a sensor drifts,
        a lift's switch lies, connections fail, trailers change tractors. Nothing of it is about any real vehicle.

        Page and interface for programs are at http://127.0.0.1:8080. The broker listens on this machine alone; your own truck can send to
        it too, once its file lies beside the others. Everything is deleted at a clean stop (Ctrl-C), unless --data names a directory.

        Examples:
          axletelemetry demo
          axletelemetry demo --vehicles 70 --seed 3 --data shown --truth truth.ndjson

        Exit code: 0 stopped as asked, 2 it could not start, and every reason.
        """;

    private readonly DemoOptions _options = new();

    private DemoCommand()
    {
    }

    public static Command Create()
    {
        var demo = new DemoCommand();
        var command = new Command("demo", Description);
        foreach (var option in demo._options.All) command.Options.Add(option);
        command.SetAction(demo.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        // The command line stops cleanly only what it already has the task of; drawing and opening would keep it from that.
        await Task.Yield();
        var problems = new List<InputProblem>();
        if (_options.Read(parsed, problems) is { } order)
            return await new DemoRun(order, parsed.InvocationConfiguration, TimeProvider.System).UntilAsync(cancel) ? ExitCode.Done : ExitCode.BadInput;
        foreach (var problem in problems) parsed.InvocationConfiguration.Error.WriteLine(problem);
        return ExitCode.BadInput;
    }
}

using System.CommandLine;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Simulating;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>simulate</c>: a made-up fleet to try things on, and the truth to hold results against.</summary>
internal sealed class SimulateCommand
{
    private const string Description = """
        Make up a fleet on the road: what its devices send, and what is true.

        Vehicles of several hauliers that do not exist load, drive, drop and lift axles on made-up routes. Sensors, weighings and vehicles
        depart from what their files say as real ones do; drivers make mistakes; devices lose their connection, repeat themselves and have
        wrong clocks. The same seed gives the same bytes. Nothing of it is about any real vehicle.

        --out writes a directory: vehicle files, tickets, settings (axletelemetry.json), recording.ndjson and truth.ndjson.
        --broker sends it instead. Serve the settings of the same seed and vehicles, or the service knows none of them. In real time the
        day begins now; with --pace the days lie in the past and end now. Presence stays on the broker as retained messages.

        Examples:
          axletelemetry simulate --out demo --vehicles 7 --days 1
          axletelemetry check demo/axletelemetry.json
          axletelemetry replay demo/recording.ndjson --settings demo/axletelemetry.json
          axletelemetry simulate --broker 127.0.0.1:1883 --vehicles 7 --pace 60
          axletelemetry simulate --broker broker.example:8884 --ca ca.pem --certificate simulator.pem --key simulator.key

        Exit code: 0 done, 2 bad input, every error told at once.
        """;

    private readonly SimulateOptions _options = new();

    private SimulateCommand()
    {
    }

    public static Command Create()
    {
        var simulate = new SimulateCommand();
        var command = new Command("simulate", Description);
        foreach (var option in simulate._options.All) command.Options.Add(option);
        command.SetAction(simulate.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        var problems = new List<InputProblem>();
        if (_options.Read(parsed, problems) is not { } order)
        {
            foreach (var problem in problems) error.WriteLine(problem);
            return ExitCode.BadInput;
        }

        switch (order.Into)
        {
            case SimulationTarget.Files files:
                await Task.Run(() => new SimulationFiles(files.Directory, output).Write(order, cancel), CancellationToken.None);
                return ExitCode.Done;
            case SimulationTarget.Broker broker:
                await new SimulatedSending(broker, TimeProvider.System, output).RunAsync(order, cancel);
                return ExitCode.Done;
            default: throw new InvalidOperationException($"No case for {order.Into.GetType().Name}.");
        }
    }
}

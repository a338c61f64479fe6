using System.CommandLine;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>watch</c>: what the vehicles send, followed live or from a recording.</summary>
internal sealed class WatchCommand
{
    private const string Description = """
        Follow a fleet from an MQTT broker or a recording: the load on every axle, its limits, what to do.

        In a terminal a table is kept up to date; otherwise one line is printed for each thing that happens: time, vehicle, sentence.
        Ctrl-C ends it with the loads as they stand and a summary. Every fleet that sends has the vehicles of --vehicles. Trailers hang on
        the vehicle whose coupling message names them, or that --coupled states.

        Nothing is kept on the disk, and in memory only what is needed to put late readings in their place: those up to two hours late
        (some 7 MB for a vehicle that sends once a second). What they change is told; older ones are counted as too late. To keep a
        history, run 'axletelemetry serve'.

        Examples:
          axletelemetry watch --recording deploy/examples/journey.ndjson --vehicles deploy/examples
          axletelemetry watch --broker broker.example:1883 --vehicles my-fleet --limits my-limits.json --trip national

        Exit code: 0 done, 1 a vehicle could not be followed to the end by a fault of this program, 2 bad input, every error told at once.
        """;

    private readonly WatchOptions _options = new();

    private WatchCommand()
    {
    }

    public static Command Create()
    {
        var watch = new WatchCommand();
        var command = new Command("watch", Description);
        watch._options.AddTo(command);
        command.SetAction(watch.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        var problems = new List<InputProblem>();
        var order = _options.Read(parsed, problems);
        var input = FleetFiles.Read(_options.Inputs(parsed, problems), problems);
        if (order is not null && input is not null) problems.AddRange(StatedCouplings.Problems(order.Tuning.Coupled, input.Vehicles));
        var stream = order?.Origin is MessageOrigin.Recording recording ? Open(recording.File, problems) : null;
        await using var recorded = stream;
        if (order is null || input is null || problems.Count > 0)
        {
            foreach (var problem in problems) await error.WriteLineAsync(problem.ToString());
            return ExitCode.BadInput;
        }

        foreach (var warning in input.Warnings) await error.WriteLineAsync($"Warning: {warning}");
        var display = Display(order, LimitsLine.Of(input.Limits, input.Trip), output, error);
        var watch = new FleetWatch(input, order.Tuning, display, TimeProvider.System);
        using var showing = new CancellationTokenSource();
        var shown = display.ShowAsync(watch, showing.Token);
        await PlayAsync(order.Origin, stream, watch, cancel);
        var summary = watch.End();
        await showing.CancelAsync();
        await shown;
        display.End(summary);
        return summary.Stopped.Any() ? ExitCode.Suspicious : ExitCode.Done;
    }

    private static Task PlayAsync(MessageOrigin origin, Stream? stream, FleetWatch watch, CancellationToken cancel) => origin switch
    {
        MessageOrigin.Recording recording => Task.Run(() => new RecordingSource(stream!, recording.Speed, TimeProvider.System).RunAsync(watch, cancel), CancellationToken.None),
        MessageOrigin.Broker broker => new BrokerSource(broker, TimeProvider.System).RunAsync(watch, cancel),
        _ => throw new InvalidOperationException("An origin of messages that nobody handles."),
    };

    private static IDisplay Display(WatchOrder order, string limits, TextWriter output, TextWriter error) =>
        order.Json ? new JsonLines(output, error)
        : ReferenceEquals(output, Console.Out) && !Console.IsOutputRedirected && !IsDumb ? new LiveTable(output, limits)
        : new PlainLines(output, error, limits);

    /// <summary>A terminal that cannot move its cursor would print the table again and again.</summary>
    private static bool IsDumb => Environment.GetEnvironmentVariable("TERM") is "dumb";

    private static FileStream? Open(string file, List<InputProblem> problems)
    {
        try
        {
            return File.OpenRead(file);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            problems.Add(new(file, "", "", Unreadable.Words(file, unreadable)));
            return null;
        }
    }
}

using System.Collections.Immutable;
using System.CommandLine;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Replaying;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>replay FILE</c>: a recording through the same shard as the service's, without a journal.</summary>
internal sealed class ReplayCommand
{
    private const string Description = """
        Run a recording as the service would have, and show the loads at its end, every episode, counts, and the digest.

        Nothing is kept. The same code runs as in the service, so the digest equals that of a service that received the same messages under
        the same settings, in whatever order. Run it again with a corrected calibration to see what that changes. An episode is a
        stretch of time in which something was found, for example an overload. A line that holds no message is told with its number
        and passed over; the rest goes on. Ctrl-C ends it early, with what was run until then.

        Examples:
          axletelemetry replay journey.ndjson --settings axletelemetry.json
          axletelemetry replay deploy/examples/journey.ndjson --vehicles deploy/examples --trip national

        Exit code: 0 done, 1 a vehicle could not be followed to the end by a fault of this program, 2 bad input, every error told at once.
        """;

    private readonly Argument<string> _file = new("FILE") { Description = "Recording, NDJSON: one message a line." };
    private readonly Option<string[]> _vehicles = new("--vehicles") { Description = "Vehicle file, or directory of them, in place of --settings: every fleet in the recording has them. May be repeated.", HelpName = "PATH" };
    private readonly SettingsOption _settings = new();
    private readonly InputOptions _input = new(TimeProvider.System);

    private ReplayCommand()
    {
    }

    public static Command Create()
    {
        var replay = new ReplayCommand();
        var command = new Command("replay", Description);
        command.Arguments.Add(replay._file);
        replay._settings.AddTo(command);
        command.Options.Add(replay._vehicles);
        replay._input.AddLimitsTo(command);
        command.SetAction((parsed, cancel) => Task.Run(() => replay.Run(parsed, cancel), CancellationToken.None));
        return command;
    }

    private int Run(ParseResult parsed, CancellationToken cancel)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        if (Open(parsed) is not { } recording) return ExitCode.BadInput;
        using (recording)
        {
            if (Configuration(parsed, recording) is not { } configuration) return ExitCode.BadInput;
            recording.Position = 0;
            var replay = new Replay(configuration, TimeProvider.System);
            var progress = new ReplayProgress(recording, error, TimeProvider.System);
            replay.Run(recording, progress, cancel);
            progress.End();
            if (replay.First is null && !cancel.IsCancellationRequested) return Refuse(parsed, [new(parsed.GetValue(_file)!, "", "", ReplaySources.NoMessage)]);
            new ReplaySummary(replay, output).Write();
            return replay.Shard.State.Stopped.Count > 0 ? ExitCode.Suspicious : ExitCode.Done;
        }
    }

    private FleetConfiguration? Configuration(ParseResult parsed, FileStream recording)
    {
        ImmutableArray<string> vehicles = [.. parsed.GetValue(_vehicles) ?? []];
        List<InputProblem> errors = [.. Contradictions(parsed, vehicles)];
        var request = _input.Read(parsed, errors) with { VehicleFiles = vehicles };
        var configuration = vehicles.IsEmpty ? _settings.Read(parsed)?.Fleets : ReplaySources.Read((parsed.GetValue(_file)!, recording), request, errors);
        Refuse(parsed, errors);
        return errors.Count > 0 ? null : configuration;
    }

    private IEnumerable<InputProblem> Contradictions(ParseResult parsed, ImmutableArray<string> vehicles)
    {
        if (!vehicles.IsEmpty && _settings.IsStated(parsed)) yield return new("--settings, --vehicles", "", "", "One of the two is needed, and not both.");
        if (!vehicles.IsEmpty) yield break;
        foreach (var option in _input.StatedLimits(parsed)) yield return new(option.Name, "", "", "It goes with --vehicles only: settings say it themselves.");
    }

    private static int Refuse(ParseResult parsed, IEnumerable<InputProblem> problems)
    {
        foreach (var problem in problems) parsed.InvocationConfiguration.Error.WriteLine(problem);
        return ExitCode.BadInput;
    }

    private FileStream? Open(ParseResult parsed)
    {
        var file = parsed.GetValue(_file)!;
        try
        {
            return File.OpenRead(file);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            parsed.InvocationConfiguration.Error.WriteLine(new InputProblem(file, "", "", Unreadable.Words(file, unreadable)));
            return null;
        }
    }
}

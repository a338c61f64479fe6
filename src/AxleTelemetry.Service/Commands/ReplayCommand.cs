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
        the same settings, in whatever order. Run it again with a corrected calibration to see what that changes. Ctrl-C ends it early.

        Examples:
          axletelemetry replay journey.ndjson --settings axletelemetry.json
          axletelemetry replay deploy/examples/journey.ndjson --vehicles deploy/examples --trip national

        Exit code: 0 done, 1 a lane stopped by a fault of ours, 2 bad input, every error told at once.
        """;

    private readonly Argument<string> _file = new("FILE") { Description = "Recording, NDJSON: one message a line." };
    private readonly Option<string?> _vehicles = new("--vehicles") { Description = "Directory of vehicle files, in place of --settings: every fleet in the recording has them.", HelpName = "DIRECTORY" };
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
            replay.Run(recording, progress.Tell, cancel);
            progress.End();
            new ReplaySummary(replay, output).Write();
            return replay.Shard.State.Stopped.Count > 0 ? ExitCode.Suspicious : ExitCode.Done;
        }
    }

    private FleetConfiguration? Configuration(ParseResult parsed, FileStream recording)
    {
        if (parsed.GetValue(_vehicles) is not { } directory) return _settings.Read(parsed)?.Fleets;
        var errors = new List<InputProblem>();
        var configuration = ReplaySources.Read(recording, _input.Read(parsed, errors), directory, errors);
        foreach (var problem in errors) parsed.InvocationConfiguration.Error.WriteLine(problem);
        return errors.Count > 0 ? null : configuration;
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

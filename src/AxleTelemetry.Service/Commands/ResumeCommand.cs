using System.CommandLine;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>resume VEHICLE...</c>: lanes that stopped by a fault of ours go on.</summary>
internal sealed class ResumeCommand
{
    private const string Description = """
        Let the lanes of vehicles go on that stopped by a fault of the program, after the repair.

        A vehicle whose lane met a fault stands still; its messages are kept, health shows it, the other vehicles go on. Once a repaired
        release or configuration is in place, this runs its history again from its last good snapshot. Works on a stopped service's
        journal, and through the interface of a running one. Without a vehicle it lists those that stopped.

        Examples:
          axletelemetry resume --settings axletelemetry.json
          axletelemetry resume north/TR-04 --settings axletelemetry.json

        Exit code: 0 done, 1 a lane stopped again, 2 bad input.
        """;

    private readonly Argument<string[]> _vehicles = new("VEHICLE") { Description = "Fleet and vehicle, for example north/TR-04.", Arity = ArgumentArity.ZeroOrMore };
    private readonly SettingsOption _settings = new();

    private ResumeCommand()
    {
    }

    public static Command Create()
    {
        var resume = new ResumeCommand();
        var command = new Command("resume", Description);
        command.Arguments.Add(resume._vehicles);
        resume._settings.AddTo(command);
        command.SetAction(resume.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        if (_settings.Read(parsed) is not { } configuration) return ExitCode.BadInput;
        var code = ExitCode.Done;
        foreach (var shard in configuration.Settings.Shards)
        {
            string[] wanted = [.. (parsed.GetValue(_vehicles) ?? []).Where(v => shard.Fleets.Contains(v.Split('/')[0]))];
            switch (ShardOpening.Open(configuration.DataDirectory, shard.Name, new JournalOptions(), new ShardOptions()))
            {
                case ShardOpening.Opened opened:
                    using (opened.Store) code = Math.Max(code, new OfflineResume(opened.Shard, output).Run(wanted));
                    break;
                case ShardOpening.InUse:
                    code = Math.Max(code, await new RunningService(configuration, output, error).ResumeAsync(wanted, cancel));
                    break;
                case ShardOpening.Failed failed:
                    await error.WriteLineAsync(failed.Why);
                    return ExitCode.BadInput;
                default:
                    throw new InvalidOperationException("An outcome of opening that nobody handles.");
            }
        }

        foreach (var vehicle in parsed.GetValue(_vehicles) ?? [])
            if (vehicle.Split('/') is not [var fleet, _] || configuration.Fleets.Find(fleet) is null)
            {
                await error.WriteLineAsync($"VEHICLE: found '{vehicle}'. Right is FLEET/VEHICLE with one of the fleets {string.Join(", ", configuration.Fleets.Fleets.Select(f => f.Name))}.");
                code = ExitCode.BadInput;
            }

        return code;
    }
}

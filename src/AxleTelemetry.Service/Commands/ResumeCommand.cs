using System.CommandLine;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Hosting;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>resume VEHICLE...</c>: lanes that stopped by a fault of ours go on.</summary>
internal sealed class ResumeCommand
{
    private const string Description = """
        Let the lanes of vehicles go on that stopped by a fault of the program or of a description, after the repair.

        A lane is what follows one powered vehicle with its trailers. One that meets a fault stands still: its messages are kept, /health
        of the service shows it, the other vehicles go on. Once a repaired release, or a repaired description that the service has taken,
        is in place, this runs its history again from before the fault. Works on the journal of a stopped service, and through the
        interface of a running one. Without a vehicle it lists the lanes that stopped, and why.

        Examples:
          axletelemetry resume --settings axletelemetry.json
          axletelemetry resume north/TR-04 --settings axletelemetry.json

        Exit code: 0 done, or nothing had stopped; 1 a lane stopped again; 2 bad input, and every reason.
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
        if (_settings.Read(parsed) is not { } configuration) return ExitCode.BadInput;
        string[] wanted = [.. parsed.GetValue(_vehicles) ?? []];
        if (Refused(configuration, wanted, parsed.InvocationConfiguration.Error)) return ExitCode.BadInput;
        var code = ExitCode.Done;
        foreach (var shard in configuration.Settings.Shards)
        {
            string[] own = [.. wanted.Where(v => shard.Fleets.Contains(v.Split('/')[0]))];
            // Without any all shards are asked; otherwise those alone that a named vehicle belongs to.
            if (wanted.Length == 0 || own.Length > 0) code = Math.Max(code, await RunAsync(configuration, (shard.Name, own), parsed.InvocationConfiguration, cancel));
        }

        return code;
    }

    private static async Task<int> RunAsync(ServiceConfiguration configuration, (string Name, string[] Wanted) shard, InvocationConfiguration console, CancellationToken cancel)
    {
        if (IsAbsent(configuration, shard.Name, console.Error)) return ExitCode.BadInput;
        switch (ShardOpening.Open(configuration.DataDirectory, shard.Name, new JournalOptions(), new ShardOptions()))
        {
            case ShardOpening.Opened opened:
                using (opened.Store) return new OfflineResume(opened.Shard, console.Output).Run(shard.Wanted);
            case ShardOpening.InUse:
                return await new RunningService(ServicePlace.Of(configuration), console.Output, console.Error).ResumeAsync(shard, cancel);
            case ShardOpening.Failed failed:
                await console.Error.WriteLineAsync(failed.Why);
                return ExitCode.BadInput;
            default:
                throw new InvalidOperationException("An outcome of opening that nobody handles.");
        }
    }

    /// <summary>Opened for writing it would be made.</summary>
    private static bool IsAbsent(ServiceConfiguration configuration, string shard, TextWriter error)
    {
        var opening = JournalReader.Open(configuration.DataDirectory, shard);
        if (opening is ReaderOpening.Opened opened) opened.Reader.Dispose();
        if (opening is not ReaderOpening.Absent) return false;
        error.WriteLine(ReaderWords.WhyNot(opening, shard));
        return true;
    }

    private static bool Refused(ServiceConfiguration configuration, string[] wanted, TextWriter error)
    {
        string[] wrong = [.. wanted.Where(v => v.Split('/') is not [var fleet, { Length: > 0 }] || configuration.Fleets.Find(fleet) is null)];
        foreach (var vehicle in wrong)
            error.WriteLine(new InputProblem("VEHICLE", "", $"'{vehicle}'", $"Right is FLEET/VEHICLE with one of the fleets {string.Join(", ", configuration.Fleets.Fleets.Select(f => f.Name))}."));
        return wrong.Length > 0;
    }
}

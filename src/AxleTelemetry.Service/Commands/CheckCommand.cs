using System.CommandLine;
using AxleTelemetry.Service.Checking;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>check FILE...</c>: everything that is wrong or odd in the files that people write.</summary>
internal static class CheckCommand
{
    private const string Help =
        """
        Check settings, vehicle files, limit files, tickets, assumptions, tyre events and recordings, and say everything that is wrong at once.

        Each problem comes with its place, what stands there and what would be right. A warning is odd but possible; the file is
        taken. Tickets and recordings are held against the vehicles among the files given: without them the names of sensors,
        axles and modes cannot be checked. With a settings file go all the files that it names. Of a recording, what is refused is
        told once per vehicle and reason.

        Example:
          axletelemetry check deploy/examples/rigid-6x2-tag.json my-tractor.json monday.ndjson

          my-tractor.json: vehicle, 1 error
            error at $.axles[1].rating_kg (line 9, column 86)
              found: 115000
              Right is a number from 1000 to 25000.
          monday.ndjson: recording 612 messages of RT-01, 3600 samples, 1 error
            error at samples[0].kpa.tga (line 3)
              found: unknown sensor, 180 times from RT-01: first tga
              Right would be: one of drive, tag.

        Exit code: 0 no errors, 2 at least one error.
        """;

    public static Command Create()
    {
        var files = new Argument<string[]>("FILE") { Description = "Settings, vehicle files, limit files, tickets, assumptions, tyre events and recordings, in any order.", Arity = ArgumentArity.OneOrMore };
        var json = new Option<bool>("--json") { Description = "Write the result as JSON, for programs." };
        var command = new Command("check", Help) { files, json };
        command.SetAction(parsed =>
        {
            var results = FileCheck.Run(parsed.GetRequiredValue(files));
            var output = parsed.InvocationConfiguration.Output;
            if (parsed.GetValue(json)) CheckReport.WriteJson(output, results);
            else CheckReport.WriteText(output, results);
            return results.Any(r => r.Errors > 0) ? ExitCode.BadInput : ExitCode.Done;
        });
        return command;
    }
}

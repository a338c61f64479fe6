using System.CommandLine;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.LoadSheets;
using Spectre.Console;

namespace AxleTelemetry.Service.Commands;

/// <summary>Every load of a combination in every lift configuration, judged, from a stated payload or from pressures.</summary>
internal sealed class LoadsCommand
{
    private const string Description = """
        Show the load on every axle, group and coupling, from a payload you state or from bellows pressures.

        In every position that the lifts can take: with its 95 % interval, its limit and what can be done when something is over.

        Example, a rigid with its tag axle raised and 11 t of payload, centre 4.2 m behind the first axle:
          axletelemetry loads deploy/examples/rigid-6x2-tag.json --payload 11000 --at 4.2 --raised tag

        Example, a tractor with its semi-trailer, from two pressures, the first trailer axle raised:
          axletelemetry loads deploy/examples/tractor-4x2.json deploy/examples/semi-tridem-lift-first.json
                              --pressure drive=560 --pressure bogie=310 --raised trailer-1

        A name that two vehicles share is written VEHICLE/NAME, for example --pressure TR-04/drive=560.
        'Known by' says how: own sensor; shared (a circuit over several axles); inferred (no sensor, follows from the others);
        place only (no pressure that was read tells it, only where the load usually sits).

        Exit code: 0 nothing over, 1 something likely or surely over as it is, 2 bad input, every error told at once.
        """;

    private readonly InputOptions _input = new(TimeProvider.System);
    private readonly LoadOptions _load = new();
    private readonly Option<bool> _json = new("--json") { Description = "Print JSON instead of tables." };

    private LoadsCommand()
    {
    }

    public static Command Create()
    {
        var loads = new LoadsCommand();
        var command = new Command("loads", Description);
        loads._input.AddTo(command);
        loads._load.AddTo(command);
        command.Options.Add(loads._json);
        command.SetAction(loads.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        switch (_input.Load(parsed))
        {
            case InputResult.Refused refused:
                return Refuse(refused.Errors, error);
            case InputResult.Loaded loaded:
                foreach (var warning in loaded.Input.Warnings) error.WriteLine($"Note: {warning}");
                var errors = new List<InputProblem>();
                if (_load.Read(parsed, loaded.Input.Combination, errors) is not { } order) return Refuse(errors, error);
                if (LoadDesk.Work(loaded.Input, order) is not { } sheet)
                    return Refuse([LoadDesk.Impossible(loaded.Input, order)], error);
                Write(sheet, parsed.GetValue(_json), output);
                return sheet.IsOver ? ExitCode.Over : ExitCode.Done;
            default:
                throw new InvalidOperationException("An outcome of loading that nobody handles.");
        }
    }

    private static void Write(LoadSheet sheet, bool json, TextWriter output)
    {
        if (json) output.WriteLine(LoadJson.Of(sheet));
        else if (ReferenceEquals(output, Console.Out) && !Console.IsOutputRedirected) new LoadPrint(sheet, AnsiConsole.Console).Write();
        else new LoadPlain(sheet, output).Write();
    }

    private static int Refuse(IEnumerable<InputProblem> problems, TextWriter error)
    {
        foreach (var problem in problems) error.WriteLine(problem);
        return ExitCode.BadInput;
    }
}

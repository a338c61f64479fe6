using System.CommandLine;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Service.Calibrating;
using Spectre.Console;

namespace AxleTelemetry.Service.Commands;

/// <summary>From weighbridge tickets to what a pressure means, with an honest interval, and which ticket does not belong.</summary>
internal sealed class CalibrateCommand
{
    private const string Description = """
        Fit bellows pressure to axle load from the handbook and weighbridge tickets, and spot a bad ticket.

        The handbook is where the fit starts; every ticket narrows it. From four tickets a plain line is shown beside it.
        Tickets are a CSV file, one line per circuit and weighing. Several axles on one circuit: the mean load of one axle.
        The method is platform (whole vehicle, certified; needs gross_kg), axle (axle by axle, level static bridge) or dynamic.

          weighing,time,vehicle,sensor,kpa,axle_kg,method,gross_kg,note
          W1,2026-03-02T06:14:05Z,T-101,drive,312.5,4010,platform,14980,
          W2,2026-03-04T15:40:00+01:00,T-101,drive,688,7890,axle,,"full, dry"

        Example: two bellows of 450 cm2 on the axle, 20 % farther from the pivot than the axle is:
          axletelemetry calibrate --tickets tickets.csv --circuit T-101/drive --area-cm2 450 --bellows 2 --lever 1.2
                                  --unsprung-kg 750 --typical-kg 9000 --svg fit.svg

        Exit code: 0 done, 1 done with a suspicious ticket (only with --strict), 2 bad input, every error told at once.
        """;

    private readonly CalibrateOptions _options = new();

    private CalibrateCommand()
    {
    }

    public static Command Create()
    {
        var calibrate = new CalibrateCommand();
        var command = new Command("calibrate", Description);
        foreach (var option in calibrate._options.All) command.Options.Add(option);
        command.SetAction(calibrate.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        var problems = new List<string>();
        var order = _options.Read(parsed, problems);
        var sheet = order is null ? null : CalibrationDesk.Work(order, problems);
        if (sheet is not null && order?.Picture is { } picture) Save(picture, FitPicture.Of(sheet), problems);
        if (sheet is null || order is null || problems.Count > 0)
        {
            foreach (var problem in problems) error.WriteLine(problem);
            return ExitCode.BadInput;
        }
        if (order.Json) output.WriteLine(CalibrationJson.Of(sheet));
        else CalibrationTables.Write(sheet, Terminal(output));
        return order.Strict && sheet.Suspicious.Any() ? ExitCode.Suspicious : ExitCode.Done;
    }

    private static void Save(FileInfo file, string picture, List<string> problems)
    {
        try
        {
            File.WriteAllText(file.FullName, picture);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            problems.Add($"--svg {file}: the picture cannot be written. {e.Message}");
        }
    }

    /// <summary>A file or a pipe has no width of its own; tables need about 120 columns.</summary>
    private static IAnsiConsole Terminal(TextWriter output)
    {
        var console = AnsiConsole.Create(new() { Out = new AnsiConsoleOutput(output) });
        if (!ReferenceEquals(output, Console.Out) || Console.IsOutputRedirected) console.Profile.Width = 132;
        return console;
    }
}

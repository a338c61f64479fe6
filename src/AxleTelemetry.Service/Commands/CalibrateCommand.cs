using System.Collections.Immutable;
using System.CommandLine;
using AxleTelemetry.Service.Calibrating;
using Spectre.Console;

namespace AxleTelemetry.Service.Commands;

/// <summary>From weighbridge tickets to what a pressure means, with an honest interval, and which ticket does not belong.</summary>
internal sealed class CalibrateCommand
{
    private const string Description = """
        Fit bellows pressure to axle load from the handbook and weighbridge tickets, and spot a bad ticket.

        The handbook is where the fit starts; every ticket narrows it. From four tickets a plain line is shown beside it.
        Tickets are a CSV file, one line per circuit and weighing. Several axles on one circuit: the load of the first that the
        vehicle file names for it; where they share alike, the mean of all is better. Never the mean of axles that share unequally.
        The method is platform (whole vehicle, certified; needs gross_kg), axle (axle by axle, level static bridge) or dynamic.

          weighing,time,vehicle,sensor,kpa,axle_kg,method,gross_kg,note
          W1,2026-03-02T06:14:05Z,T-101,drive,312.5,4010,platform,14980,
          W2,2026-03-04T15:40:00+01:00,T-101,drive,688,7890,axle,,"full, dry"

        With a vehicle file, each of its circuits that has tickets is fitted, one sheet after the other. Handbook, unsprung mass
        and full axle load (the rating) stand in the file. --svg fit.svg then gives a picture each: fit-drive.svg, fit-tag.svg.
        --circuit picks one circuit, and its picture keeps the name that was asked for. Example:

          axletelemetry calibrate --vehicle deploy/examples/rigid-6x2-tag.json --tickets deploy/examples/tickets-rt-01.csv

        Example without one, for two bellows of 450 cm2 on the axle, 20 % farther from the pivot than the axle is:

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
        var error = parsed.InvocationConfiguration.Error;
        var problems = new List<string>();
        if (_options.Read(parsed, problems) is not { } order) return Refuse(error, problems);
        switch (CalibrationDesk.Work(order))
        {
            case CalibrationResult.Refused refused:
                return Refuse(error, refused.Errors.Select(problem => problem.ToString()));
            case CalibrationResult.Done done:
                var pictures = FitPictures.Save(order, done.Sheets, problems);
                if (problems.Count > 0) return Refuse(error, problems);
                // Beside the answer and not in it, so that a program may read the answer alone.
                foreach (var warning in done.Warnings) error.WriteLine($"warning: {warning}");
                Write(order, done.Sheets, pictures, parsed.InvocationConfiguration.Output);
                return order.Strict && done.Sheets.Any(sheet => sheet.Suspicious.Any()) ? ExitCode.Suspicious : ExitCode.Done;
            case var other:
                throw new InvalidOperationException($"No case for {other.GetType().Name}.");
        }
    }

    private static int Refuse(TextWriter error, IEnumerable<string> problems)
    {
        foreach (var problem in problems) error.WriteLine(problem);
        return ExitCode.BadInput;
    }

    private static void Write(CalibrationOrder order, ImmutableArray<CalibrationSheet> sheets, ImmutableArray<string> pictures, TextWriter output)
    {
        if (order.Json)
        {
            output.WriteLine(order.EachCircuit ? CalibrationJson.Of(sheets) : CalibrationJson.Of(sheets[0]));
            return;
        }

        var terminal = Terminal(output);
        for (var i = 0; i < sheets.Length; i++)
        {
            if (i > 0) output.WriteLine();
            CalibrationTables.Write(sheets[i], terminal);
            if (!pictures.IsEmpty) output.WriteLine($"Picture: {pictures[i]}");
        }
    }

    /// <summary>A file or a pipe has no width of its own.</summary>
    private static IAnsiConsole Terminal(TextWriter output)
    {
        var console = AnsiConsole.Create(new() { Out = new AnsiConsoleOutput(output) });
        var hasWidth = ReferenceEquals(output, Console.Out) && !Console.IsOutputRedirected;
        console.Profile.Width = hasWidth ? Math.Max(console.Profile.Width, CalibrationTables.Least) : CalibrationTables.Least;
        return console;
    }
}

using System.CommandLine;

namespace AxleTelemetry.Service.Commands;

/// <summary>The command line: one executable, one command per thing a person comes to do.</summary>
internal static class Root
{
    private static readonly TimeSpan CleanStop = TimeSpan.FromSeconds(60);

    public static int Run(string[] args, InvocationConfiguration? configuration = null)
    {
        var parsed = Create().Parse(args);
        var code = Invoke(parsed, configuration ?? new InvocationConfiguration());
        // What the command line itself cannot read is bad input too; the library would say 1.
        return parsed.Errors.Count > 0 ? ExitCode.BadInput : code;
    }

    /// <summary>The command line, not yet read.</summary>
    public static RootCommand Create()
    {
        var root = new RootCommand("Axle loads of haulage vehicles with liftable axles. 'axletelemetry COMMAND --help' teaches a command with an example.");
        OverviewHelp.Use(root);
        root.Subcommands.Add(CheckCommand.Create());
        root.Subcommands.Add(CalibrateCommand.Create());
        root.Subcommands.Add(LoadsCommand.Create());
        root.Subcommands.Add(PlanCommand.Create());
        root.Subcommands.Add(WatchCommand.Create());
        root.Subcommands.Add(ServeCommand.Create());
        root.Subcommands.Add(DemoCommand.Create());
        root.Subcommands.Add(ReplayCommand.Create());
        root.Subcommands.Add(SimulateCommand.Create());
        root.Subcommands.Add(AccountCommand.Create());
        root.Subcommands.Add(ExportCommand.Create());
        root.Subcommands.Add(DigestCommand.Create());
        root.Subcommands.Add(ResumeCommand.Create());
        root.Subcommands.Add(BackupCommand.Create());
        root.Subcommands.Add(RestoreCommand.Create());
        root.Subcommands.Add(HealthyCommand.Create());
        root.Subcommands.Add(DeliveriesCommand.Create());
        root.Subcommands.Add(AccuracyCommand.Create());
        return root;
    }

    /// <summary>A full disk or a recording on a drive that goes away is no fault of the program: it is told in a sentence, not by a trace.</summary>
    private static int Invoke(ParseResult parsed, InvocationConfiguration configuration)
    {
        configuration.EnableDefaultExceptionHandler = false;
        // Of the library two seconds: a clean stop commits what was taken and writes every lane whole.
        configuration.ProcessTerminationTimeout = CleanStop;
        try
        {
            return parsed.Invoke(configuration);
        }
        catch (IOException failed)
        {
            configuration.Error.WriteLine($"Stopped: reading or writing failed. {failed.Message}");
            return ExitCode.BadInput;
        }
    }
}

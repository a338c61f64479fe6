using System.CommandLine;

namespace AxleTelemetry.Service.Commands;

/// <summary>The command line: one executable, one command per thing a person comes to do.</summary>
internal static class Root
{
    public static int Run(string[] args, InvocationConfiguration? configuration = null)
    {
        var root = new RootCommand("Axle loads of haulage vehicles with liftable axles. 'axletelemetry COMMAND --help' teaches a command with an example.");
        OverviewHelp.Use(root);
        root.Subcommands.Add(CheckCommand.Create());
        root.Subcommands.Add(CalibrateCommand.Create());
        root.Subcommands.Add(LoadsCommand.Create());
        root.Subcommands.Add(WatchCommand.Create());
        var parsed = root.Parse(args);
        var code = parsed.Invoke(configuration);
        // What the command line itself cannot read is bad input too; the library would say 1.
        return parsed.Errors.Count > 0 ? ExitCode.BadInput : code;
    }
}

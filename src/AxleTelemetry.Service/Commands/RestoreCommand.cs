using System.CommandLine;
using AxleTelemetry.Service.Backups;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>restore</c>: a data directory of a backup.</summary>
internal sealed class RestoreCommand
{
    private const string Description = """
        Make the data directory of a service from a backup.

        Into a directory that is not there, or empty: nothing is ever written over. Every file is held against its SHA-256, every database is read
        whole, and each history must have the digest it was taken with, which is printed. Settings and vehicle files lie in the backup under
        'configuration', laid out as they were; secrets are in no backup. A service that is then started goes on from that batch: what it had
        acknowledged since is not there unless devices send it again, and what it had told since may be told again.

        Example:
          axletelemetry restore /var/backups/axletelemetry/2026-03-02 --into /var/lib/axletelemetry

        Exit code: 0 restored, 2 bad input, or nothing was restored, and why.
        """;

    private readonly Argument<string> _backup = new("BACKUP") { Description = "Directory that 'backup' made." };
    private readonly Option<string> _into = new("--into") { Description = "The data directory, not there yet or empty.", HelpName = "DIRECTORY", Required = true };

    private RestoreCommand()
    {
    }

    public static Command Create()
    {
        var restore = new RestoreCommand();
        var command = new Command("restore", Description);
        command.Arguments.Add(restore._backup);
        command.Options.Add(restore._into);
        command.SetAction(restore.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        try
        {
            BackupWords.Write(new BackupRestoring(parsed.GetValue(_backup)!).Into(parsed.GetValue(_into)!), parsed.InvocationConfiguration.Output);
            return ExitCode.Done;
        }
        catch (BackupFault fault)
        {
            parsed.InvocationConfiguration.Error.WriteLine(fault.Message);
            return ExitCode.BadInput;
        }
    }
}

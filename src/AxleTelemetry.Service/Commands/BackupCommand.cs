using System.CommandLine;
using AxleTelemetry.Service.Backups;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>backup</c>: a copy of what a service keeps, taken while it runs.</summary>
internal sealed class BackupCommand
{
    private const string Description = """
        Take a backup of everything a service keeps, while it runs or not.

        Into a directory of its own, which appears only when it is whole: every database of the data directory as it stands at one moment (journals,
        people.db and whatever else ends in .db), the keys that cookies are sealed with, the settings and the files of fleets that they name.
        Left out are secrets: passwords, tokens, certificates and their keys. The files are readable by their owner only; what drivers did where is in
        them. Each journal is checked and named with its last batch and the digest of its history. The disk must have room for a second copy.

        Example:
          axletelemetry backup --settings axletelemetry.json --into /var/backups/axletelemetry/2026-03-02

        Exit code: 0 taken, 2 bad input, or no backup could be taken, and why.
        """;

    private readonly SettingsOption _settings = new();
    private readonly Option<string> _into = new("--into") { Description = "Directory for the backup, not there yet.", HelpName = "DIRECTORY", Required = true };

    private BackupCommand()
    {
    }

    public static Command Create()
    {
        var backup = new BackupCommand();
        var command = new Command("backup", Description);
        backup._settings.AddTo(command);
        command.Options.Add(backup._into);
        command.SetAction(backup.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        if (_settings.Read(parsed) is not { } configuration) return ExitCode.BadInput;
        try
        {
            BackupWords.Write(new BackupTaking(_settings.Path(parsed), configuration).Into(parsed.GetValue(_into)!, DateTimeOffset.UtcNow), parsed.InvocationConfiguration.Output);
            return ExitCode.Done;
        }
        catch (BackupFault fault)
        {
            parsed.InvocationConfiguration.Error.WriteLine(fault.Message);
            return ExitCode.BadInput;
        }
    }
}

using System.CommandLine;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>digest</c>: one line that says whether two histories are the same.</summary>
internal sealed class DigestCommand
{
    private const int Page = 500;

    private const string Description = """
        Print the SHA-256 of the history in force, to compare two histories by one line.

        One line for each shard: its name and the digest. There is one shard, 'main', unless the settings name others. Equal digests mean
        equal histories: the same loads, episodes and begun loads of every vehicle, whatever the order in which messages came.
        'replay' prints the digest of a recording, which equals that of a service that received the same messages under the same
        settings. May be asked of a running service; while it is still putting late readings in their place the digest moves, and that is said.

        Example:
          axletelemetry digest --settings axletelemetry.json

        Exit code: 0 printed, 1 printed while history was still to be corrected or a lane stood still, 2 bad input, or a journal that cannot be read.
        """;

    private readonly SettingsOption _settings = new();

    private DigestCommand()
    {
    }

    public static Command Create()
    {
        var digest = new DigestCommand();
        var command = new Command("digest", Description);
        digest._settings.AddTo(command);
        command.SetAction(digest.Run);
        return command;
    }

    private int Run(ParseResult parsed) => _settings.Read(parsed) is { } configuration
        ? configuration.Settings.Shards.Select(shard => Print(configuration, shard.Name, parsed)).Max()
        : ExitCode.BadInput;

    private static int Print(ServiceConfiguration configuration, string shard, ParseResult parsed)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        var opening = JournalReader.Open(configuration.DataDirectory, shard);
        if (opening is not ReaderOpening.Opened opened)
        {
            error.WriteLine(ReaderWords.WhyNot(opening, shard));
            return ExitCode.BadInput;
        }

        using var reader = opened.Reader;
        try
        {
            return Print(reader, shard, (output, error));
        }
        catch (SqliteException broken)
        {
            error.WriteLine(ReaderWords.WhyNot(broken, configuration.DataDirectory, shard));
            return ExitCode.BadInput;
        }
    }

    private static int Print(JournalReader reader, string shard, (TextWriter Output, TextWriter Error) to)
    {
        to.Output.WriteLine($"{shard} {reader.Digest()}");
        var behind = reader.Corrections();
        string[] stopped = [.. Stopped(reader).Select(v => $"{v.Fleet}/{v.Vehicle}")];
        if (stopped.Length > 0) to.Error.WriteLine($"The lanes of {string.Join(", ", stopped)} have stopped by a fault: what they sent since is not in this history. 'axletelemetry resume' says why.");
        if (behind.IsEmpty) return stopped.Length > 0 ? ExitCode.Suspicious : ExitCode.Done;
        to.Error.WriteLine($"History is still to be corrected of {string.Join(", ", behind.Select(m => m.Vehicle.Vehicle))}: the digest will move.");
        return ExitCode.Suspicious;
    }

    private static IEnumerable<VehicleKey> Stopped(JournalReader reader)
    {
        (VehicleKey, RowKind)? after = null;
        for (var page = reader.Checkpoints(after, Page); !page.IsEmpty; page = reader.Checkpoints(after, Page))
        {
            foreach (var kept in page)
                if (kept.Row.Kind == Codes.Stopped && !kept.Row.Bytes.IsEmpty)
                    yield return kept.Row.Vehicle;
            after = (page[^1].Row.Vehicle, page[^1].Row.Kind);
        }
    }
}

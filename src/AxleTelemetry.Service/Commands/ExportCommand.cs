using System.CommandLine;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Exporting;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Register;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using Microsoft.Data.Sqlite;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>export</c>: the register of episodes as a file.</summary>
internal sealed class ExportCommand
{
    private const string Csv = "csv", Json = "json";

    private const string Description = """
        Write the register of episodes, for example overloads, as CSV or JSON.

        One row for each episode, oldest first: what was found, since when and until when, the limit and its source, the greatest excess
        with its interval, where, how the lifts stood. CSV is by RFC 4180 in UTF-8, times in UTC, units in the names of the columns; JSON
        has one object a line, with the versions of the settings as well. Reads only, so it works beside a running service.

        Loads are on-board estimates, no weighing; limits as of the edition each row names. Positions and times are personal data.

        Examples:
          axletelemetry export --settings axletelemetry.json > episodes.csv
          axletelemetry export --from 2026-03-01 --to 2026-04-01 --vehicle north/TR-04 --format json

        Exit code: 0 written, 2 bad input, or a journal that cannot be read.
        """;

    private readonly SettingsOption _settings = new();
    private readonly Option<string> _format = new("--format") { Description = "csv, or json: one object a line.", HelpName = "csv|json", DefaultValueFactory = _ => Csv };
    private readonly SpanOptions _part = new(
        "Episodes that were open at this time or later: a day or an RFC 3339 time, UTC unless stated.", "Episodes that began before this time.", "Of this vehicle only, for example north/TR-04.");

    private ExportCommand()
    {
    }

    public static Command Create()
    {
        var export = new ExportCommand();
        var command = new Command("export", Description);
        export._settings.AddTo(command);
        command.Options.Add(export._format);
        export._part.AddTo(command);
        command.SetAction(export.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var error = parsed.InvocationConfiguration.Error;
        if (_settings.Read(parsed) is not { } configuration) return ExitCode.BadInput;
        var problems = new List<InputProblem>();
        var wanted = Wanted(parsed, configuration, problems);
        foreach (var problem in problems) error.WriteLine(problem);
        if (problems.Count > 0) return ExitCode.BadInput;
        return Write(configuration, wanted.Part.Shards(configuration), wanted, parsed);
    }

    private static int Write(ServiceConfiguration configuration, IEnumerable<string> shards, Selection wanted, ParseResult parsed)
    {
        var (output, error) = (parsed.InvocationConfiguration.Output, parsed.InvocationConfiguration.Error);
        var readers = new List<(string Shard, JournalReader Reader)>();
        var reading = "";
        try
        {
            foreach (var shard in shards)
            {
                var opening = JournalReader.Open(configuration.DataDirectory, shard);
                if (opening is not ReaderOpening.Opened opened) return Refuse(error, ReaderWords.WhyNot(opening, shard));
                readers.Add((shard, opened.Reader));
            }

            wanted.Write(readers.SelectMany(r =>
            {
                reading = r.Shard;
                return new EpisodeExport(r.Reader).Episodes(wanted.Span, wanted.Part.Fleet, wanted.Part.Vehicle);
            }), output);
            return ExitCode.Done;
        }
        catch (SqliteException broken)
        {
            return Refuse(error, ReaderWords.WhyNot(broken, configuration.DataDirectory, reading));
        }
        finally
        {
            foreach (var (_, reader) in readers) reader.Dispose();
        }
    }

    private static int Refuse(TextWriter error, string why)
    {
        error.WriteLine(why);
        return ExitCode.BadInput;
    }

    private Selection Wanted(ParseResult parsed, ServiceConfiguration configuration, List<InputProblem> problems)
    {
        var part = _part.Read(parsed, configuration, problems);
        var format = parsed.GetValue(_format)!.ToLowerInvariant();
        if (format is not (Csv or Json)) problems.Add(new("--format", "", $"'{format}'", $"Right would be {Csv} or {Json}."));
        var span = new SampleSpan(part.From ?? new Moment(0), part.To is { } end ? new Moment(end.UnixMilliseconds - 1) : new Moment(long.MaxValue / 2));
        return new Selection(span, part, format == Json ? EpisodeJson.Write : EpisodeCsv.Write);
    }

    private sealed record Selection(SampleSpan Span, JournalPart Part, Action<IEnumerable<EpisodeDocument>, TextWriter> Write);
}

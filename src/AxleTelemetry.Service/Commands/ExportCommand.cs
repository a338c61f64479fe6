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
    private readonly Option<string?> _from = new("--from") { Description = "Episodes that were open at this time or later: a day or an RFC 3339 time, UTC unless stated.", HelpName = "TIME" };
    private readonly Option<string?> _to = new("--to") { Description = "Episodes that began before this time.", HelpName = "TIME" };
    private readonly Option<string?> _fleet = new("--fleet") { Description = "Of this fleet only.", HelpName = "FLEET" };
    private readonly Option<string?> _vehicle = new("--vehicle") { Description = "Of this vehicle only, for example north/TR-04.", HelpName = "FLEET/VEHICLE" };

    private ExportCommand()
    {
    }

    public static Command Create()
    {
        var export = new ExportCommand();
        var command = new Command("export", Description);
        export._settings.AddTo(command);
        foreach (Option option in (Option[])[export._format, export._from, export._to, export._fleet, export._vehicle]) command.Options.Add(option);
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
        var shards = configuration.Settings.Shards.Where(s => (wanted.Vehicle?.Fleet ?? wanted.Fleet) is not { } fleet || s.Fleets.Contains(fleet)).Select(s => s.Name);
        return Write(configuration, shards, wanted, parsed);
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
                return new EpisodeExport(r.Reader).Episodes(wanted.Span, wanted.Fleet, wanted.Vehicle);
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
        var (from, to) = (TimeText.Read("--from", parsed.GetValue(_from), problems), TimeText.Read("--to", parsed.GetValue(_to), problems));
        var format = parsed.GetValue(_format)!.ToLowerInvariant();
        if (format is not (Csv or Json)) problems.Add(new("--format", "", $"'{format}'", $"Right would be {Csv} or {Json}."));
        if (from > to) problems.Add(new("--from", "", from.ToString()!, "Right is a time before --to."));
        var fleet = parsed.GetValue(_fleet);
        var vehicle = TimeText.Vehicle(parsed.GetValue(_vehicle), problems);
        if (fleet is not null && vehicle is { } other && other.Fleet != fleet)
            problems.Add(new("--vehicle", "", $"'{other.Fleet}/{other.Id}'", $"Right is a vehicle of --fleet {fleet}, or --fleet left out."));
        if ((fleet ?? vehicle?.Fleet) is { } named && configuration.Fleets.Find(named) is null)
            problems.Add(new(fleet is null ? "--vehicle" : "--fleet", "", $"'{named}'", $"Right is one of the fleets {string.Join(", ", configuration.Fleets.Fleets.Select(f => f.Name))}."));
        var span = new SampleSpan(from ?? new Moment(0), to is { } end ? new Moment(end.UnixMilliseconds - 1) : new Moment(long.MaxValue / 2));
        return new Selection(span, fleet, vehicle, format == Json ? EpisodeJson.Write : EpisodeCsv.Write);
    }

    private sealed record Selection(SampleSpan Span, string? Fleet, VehicleName? Vehicle, Action<IEnumerable<EpisodeDocument>, TextWriter> Write);
}

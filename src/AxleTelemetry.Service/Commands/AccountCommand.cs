using System.CommandLine;
using AxleTelemetry.Domain.FittedTyres;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.FittedTyres;
using AxleTelemetry.Messages.Running;
using AxleTelemetry.Service.Accounting;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Exporting;
using AxleTelemetry.Service.Inputs;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Storage.Reading;
using Microsoft.Data.Sqlite;
using Spectre.Console;

namespace AxleTelemetry.Service.Commands;

/// <summary><c>account</c>: what running cost, from the journal.</summary>
internal sealed class AccountCommand
{
    private const string Text = "text", Json = "json";
    private const int Least = 150;

    private const string Description = """
        What running cost: saved by lifting, wasted with an axle lowered (or raised) for nothing, and what each axle went through.

        By unit and by axle, from the journal: distance on the road and raised, load, scrub in bends, tread, times above 95 % of the rating,
        times raised and lowered; fuel, CO2 and money with their 95 % intervals, every saving without hub drag as well; and whether each
        liftable axle pays. Money and drag come from the assumptions of the fleet ('assumptions' in the settings; --format json lists
        them with source and status). Reads only, so it works beside a running service.

        Loads are on-board estimates, no weighing. Only rolling, hub drag and scrub are in it: air, hills and engine are not.

        Examples:
          axletelemetry account --settings axletelemetry.json
          axletelemetry account --from 2026-03-01 --to 2026-04-01 --vehicle north/TR-04 --format json
          axletelemetry account --tyres deploy/examples/tyres-rt-01.csv

        Exit code: 0 written, 2 bad input, or a journal that cannot be read.
        """;

    private readonly SettingsOption _settings = new();
    private readonly Option<string> _format = new("--format") { Description = "As tables (text), or as one JSON object (json).", HelpName = "text|json", DefaultValueFactory = _ => Text };
    private readonly SpanOptions _part = new(
        "Days that began at this time or later: a day or an RFC 3339 time, UTC unless stated.", "Days that began before this time.",
        "Of the units that this vehicle, powered or trailer, was part of, for example north/TR-04.");

    private readonly Option<int> _kilometres = new("--km-per-year") { Description = "Distance of a year, for whether a lift pays.", HelpName = "KM", DefaultValueFactory = _ => 100_000 };

    private readonly Option<string?> _tyres = new("--tyres") { Description = "CSV file of tyre events (fitted, rotated, removed, retreaded): the account by tyre as well.", HelpName = "FILE" };

    private AccountCommand()
    {
    }

    public static Command Create()
    {
        var account = new AccountCommand();
        var command = new Command("account", Description);
        account._settings.AddTo(command);
        command.Options.Add(account._format);
        account._part.AddTo(command);
        foreach (Option option in (Option[])[account._kilometres, account._tyres]) command.Options.Add(option);
        command.SetAction(account.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        var error = parsed.InvocationConfiguration.Error;
        if (_settings.Read(parsed) is not { } configuration) return ExitCode.BadInput;
        var problems = new List<InputProblem>();
        var part = Wanted(parsed, configuration, problems);
        var tyres = Tyres(parsed.GetValue(_tyres), configuration, problems);
        foreach (var problem in problems) error.WriteLine(problem);
        if (problems.Count > 0) return ExitCode.BadInput;
        return Read(configuration, part, error) is { } found ? Write(found, tyres?.Account(found.Days), configuration, parsed) : ExitCode.BadInput;
    }

    private static AccountFound? Read(ServiceConfiguration configuration, JournalPart part, TextWriter error)
    {
        var reading = new AccountReading((part.From ?? new Moment(0), part.To ?? new Moment(long.MaxValue / 4)), part.Fleet, part.Vehicle);
        var found = AccountFound.Nothing;
        foreach (var shard in part.Shards(configuration))
        {
            var opening = JournalReader.Open(configuration.DataDirectory, shard);
            if (opening is not ReaderOpening.Opened opened)
            {
                error.WriteLine(ReaderWords.WhyNot(opening, shard));
                return null;
            }

            using var reader = opened.Reader;
            try
            {
                var log = EpisodeExport.Configurations(reader);
                found = reading.Read(reader.HistoryAcross, members => CombinationShelf.Make(members, log), found);
            }
            catch (SqliteException broken)
            {
                error.WriteLine(ReaderWords.WhyNot(broken, configuration.DataDirectory, shard));
                return null;
            }
        }

        return found;
    }

    private static TyreLedger? Tyres(string? file, ServiceConfiguration configuration, List<InputProblem> problems)
    {
        if (file is null || new InputFiles(problems, []).Bytes(file) is not { } bytes) return null;
        var described = configuration.Fleets.Fleets.SelectMany(f => f.Vehicles).Select(v => v.Description).GroupBy(v => v.Id).ToDictionary(g => g.Key, g => g.First(), StringComparer.Ordinal);
        switch (TyresCsv.Parse(System.Text.Encoding.UTF8.GetString(bytes), described.GetValueOrDefault))
        {
            case TyresOutcome.Read read:
                return read.Ledger;
            case TyresOutcome.Refused refused:
                problems.AddRange(refused.Problems.Select(p => new InputProblem(FormattableString.Invariant($"{file}:{p.Line}"), p.Field, p.Value.Length == 0 ? "nothing" : $"'{p.Value}'", p.Right)));
                return null;
            default:
                throw new InvalidOperationException("An outcome of reading tyres that nobody handles.");
        }
    }

    private int Write(AccountFound found, TyreAccount? tyres, ServiceConfiguration configuration, ParseResult parsed)
    {
        var output = parsed.InvocationConfiguration.Output;
        var kilometres = parsed.GetValue(_kilometres);
        if (parsed.GetValue(_format)!.Equals(Json, StringComparison.OrdinalIgnoreCase))
        {
            output.WriteLine(System.Text.Json.JsonSerializer.Serialize(AccountDocument.Of(found, Of, kilometres) with
            {
                Tyres = tyres is null ? null : [.. tyres.Tyres.Select(TyreDocument.Of)], AxleDaysWithoutTyres = tyres?.Unclaimed.Length,
            }, JsonText.Options));
            return ExitCode.Done;
        }

        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(output), Ansi = AnsiSupport.No, ColorSystem = ColorSystemSupport.NoColors });
        console.Profile.Width = Math.Max(console.Profile.Width, Least);
        AccountTables.Write(found, Of, kilometres, console);
        if (tyres is not null) AccountTables.Write(tyres, console);
        return ExitCode.Done;

        Assumptions Of(string fleet) => configuration.Fleets.Find(fleet)?.Assumptions ?? AssumptionsFile.Shipped;
    }

    private JournalPart Wanted(ParseResult parsed, ServiceConfiguration configuration, List<InputProblem> problems)
    {
        var format = parsed.GetValue(_format)!.ToLowerInvariant();
        if (format is not (Text or Json)) problems.Add(new("--format", "", $"'{format}'", $"Right would be {Text} or {Json}."));
        if (parsed.GetValue(_kilometres) is var kilometres and (< 1_000 or > 500_000)) problems.Add(new("--km-per-year", "", $"'{kilometres}'", "Right is 1000 to 500000."));
        return _part.Read(parsed, configuration, problems);
    }
}

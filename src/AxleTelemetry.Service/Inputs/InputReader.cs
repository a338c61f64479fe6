using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Calibration;
using AxleTelemetry.Messages.Limits;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Service.Inputs;

/// <summary>Loads what a command was given: all of it, or every error at once.</summary>
internal sealed class InputReader
{
    private readonly List<InputProblem> _errors = [];
    private readonly List<InputProblem> _warnings = [];

    private InputReader()
    {
    }

    /// <summary>Loads. Never throws for what stands in a file or is missing.</summary>
    public static InputResult Load(InputRequest request) => new InputReader().Read(request);

    private InputResult Read(InputRequest request)
    {
        var combination = Couple(request.VehicleFiles);
        var limits = Limits(request.Limits);
        var tickets = request.Tickets is null ? [] : Tickets(request.Tickets);
        if (combination is null || limits is null || _errors.Count > 0) return new InputResult.Refused([.. _errors]);
        var fits = new TicketFits(request.Tickets ?? "", tickets, request.AsOf).Of(combination, _errors, _warnings);
        if (_errors.Count > 0) return new InputResult.Refused([.. _errors]);
        return new InputResult.Loaded(new VehicleInput(combination, fits, limits, request.Trip) { Warnings = [.. _warnings] });
    }

    private Combination? Couple(ImmutableArray<string> files)
    {
        ImmutableArray<VehicleDescription?> read = [.. files.Select(Vehicle)];
        if (read.Any(v => v is null)) return null;
        ImmutableArray<VehicleDescription> vehicles = [.. read.OfType<VehicleDescription>()];
        foreach (var twice in vehicles.GroupBy(v => v.Id).Where(g => g.Count() > 1))
            _errors.Add(new("combination", "", $"'{twice.Key}' more than once", "Each vehicle of a combination has an id of its own."));
        switch (Combination.Couple(vehicles))
        {
            case CouplingResult.Coupled coupled:
                return coupled.Combination;
            case CouplingResult.Impossible impossible:
                _errors.Add(new("combination", "", "", $"{impossible.Reason} List the files front to rear, powered unit first."));
                return null;
            default:
                throw new InvalidOperationException("An outcome of coupling that nobody handles.");
        }
    }

    private VehicleDescription? Vehicle(string file)
    {
        if (Bytes(file) is not { } bytes) return null;
        var result = VehicleFile.Parse(bytes);
        foreach (var problem in result.Problems)
            (problem.IsWarning ? _warnings : _errors).Add(new(At(file, problem.Place), problem.Path, problem.Found, problem.Right));
        return (result as VehicleFileResult.Accepted)?.Vehicle;
    }

    private LimitSet? Limits(string? file)
    {
        // Said once and in the words used for every file.
        if (file is not null && Bytes(file) is null) return null;
        switch (file is null ? LimitSetFile.Shipped(LimitSetFile.Directive) : LimitSetFile.Load(file))
        {
            case LimitSetResult.Parsed parsed:
                return parsed.Set;
            case LimitSetResult.Refused refused:
                _errors.AddRange(refused.Errors.Select(e => new InputProblem(file ?? LimitSetFile.Directive, e.Path, e.Found, $"Right would be {e.Expected}.")));
                return null;
            default:
                throw new InvalidOperationException("An outcome of reading limits that nobody handles.");
        }
    }

    private ImmutableArray<CircuitTicket> Tickets(string file)
    {
        if (Bytes(file) is not { } bytes) return [];
        switch (TicketsCsv.Parse(System.Text.Encoding.UTF8.GetString(bytes)))
        {
            case TicketsRead read:
                return read.Tickets;
            case TicketsRefused refused:
                _errors.AddRange(refused.Problems.Select(p =>
                    new InputProblem(FormattableString.Invariant($"{file}:{p.Line}"), p.Field, p.Value.Length == 0 ? "nothing" : $"'{p.Value}'", p.Right)));
                return [];
            default:
                throw new InvalidOperationException("An outcome of reading tickets that nobody handles.");
        }
    }

    private byte[]? Bytes(string file)
    {
        try
        {
            return File.ReadAllBytes(file);
        }
        catch (Exception unreadable) when (unreadable is IOException or UnauthorizedAccessException)
        {
            _errors.Add(new(file, "", "", unreadable is FileNotFoundException or DirectoryNotFoundException
                ? "There is no such file." : $"The file cannot be read. {unreadable.Message}"));
            return null;
        }
    }

    private static string At(string file, TextPlace place) =>
        place == default ? file : FormattableString.Invariant($"{file}:{place.Line}:{place.Column}");
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.Inputs;

/// <summary>Loads what a command was given: all of it, or every error at once.</summary>
internal sealed class InputReader
{
    private readonly List<InputProblem> _errors = [];
    private readonly List<InputProblem> _warnings = [];
    private readonly InputFiles _files;

    private InputReader() => _files = new InputFiles(_errors, _warnings);

    /// <summary>Loads. Never throws for what stands in a file or is missing.</summary>
    public static InputResult Load(InputRequest request) => new InputReader().Read(request);

    private InputResult Read(InputRequest request)
    {
        var combination = Couple(request.VehicleFiles);
        var limits = _files.Limits(request.Limits);
        var tickets = request.Tickets is null ? [] : _files.Tickets(request.Tickets);
        var permits = request.Permits is { } file && combination is not null ? Permits(file, combination, request.AsOf) : [];
        if (combination is null || limits is null || _errors.Count > 0) return new InputResult.Refused([.. _errors]);
        var fits = new TicketFits(request.Tickets ?? "", tickets, request.AsOf).Of(combination.Vehicles, _errors, _warnings);
        if (_errors.Count > 0) return new InputResult.Refused([.. _errors]);
        return new InputResult.Loaded(new VehicleInput(combination, fits, limits, request.Trip, permits) { Warnings = [.. _warnings] });
    }

    /// <summary>Those that concern these vehicles on the day; a file of which none does is told, as somebody expects one.</summary>
    private ImmutableArray<Permit> Permits(string file, Combination combination, Moment? asOf)
    {
        if (_files.Bytes(file) is not { } bytes) return [];
        var before = _errors.Count;
        ImmutableArray<Permit> all = _files.Permits(file, bytes);
        var day = DateOnly.FromDateTime(DateTimeOffset.FromUnixTimeMilliseconds(asOf?.UnixMilliseconds ?? 0).UtcDateTime);
        ImmutableArray<Permit> own = [.. all.Where(p => p.IsFor(combination) && p.HoldsOn(day))];
        if (_errors.Count == before && own.IsEmpty)
            _warnings.Add(new(file, "", FormattableString.Invariant($"permits: {all.Length}"), FormattableString.Invariant($"None of them is for these vehicles and holds on {day:yyyy-MM-dd}.")));
        return own;
    }

    private Combination? Couple(ImmutableArray<string> files)
    {
        ImmutableArray<VehicleDescription?> read = [.. files.Select(_files.Vehicle)];
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
}

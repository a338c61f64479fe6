using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Checking;

namespace AxleTelemetry.Service.Inputs;

/// <summary>Vehicles of a fleet, described, calibrated and limited, in whatever combinations they may drive. Immutable.</summary>
internal sealed class FleetInput
{
    private readonly ImmutableDictionary<string, ImmutableArray<CircuitFit>> _fits;

    private FleetInput(ImmutableArray<VehicleDescription> vehicles, ImmutableArray<CircuitFit> fits, LimitSet limits, LimitContext trip)
    {
        var byVehicle = ImmutableDictionary.CreateBuilder<string, ImmutableArray<CircuitFit>>();
        var first = 0;
        foreach (var vehicle in vehicles)
        {
            byVehicle.Add(vehicle.Id, fits.Slice(first, vehicle.Sensors.Length));
            first += vehicle.Sensors.Length;
        }

        Vehicles = vehicles;
        _fits = byVehicle.ToImmutable();
        Limits = limits;
        Trip = trip;
    }

    /// <summary>The vehicles.</summary>
    public ImmutableArray<VehicleDescription> Vehicles { get; }

    /// <summary>The table of limits.</summary>
    public LimitSet Limits { get; }

    /// <summary>What is known of the trips.</summary>
    public LimitContext Trip { get; }

    /// <summary>What is odd but possible.</summary>
    public ImmutableArray<InputProblem> Warnings { get; private init; } = [];

    /// <summary>Prepares a combination of these vehicles for its lane.</summary>
    public LaneSetup Setup(Combination combination) =>
        new(combination, [.. combination.Vehicles.SelectMany(v => _fits[v.Id])], c => MarginTable.For(combination, c, Limits, Trip));

    /// <summary>Loads what was asked for. Its vehicle files may be directories, of which every .json is one unless it is plainly of another kind. <c>null</c> where anything is in error.</summary>
    public static FleetInput? Load(InputRequest request, List<InputProblem> errors)
    {
        var warnings = new List<InputProblem>();
        var files = new InputFiles(errors, warnings);
        ImmutableArray<VehicleDescription> vehicles = [.. request.VehicleFiles.SelectMany(path => Expand(path, errors)).Select(files.Vehicle).OfType<VehicleDescription>()];
        foreach (var twice in vehicles.GroupBy(v => v.Id).Where(g => g.Count() > 1))
            errors.Add(new("--vehicles", "", $"'{twice.Key}' more than once", "Each vehicle has an id of its own."));
        var limits = files.Limits(request.Limits);
        var tickets = request.Tickets is null ? [] : files.Tickets(request.Tickets);
        if (limits is null || errors.Count > 0) return null;
        var fits = new TicketFits(request.Tickets ?? "", tickets, request.AsOf).Of(vehicles, errors, warnings);
        return errors.Count > 0 ? null : new FleetInput(vehicles, fits, limits, request.Trip) { Warnings = [.. warnings] };
    }

    private static IEnumerable<string> Expand(string path, List<InputProblem> errors)
    {
        if (!Directory.Exists(path)) return [path];
        string[] files = [.. Directory.EnumerateFiles(path, "*.json").Where(IsNoOtherKind).Order(StringComparer.Ordinal)];
        if (files.Length == 0) errors.Add(new(path, "", "", "The directory holds no vehicle file (.json)."));
        return files;
    }

    /// <summary>A table of limits may lie beside the vehicles; what cannot be known is taken as a vehicle, so that its mistake is told.</summary>
    private static bool IsNoOtherKind(string path)
    {
        try
        {
            var bytes = File.ReadAllBytes(path);
            var text = new FileText(path, bytes, bytes.LongLength);
            return FileKind.Vehicles.Any(k => k.Recognises(text)) || !FileKind.Others(new KnownVehicles([])).Any(k => k.Recognises(text));
        }
        catch (Exception unread) when (unread is IOException or UnauthorizedAccessException)
        {
            return true;
        }
    }
}

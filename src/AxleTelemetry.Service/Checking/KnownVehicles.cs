using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Checking;

/// <summary>The vehicles that the files of one run describe.</summary>
internal sealed class KnownVehicles
{
    // Of two files with one id the first counts.
    private readonly Dictionary<string, (CheckedFile File, Described Vehicle)> _vehicles = new(StringComparer.Ordinal);

    public KnownVehicles(IEnumerable<CheckedFile> files)
    {
        foreach (var file in files)
            if (file.Vehicle is { } vehicle)
                _vehicles.TryAdd(vehicle.Id, (file, new Described(vehicle)));
    }

    public static KnownVehicles None { get; } = new([]);

    /// <summary>True where any file describes one.</summary>
    public bool Any => _vehicles.Count > 0;

    public ImmutableArray<VehicleDescription> All => [.. _vehicles.Values.Select(v => v.Vehicle.Vehicle)];

    public Described? Find(string id) => _vehicles.TryGetValue(id, out var known) ? known.Vehicle : null;

    public VehicleDescription? Describe(string id) => Find(id)?.Vehicle;

    /// <summary>The file, with a warning where an earlier one describes a vehicle of the same id.</summary>
    public CheckedFile WithTwins(CheckedFile file)
    {
        if (file.Vehicle is not { } vehicle || ReferenceEquals(_vehicles[vehicle.Id].File, file)) return file;
        var twin = new FileProblem
        {
            IsWarning = true, Kind = "SameId", Path = "$.id", Found = $"'{vehicle.Id}', the id of {_vehicles[vehicle.Id].File.Name} too",
            Right = "Each vehicle of a fleet has an id of its own. The first of the files counts here.",
        };
        return file with { Problems = file.Problems.Add(twin) };
    }
}

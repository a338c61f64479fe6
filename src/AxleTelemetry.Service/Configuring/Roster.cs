using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Payloads;

namespace AxleTelemetry.Service.Configuring;

/// <summary>The vehicles whose descriptions are known, by id. Immutable.</summary>
internal sealed class Roster
{
    private readonly Dictionary<string, Described> _vehicles;

    /// <summary>Lists vehicles. Throws <see cref="ArgumentException"/> where one id stands twice.</summary>
    public Roster(IEnumerable<VehicleDescription> vehicles) =>
        _vehicles = vehicles.ToDictionary(v => v.Id, v => new Described(v), StringComparer.Ordinal);

    /// <summary>A vehicle by its id; <c>null</c> for one that nobody described.</summary>
    public Described? Find(string id) => _vehicles.GetValueOrDefault(id);
}

/// <summary>A description with the names that its messages use.</summary>
internal sealed class Described(VehicleDescription vehicle)
{
    /// <summary>The description.</summary>
    public VehicleDescription Vehicle { get; } = vehicle;

    /// <summary>The names of its parts.</summary>
    public KeyTable Keys { get; } = new(
        vehicle.Sensors.Select(s => s.Key), vehicle.Axles.Select(a => a.Key), vehicle.Modes.Select(m => m.Name));
}

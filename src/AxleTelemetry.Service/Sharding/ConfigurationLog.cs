using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Sharding;

/// <summary>The configurations of a shard in the order of its log: which one reads a message, which one holds at a moment.</summary>
internal sealed class ConfigurationLog
{
    private readonly List<Entry> _entries = [];

    /// <summary>What is in force. Only after the first was added.</summary>
    public Entry Latest => _entries[^1];

    /// <summary>True once there is one.</summary>
    public bool Any => _entries.Count > 0;

    /// <summary>A further configuration.</summary>
    /// <param name="batch">Its batch: messages of later ones are read by it.</param>
    /// <param name="from">It holds for what comes after this moment; everything committed before lies not after it.</param>
    /// <param name="configuration">The configuration.</param>
    public Entry Add(long batch, Moment from, FleetConfiguration configuration)
    {
        var entry = new Entry(_entries.Count + 1, batch, from, configuration);
        _entries.Add(entry);
        return entry;
    }

    /// <summary>The same for another thread: what is added here afterwards is not in it.</summary>
    public ConfigurationLog Copy()
    {
        var copy = new ConfigurationLog();
        copy._entries.AddRange(_entries);
        return copy;
    }

    /// <summary>One by its number, from 1.</summary>
    public Entry Number(int number) => _entries[number - 1];

    /// <summary>The one before; <c>null</c> for the first.</summary>
    public Entry? Before(Entry entry) => entry.Number == 1 ? null : _entries[entry.Number - 2];

    /// <summary>True where one before describes a vehicle.</summary>
    public bool IsKnownBefore(Entry entry, VehicleName vehicle) => _entries.Take(entry.Number - 1).Any(e => e.Find(vehicle) is not null);

    /// <summary>The one that reads the messages of a batch.</summary>
    public Entry Reading(long batch)
    {
        for (var i = _entries.Count - 1; i > 0; i--)
            if (_entries[i].Batch < batch)
                return _entries[i];
        return _entries[0];
    }

    /// <summary>The one that holds after a moment.</summary>
    public Entry At(Moment moment)
    {
        for (var i = _entries.Count - 1; i > 0; i--)
            if (_entries[i].From < moment)
                return _entries[i];
        return _entries[0];
    }

    /// <summary>A vehicle as the latest configuration that knows it describes it; <c>null</c> where none does.</summary>
    public Described? Known(VehicleName vehicle) => KnownUntil(Latest, vehicle);

    /// <summary>A vehicle as the latest configuration up to one describes it; <c>null</c> where none does.</summary>
    public Described? KnownUntil(Entry last, VehicleName vehicle)
    {
        for (var i = last.Number - 1; i >= 0; i--)
            if (_entries[i].Find(vehicle) is { } described)
                return described;
        return null;
    }

    /// <summary>One configuration with its place.</summary>
    internal sealed record Entry(int Number, long Batch, Moment From, FleetConfiguration Configuration)
    {
        /// <summary>A vehicle as it is described; <c>null</c> where it is not.</summary>
        public Described? Find(VehicleName vehicle) => Configuration.Find(vehicle.Fleet)?.Roster.Find(vehicle.Id);
    }
}

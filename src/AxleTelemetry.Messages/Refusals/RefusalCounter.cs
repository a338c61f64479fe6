using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Messages.Refusals;

/// <summary>
/// Counts refusals by vehicle and reason and keeps the last few of each vehicle in words, for showing. Bounded: at most
/// <see cref="VehicleLimit"/> vehicles and <see cref="RecentLimit"/> refusals each; those of further vehicles are counted together. Safe for a
/// writer and readers on different threads.
/// </summary>
public sealed class RefusalCounter
{
    /// <summary>Refusals kept in words per vehicle.</summary>
    public const int RecentLimit = 20;

    /// <summary>Vehicles counted apart.</summary>
    public const int VehicleLimit = 20_000;

    private readonly Lock gate = new();
    private readonly Dictionary<(string Fleet, string Vehicle), VehicleRefusals> vehicles = [];
    private readonly int vehicleLimit;
    private VehicleRefusals others = VehicleRefusals.None;

    /// <summary>A counter with the stated bounds.</summary>
    public RefusalCounter()
        : this(VehicleLimit)
    {
    }

    internal RefusalCounter(int vehicleLimit) => this.vehicleLimit = vehicleLimit;

    /// <summary>Takes what one message of a vehicle had refused. A log without refusals changes nothing.</summary>
    public void Add(string fleet, string vehicle, Moment received, RefusalLog log)
    {
        ArgumentNullException.ThrowIfNull(log);
        if (log.Total == 0) return;
        lock (gate)
        {
            var key = (fleet, vehicle);
            if (vehicles.TryGetValue(key, out var known) || vehicles.Count < vehicleLimit) vehicles[key] = (known ?? VehicleRefusals.None).With(received, log);
            else others = others.With(received, log);
        }
    }

    /// <summary>Takes one refusal met outside a payload: of a topic, or of a statement that the vehicle descriptions contradict.</summary>
    public void Add(string fleet, string vehicle, Moment received, Refusal refusal)
    {
        ArgumentNullException.ThrowIfNull(refusal);
        var log = new RefusalLog();
        log.Add(refusal);
        Add(fleet, vehicle, received, log);
    }

    /// <summary>What a vehicle had refused so far.</summary>
    public VehicleRefusals Of(string fleet, string vehicle)
    {
        lock (gate) return vehicles.GetValueOrDefault((fleet, vehicle), VehicleRefusals.None);
    }

    /// <summary>What all vehicles beyond <see cref="VehicleLimit"/> had refused.</summary>
    public VehicleRefusals OfOthers()
    {
        lock (gate) return others;
    }

    /// <summary>Every vehicle with refusals, by fleet and id.</summary>
    public ImmutableArray<(string Fleet, string Vehicle, VehicleRefusals Refusals)> All()
    {
        lock (gate)
        {
            return [.. vehicles
                .OrderBy(entry => entry.Key.Fleet, StringComparer.Ordinal).ThenBy(entry => entry.Key.Vehicle, StringComparer.Ordinal)
                .Select(entry => (entry.Key.Fleet, entry.Key.Vehicle, entry.Value))];
        }
    }
}

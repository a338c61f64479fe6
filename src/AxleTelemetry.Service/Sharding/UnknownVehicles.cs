namespace AxleTelemetry.Service.Sharding;

/// <summary>Counts messages of vehicles that nobody described. Bounded: further names are counted together.</summary>
internal sealed class UnknownVehicles
{
    private const int MostNames = 1000;

    private readonly SortedDictionary<VehicleName, long> _messages = [];

    /// <summary>All their messages.</summary>
    public long Messages { get; private set; }

    /// <summary>Messages of each of the first names met.</summary>
    public IReadOnlyCollection<KeyValuePair<VehicleName, long>> ByName => _messages;

    /// <summary>Counts one message. True for the first of a name, while names are still kept.</summary>
    public bool Count(VehicleName name)
    {
        Messages++;
        if (_messages.TryGetValue(name, out var count))
        {
            _messages[name] = count + 1;
            return false;
        }

        if (_messages.Count == MostNames) return false;
        _messages.Add(name, 1);
        return true;
    }
}

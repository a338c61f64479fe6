namespace AxleTelemetry.Service.Receiving;

/// <summary>
/// One connection of a device. The MQTT server hands an acknowledgement to the device's session, which the device may have
/// taken along to its next connection by the time it is written; there, packet ids may mean other messages. So what goes
/// out is held against what came in here.
/// </summary>
internal sealed class DeviceConnection(long number)
{
    private readonly Lock _gate = new();
    private readonly Dictionary<ushort, bool> _done = [];
    private ushort _current;

    public long Number => number;

    /// <summary>A message came; the server brings one at a time.</summary>
    public void Came(ushort packetId)
    {
        lock (_gate)
        {
            _current = packetId;
            _done[packetId] = false;
        }
    }

    /// <summary>The message that came last may be acknowledged.</summary>
    public ushort Current
    {
        get
        {
            lock (_gate) return _current;
        }
    }

    public void Done(ushort packetId)
    {
        lock (_gate) _done[packetId] = true;
    }

    /// <summary>Whether an acknowledgement is for a message that came here and is done; once for each.</summary>
    public bool MayAcknowledge(ushort packetId)
    {
        lock (_gate) return _done.TryGetValue(packetId, out var done) && done && _done.Remove(packetId);
    }
}

namespace AxleTelemetry.Service.Receiving;

/// <summary>What happened to a message.</summary>
internal enum TraceStep : byte
{
    Received,
    Committed,
    Acknowledged,

    /// <summary>Committed, but its connection was gone: it will come again, as a duplicate.</summary>
    Dropped,
}

/// <summary>A step of a message on its way, for a test that wants to know when to pull the plug.</summary>
internal readonly record struct TraceEvent(TraceStep Step, long Number, long Connection, ushort PacketId, bool Redelivered);

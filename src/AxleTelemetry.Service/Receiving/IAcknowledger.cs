namespace AxleTelemetry.Service.Receiving;

/// <summary>Who waits for a message to be acknowledged: a connection to a broker, or a device at the embedded broker.</summary>
internal interface IAcknowledger
{
    /// <summary>The number of the connection that the message came on; numbers are never used again.</summary>
    long Connection { get; }

    /// <summary>Puts an acknowledgement into the next write. <c>false</c>: the connection is gone and with it the acknowledgement.</summary>
    bool Acknowledge(ushort packetId);

    /// <summary>Writes what was put there. Does not wait.</summary>
    void Flush();
}

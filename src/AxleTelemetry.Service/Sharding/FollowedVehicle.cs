using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Service.Configuring;

namespace AxleTelemetry.Service.Sharding;

/// <summary>A described vehicle as its messages come.</summary>
internal sealed class FollowedVehicle(VehicleName name, Described described)
{
    /// <summary>Who it is.</summary>
    public VehicleName Name { get; } = name;

    /// <summary>Its description now in force, with the names that its messages use.</summary>
    public Described Described { get; set; } = described;

    /// <summary>What was counted of its messages since the shard was opened.</summary>
    public VehicleCounts Counts { get; } = new();

    /// <summary>How far its streams have come.</summary>
    public StreamMarks Marks { get; } = new();

    /// <summary>When it was last heard, by our clock.</summary>
    public Moment? HeardAt { get; set; }

    /// <summary>What it last said of its connection; <c>null</c> where it never did.</summary>
    public bool? Online => Presence?.Online;

    /// <summary>What it last said of its connection, and when; <c>null</c> where it never did.</summary>
    public PresenceStatement? Presence { get; set; }

    /// <summary>When the alerts were last told that it was heard.</summary>
    public Moment? ToldHeardAt { get; set; }
}

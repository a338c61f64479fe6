using AxleTelemetry.Domain.Telling;

namespace AxleTelemetry.Service.Sharding;

/// <summary>How a shard works. All of it may be left as it is.</summary>
internal sealed record ShardOptions
{
    /// <summary>How long the slowest stream of a combination is waited for before the others go on.</summary>
    public TimeSpan StreamWait { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>How long nothing late must have come before history is run again.</summary>
    public TimeSpan CorrectionQuiet { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>How long late readings wait at most.</summary>
    public TimeSpan CorrectionLongest { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Readings run again between two looks at live work.</summary>
    public int CorrectionPortion { get; init; } = 20_000;

    /// <summary>How often time alone is looked at: shelves, silence, escalation.</summary>
    public TimeSpan Tick { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>How far back history can be run again.</summary>
    public TimeSpan Horizon { get; init; } = TimeSpan.FromHours(72);

    /// <summary>Called before a unit is stepped. For tests, that break a rule of ours on purpose: nothing else can.</summary>
    internal Action<VehicleName>? BeforeStep { get; init; }

    /// <summary>How alerts are told.</summary>
    public AlertSettings Alerts { get; init; } = new();
}

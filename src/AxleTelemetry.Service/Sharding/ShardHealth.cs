using System.Collections.Immutable;
using AxleTelemetry.Service.Receiving;

namespace AxleTelemetry.Service.Sharding;

/// <summary>How a shard is, for health and metrics.</summary>
internal sealed record ShardHealth
{
    /// <summary>Whether messages are taken.</summary>
    public required IntakeState Intake { get; init; }

    /// <summary>Bytes taken and not yet committed.</summary>
    public required long HeldBytes { get; init; }

    /// <summary>For a broker elsewhere: the latest change of the connection; <c>null</c> for the broker inside.</summary>
    public required ReceiverNotice? Receiver { get; init; }

    /// <summary>Devices connected to the broker inside; <c>null</c> for a broker elsewhere.</summary>
    public required int? Devices { get; init; }

    /// <summary>Number of the last batch.</summary>
    public required long Batch { get; init; }

    /// <summary>When it was committed; <c>null</c> before the first.</summary>
    public required DateTimeOffset? CommittedAt { get; init; }

    /// <summary>Why the present commit fails; <c>null</c> where it does not.</summary>
    public required string? CommitTrouble { get; init; }

    /// <summary>The disk has no room for more than a clean stop.</summary>
    public required bool IsShortOfRoom { get; init; }

    /// <summary>Bytes of the journal on the disk.</summary>
    public required long JournalBytes { get; init; }

    /// <summary>Another owner has taken the shard, or the loop ended by a fault of ours: this one does nothing any more.</summary>
    public required string? Ended { get; init; }

    /// <summary>Units whose lane stopped by a fault of ours, and why.</summary>
    public required ImmutableArray<(VehicleName Unit, string Why)> Stopped { get; init; }

    /// <summary>Units whose history could not be run again because the journal could not be read, and why; each is tried again.</summary>
    public required ImmutableArray<(VehicleName Unit, string Why)> NotRead { get; init; }

    /// <summary>Units whose history is to be corrected.</summary>
    public required int ToBeCorrected { get; init; }

    /// <summary>Second runs of history finished.</summary>
    public required long Corrected { get; init; }

    /// <summary>Nothing waits: every committed reading is in the history in force.</summary>
    public required bool IsSettled { get; init; }

    /// <summary>What is wrong with the files of the configuration as they are now.</summary>
    public required ImmutableArray<string> ConfigurationErrors { get; init; }

    /// <summary>The configuration in force.</summary>
    public required string ConfigurationVersion { get; init; }

    /// <summary>Counters of receiving.</summary>
    public required ReceiveTrace Trace { get; init; }

    /// <summary>Messages taken since the shard was opened.</summary>
    public required long Messages { get; init; }

    /// <summary>Samples in them that count.</summary>
    public required long Samples { get; init; }

    /// <summary>Messages in the last batch.</summary>
    public required int BatchMessages { get; init; }

    /// <summary>How long its commit took.</summary>
    public required TimeSpan CommitTime { get; init; }
}

using AxleTelemetry.Messages.Sequences;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Fleet;

/// <summary>What was counted of one vehicle's messages. Nothing that is not stepped goes uncounted.</summary>
internal sealed class VehicleCounts
{
    private readonly StreamSequences[] _sequences = [.. UpStreamNames.All.Select(_ => StreamSequences.Empty)];

    /// <summary>Messages received.</summary>
    public long Messages { get; set; }

    /// <summary>Readings taken out of them.</summary>
    public long Readings { get; set; }

    /// <summary>Readings that a lane took.</summary>
    public long Stepped { get; set; }

    /// <summary>Readings that had come before.</summary>
    public long Repeated { get; set; }

    /// <summary>Readings that had come before with another value.</summary>
    public long Conflicting { get; set; }

    /// <summary>Readings and couplings that came after later ones had been taken.</summary>
    public long Late { get; set; }

    /// <summary>Readings of a trailer behind no vehicle.</summary>
    public long NotCoupled { get; set; }

    /// <summary>Couplings that cannot be.</summary>
    public long CouplingsRefused { get; set; }

    /// <summary>Readings for a lane that stopped by a fault of ours.</summary>
    public long Unstepped { get; set; }

    /// <summary>Running numbers missing, over all streams.</summary>
    public long Gaps => _sequences.Sum(s => s.Missing);

    /// <summary>Takes a message's running number.</summary>
    public void TakeSequence(UpStream stream, long sequence, AxleTelemetry.Messages.Payloads.BootId? boot) =>
        _sequences[(int)stream] = _sequences[(int)stream].Take(sequence, boot);
}

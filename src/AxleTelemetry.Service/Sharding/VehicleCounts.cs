using AxleTelemetry.Messages.Sequences;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What was counted of one vehicle's messages. What became of its readings its history counts.</summary>
internal sealed class VehicleCounts
{
    private readonly StreamSequences[] _sequences = [.. UpStreamNames.All.Select(_ => StreamSequences.Empty)];

    /// <summary>Messages received.</summary>
    public long Messages { get; set; }

    /// <summary>Readings taken out of them.</summary>
    public long Readings { get; set; }

    /// <summary>Couplings that cannot be.</summary>
    public long CouplingsRefused { get; set; }

    /// <summary>Running numbers missing, over all streams.</summary>
    public long Gaps => _sequences.Sum(s => s.Missing);

    /// <summary>Takes a message's running number. True where it came before in its boot.</summary>
    public bool TakeSequence(UpStream stream, long sequence, AxleTelemetry.Messages.Payloads.BootId? boot)
    {
        var before = _sequences[(int)stream].Repeated;
        _sequences[(int)stream] = _sequences[(int)stream].Take(sequence, boot);
        return _sequences[(int)stream].Repeated > before;
    }
}

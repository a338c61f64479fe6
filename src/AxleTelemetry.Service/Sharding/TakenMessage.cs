using System.Collections.Immutable;
using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Receiving;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What became of a message while it is taken apart.</summary>
internal struct TakenMessage(Moment received)
{
    private Moment? _least;

    /// <summary>When it was received.</summary>
    public Moment Received { get; } = received;

    /// <summary>The earliest moment in it; the receive time where it has none.</summary>
    public readonly Moment Least => _least ?? Received;

    /// <summary>The latest moment in it; the receive time where it has none.</summary>
    public Moment Greatest { get; private set; } = received;

    /// <summary>True where anything in it was not known.</summary>
    public bool IsNews { get; set; }

    /// <summary>Whether its samples lie far apart.</summary>
    public readonly bool IsWide => WideMessages.IsWide(_least ?? Received, Greatest);

    /// <summary>Something in it is of a moment.</summary>
    public void Note(Moment at)
    {
        Greatest = _least is null || at > Greatest ? at : Greatest;
        _least = _least is { } least && least < at ? least : at;
    }

    /// <summary>Its row in the log.</summary>
    public readonly InputRow Row(Addressed.Known known, in Received message) => new()
    {
        Vehicle = Codes.Of(known.Vehicle.Name),
        Kind = IsWide ? Codes.WideMessageInput : Codes.MessageInput,
        Stream = new StreamCode((int)known.Topic.Stream),
        Received = Received,
        Samples = new SampleSpan(_least ?? Received, Greatest),
        Bytes = Bytes(message.Payload),
    };

    // An array of its own, as receivers hand it over, is taken as it is.
    private static ImmutableArray<byte> Bytes(ReadOnlyMemory<byte> payload) =>
        MemoryMarshal.TryGetArray(payload, out var array) && array.Array is { } whole && array.Count == whole.Length
            ? ImmutableCollectionsMarshal.AsImmutableArray(whole)
            : [.. payload.Span];
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Rows;

/// <summary>One input as it came: a message, an operator's action, a configuration, a tick.</summary>
public sealed record InputRow
{
    /// <summary>Whose.</summary>
    public required VehicleKey Vehicle { get; init; }

    /// <summary>What kind of input.</summary>
    public required RowKind Kind { get; init; }

    /// <summary>By which stream.</summary>
    public StreamCode Stream { get; init; }

    /// <summary>When it was received.</summary>
    public required Moment Received { get; init; }

    /// <summary>The least and the greatest sample time in it; the receive time where it has none.</summary>
    public required SampleSpan Samples { get; init; }

    /// <summary>The bytes as received.</summary>
    public required ImmutableArray<byte> Bytes { get; init; }
}

/// <summary>An input with the place it has in the log.</summary>
public sealed record LoggedInput(Position Position, InputRow Row);

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Keeping;

/// <summary>
/// Inputs that retention never takes, however old. Those of <see cref="VehicleKey.Shard"/> always stay: a run through the log needs the
/// configurations. A vehicle that is marked to be corrected is pinned from there on without being named.
/// </summary>
public sealed record Pins
{
    /// <summary>Inputs with a sample at or after this moment: as far back as lanes may be run again.</summary>
    public required Moment RerunFrom { get; init; }

    /// <summary>Inputs after this position: what some reader has not seen.</summary>
    public required Position SlowestCursor { get; init; }

    /// <summary>Inputs of these vehicles that meet one of these spans: those behind episodes.</summary>
    public ImmutableDictionary<VehicleKey, ImmutableArray<SampleSpan>> Spans { get; init; } = ImmutableDictionary<VehicleKey, ImmutableArray<SampleSpan>>.Empty;

    internal bool Hold(VehicleKey vehicle, SampleSpan samples, Position last)
    {
        if (vehicle == VehicleKey.Shard || samples.Greatest >= RerunFrom || last > SlowestCursor) return true;
        return Spans.TryGetValue(vehicle, out var spans) && spans.Any(samples.Meets);
    }
}

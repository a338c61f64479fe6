using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Service.LoadSheets;

/// <summary>What a person asked for, keys looked up and ranges checked.</summary>
/// <param name="Present">How the axles stand.</param>
/// <param name="Load">Where the load comes from.</param>
internal sealed record LoadOrder(Configuration Present, LoadSource Load);

/// <summary>Where a load comes from.</summary>
internal abstract record LoadSource
{
    private LoadSource() { }

    /// <summary>Somebody states the payload of each body that carries, in their order.</summary>
    public sealed record Stated(ImmutableArray<(Mass Mass, Length Centre)> Payloads) : LoadSource;

    /// <summary>Pressures of sensors, counted through the combination.</summary>
    public sealed record Read(ImmutableArray<(int Sensor, Pressure Pressure)> Pressures) : LoadSource;
}

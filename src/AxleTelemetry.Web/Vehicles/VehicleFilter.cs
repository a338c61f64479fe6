using System.Collections.Immutable;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Web.Vehicles;

/// <summary>Which vehicles are looked for, as it stands in the address.</summary>
/// <param name="Find">In names, plate, trailers and fleet; empty for everything.</param>
/// <param name="Condition">Name of a <see cref="Sight.Condition"/>; <c>null</c> for every one.</param>
internal sealed record VehicleFilter(string Find, string? Condition)
{
    public ImmutableArray<VehicleGlance> Of(ImmutableArray<VehicleGlance>? fleet) => [.. (fleet ?? []).Where(v => (Condition is null || v.Condition.ToString() == Condition) && FitsText(v))];

    private bool FitsText(VehicleGlance v) => Find.Length == 0
        || ((string[])[v.Name.Id, v.Plate, v.CallName, v.Trailers, v.Name.Fleet]).Any(t => t.Contains(Find, StringComparison.OrdinalIgnoreCase));
}

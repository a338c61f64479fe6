using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Statics;

/// <summary>Coupled vehicles as they really are. Axles, couplings and payload states count as in <see cref="Combination"/>.</summary>
/// <param name="Described">The combination that its owner believes.</param>
/// <param name="Vehicles">Its vehicles in truth, in the same order.</param>
public sealed record TrueCombination(Combination Described, ImmutableArray<TrueVehicle> Vehicles)
{
    /// <summary>A combination that is exactly as described.</summary>
    public static TrueCombination AsDescribed(Combination combination) =>
        new(combination, [.. combination.Vehicles.Select(TrueVehicle.AsDescribed)]);

    /// <summary>This combination with one vehicle replaced.</summary>
    public TrueCombination With(int body, Func<TrueVehicle, TrueVehicle> change) =>
        this with { Vehicles = Vehicles.SetItem(body, change(Vehicles[body])) };
}

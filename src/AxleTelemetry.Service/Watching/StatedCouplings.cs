using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Watching;

/// <summary>Looks at the couplings that the operator states before anything is watched: a slip there would be silent for as long as the vehicle is.</summary>
internal static class StatedCouplings
{
    private const string Option = "--coupled";

    /// <summary>What is wrong with them.</summary>
    public static IEnumerable<InputProblem> Problems(ImmutableDictionary<string, ImmutableArray<string>> coupled, ImmutableArray<VehicleDescription> vehicles)
    {
        foreach (var (powered, trailers) in coupled.OrderBy(c => c.Key, StringComparer.Ordinal))
        {
            ImmutableArray<string> ids = [powered, .. trailers];
            ImmutableArray<VehicleDescription?> found = [.. ids.Select(id => vehicles.FirstOrDefault(v => v.Id == id))];
            if (found.IndexOf(null) is var missing and >= 0)
                yield return new(Option, "", $"'{ids[missing]}'", "No vehicle file among --vehicles describes it.");
            else if (ids.Distinct().Count() < ids.Length)
                yield return new(Option, "", $"'{powered}={string.Join(',', trailers)}'", "A vehicle stands twice.");
            else if (Combination.Couple([.. found.OfType<VehicleDescription>()]) is CouplingResult.Impossible impossible)
                yield return new(Option, "", "", impossible.Reason);
        }
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Fleet;

/// <summary>Random shares of the axles in their groups.</summary>
internal static class SuspensionPlan
{
    /// <summary>A normal mode, and sometimes one that moves load onto the driving axles for traction.</summary>
    public static ImmutableArray<SuspensionMode> Modes(SeededRandom random, IReadOnlyList<Axle> axles, params ReadOnlySpan<AxleGroup?> groups)
    {
        var weights = new double[axles.Count];
        var offsets = new double[axles.Count];
        foreach (var group in groups)
            if (group is not null)
                Fill(random, axles, group, weights, offsets);
        var normal = new SuspensionMode { Name = "normal", Weights = [.. weights], OffsetKilograms = [.. offsets] };
        if (!axles.Any(a => a.Role == AxleRole.Drive) || random.Chance(0.5)) return [normal];
        var more = axles.Select((a, i) => a.Role == AxleRole.Drive ? weights[i] * 1.3 : weights[i]);
        return [normal, new SuspensionMode { Name = "traction", Weights = [.. more], OffsetKilograms = [.. offsets] }];
    }

    private static void Fill(SeededRandom random, IReadOnlyList<Axle> axles, AxleGroup group, double[] weights, double[] offsets)
    {
        // Weights come on any scale: bellows area times lever, lever lengths, spring rates.
        var scale = random.Between(0.5, 400);
        foreach (var i in group.Axles)
            weights[i] = scale * (axles[i].Role is AxleRole.Tag or AxleRole.Pusher ? random.Between(0.5, 0.8) : random.Between(0.97, 1.03));
        if (group.Law != ShareLaw.SeparateSprings || group.Axles.Length < 2) return;
        var shift = Math.Round(random.Between(-250, 250));
        offsets[group.Axles[0]] = shift;
        offsets[group.Axles[^1]] = -shift;
    }
}

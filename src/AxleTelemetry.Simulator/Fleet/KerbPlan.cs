using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Fleet;

/// <summary>A kerb weighing that the shares of the suspension would really give.</summary>
internal static class KerbPlan
{
    /// <param name="random">Draws the masses.</param>
    /// <param name="axles">The axles.</param>
    /// <param name="normal">How they share.</param>
    /// <param name="supports">Each group of axles with the sprung mass on it, kg.</param>
    public static KerbWeighing Weigh(SeededRandom random, IReadOnlyList<Axle> axles, SuspensionMode normal, params ReadOnlySpan<(AxleGroup? Group, double Sprung)> supports)
    {
        var loads = new Mass[axles.Count];
        foreach (var (group, sprung) in supports)
        {
            if (group is null) continue;
            // Weighed with lifts up now and then; an axle with a force of its own is up, as an empty vehicle's would be.
            var up = random.Chance(0.3);
            bool Stands(int i) => axles[i].RegulatedForce is null && !(up && axles[i].Lift is not null);
            int[] down = [.. group.Axles.Where(Stands)];
            double weights = down.Sum(i => normal.Weights[i]), offset = down.Sum(i => normal.OffsetKilograms[i]);
            foreach (var i in down)
                loads[i] = Mass.FromKilograms(axles[i].Unsprung.Kilograms + normal.OffsetKilograms[i]
                    + normal.Weights[i] / weights * (sprung - offset));
        }

        return new KerbWeighing { AxleLoads = [.. loads], Height = Length.FromMetres(random.Between(0.85, 1.1)) };
    }
}

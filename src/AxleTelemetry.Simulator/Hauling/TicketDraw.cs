using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Statics;
using AxleTelemetry.Simulator.Weighings;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>Weighings of a unit in the weeks before the plan begins: every circuit at loads from light to full.</summary>
internal static class TicketDraw
{
    private const int Purpose = 5, DaysBefore = 40, DaysApart = 5;
    private const double SecondsOfDay = 86_400, AtLimit = 0.98;

    // Light loads are weighed with the lifts up as well: then the axles beside them carry as much as they ever do.
    private static readonly ImmutableArray<(double Part, WeighingMethod Method, bool LiftsUp)> Visits =
    [
        (0.4, WeighingMethod.FullPlatform, false), (0.5, WeighingMethod.FullPlatform, true), (0.65, WeighingMethod.AxleByAxle, false),
        (0.7, WeighingMethod.FullPlatform, true), (0.85, WeighingMethod.FullPlatform, false), (1, WeighingMethod.FullPlatform, false),
    ];

    /// <summary>Rows of a unit's own vehicles; trailers are weighed behind it.</summary>
    public static IEnumerable<WeighedRow> Of(SimulatedVehicle unit)
    {
        var random = unit.Lead.On(0, Purpose);
        var own = unit.Own.IsEmpty ? [[unit.Lead]] : unit.Own.Select(t => (ImmutableArray<FleetVehicle>)[unit.Lead, t]).ToList();
        for (var i = 0; i < own.Count; i++)
            foreach (var row in Weighed(unit, own[i], (i, random.Fork())))
                // A tractor that has been weighed is not weighed again with each trailer.
                if (i == 0 || row.Circuit.Vehicle != unit.Lead.Id)
                    yield return row;
    }

    private static IEnumerable<WeighedRow> Weighed(SimulatedVehicle unit, ImmutableArray<FleetVehicle> vehicles, (int Turn, SeededRandom Random) how)
    {
        var truth = new Rig(vehicles, null).Truth;
        var loads = new LoadDraw(unit.Plan with { LadenMean = AtLimit, LadenSd = 0 }, how.Random.Fork());
        var bridge = new Weighbridge(truth, [.. vehicles.SelectMany(v => v.Sensors)], how.Random.Fork());
        for (var i = 0; i < Visits.Length; i++)
        {
            var full = loads.Laden(truth);
            var (part, method, up) = Visits[i];
            var at = unit.Plan.Start.Plus(SecondsOfDay * (DaysApart * i + 2 * how.Turn - DaysBefore) + how.Random.Whole(21_600, 57_600));
            var plan = new WeighingPlan($"{unit.Lead.Id}-{how.Turn * Visits.Length + i + 1}", at, part * full[0].Kilograms, full[0].Centre, method)
            {
                Standing = up ? Up(truth.Described) : default,
                Behind = full.Length > 1 ? (part * full[1].Kilograms, full[1].Centre) : null,
            };
            if (Stands(truth, plan))
                foreach (var row in bridge.Weigh(plan))
                    yield return row;
        }
    }

    private static Configuration Up(Combination described) =>
        described.Axles.Where(a => a.Axle.Lift is not null).Aggregate(default(Configuration), (c, a) => c.With(a.Index, AxleState.Raised));

    // An axle that keeps its own force needs a load above it.
    private static bool Stands(TrueCombination truth, WeighingPlan plan)
    {
        double[] carried = [plan.Kilograms, plan.Kilograms * plan.Centre];
        if (plan.Behind is { } behind) carried = [.. carried, behind.Kilograms, behind.Kilograms * behind.Centre];
        return DenseStatics.Settle(truth, plan.Standing, carried, default) is StaticsResult.Stands;
    }
}

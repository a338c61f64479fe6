using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Hauling;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Draws what is loaded, and where it comes to lie.</summary>
internal sealed class LoadDraw(FleetPlan plan, SeededRandom random)
{
    private const double FullPlaceSd = 0.25, PartPlaceSd = 0.5, LeastPart = 0.05, Shift = 0.6;

    // Together half a metre, the budget's spread of a part load.
    private const double Forward = 0.4, LeftPlaceSd = 0.4;
    private const int Tries = 8;

    // What roads usually bear: by axles of a powered vehicle, and of any combination. Only to load a truck near its limit.
    private const double TwoAxles = 18_000, ThreeAxles = 26_000, MoreAxles = 32_000, Together = 40_000;

    /// <summary>A load near the limit of a laden truck, by the plan.</summary>
    public ImmutableArray<Aboard> Laden(TrueCombination truth)
    {
        var part = Math.Max(LeastPart, plan.LadenMean + random.Normal(plan.LadenSd));
        for (var i = 0; i < Tries; i++)
            if (Near(truth, part, Places(truth, i == Tries - 1 ? 0 : FullPlaceSd)) is { } load)
                return load;
        return Empty(truth);
    }

    /// <summary>A part load: so much of what the papers permit.</summary>
    public ImmutableArray<Aboard> Part(TrueCombination truth, double part) => Standing(truth, i =>
        [.. Bodies(truth).Zip(Places(truth, i == Tries - 1 ? 0 : PartPlaceSd), (b, x) => new Aboard(b.Vehicle.Id, part * b.Vehicle.LoadSpace!.Permitted.Kilograms, x))]);

    /// <summary>What is left of a load after some drops from the rear: it lies farther to the front, and who knows where.</summary>
    public ImmutableArray<Aboard> Left(TrueCombination truth, ImmutableArray<Aboard> load, double part) => Standing(truth, i =>
        [.. Bodies(truth).Zip(load, (b, was) => was with
        {
            Kilograms = part * was.Kilograms,
            Centre = Inside(b, Place(b, was.Centre, (part, i))),
        })]);

    private double Place(BodyPart body, double was, (double Part, int Try) left)
    {
        var space = body.Vehicle.LoadSpace!;
        if (!plan.DropsFromRear) return space.Centre.Metres - Forward * (1 - left.Part) + (left.Try == Tries - 1 ? 0 : random.Normal(LeftPlaceSd));
        return was - Shift * (1 - left.Part) * (space.Rear.Metres - space.Front.Metres) / 2 * (Tries - 1 - left.Try) / (Tries - 1) + random.Normal(0.2);
    }

    public static ImmutableArray<Aboard> Empty(TrueCombination truth) => [.. Bodies(truth).Select(b => new Aboard(b.Vehicle.Id, 0, 0))];

    private static ImmutableArray<Aboard> Standing(TrueCombination truth, Func<int, ImmutableArray<Aboard>> draw)
    {
        for (var i = 0; i < Tries; i++)
            if (draw(i) is var load && Stands(truth, load))
                return load;
        return Empty(truth);
    }

    private ImmutableArray<double> Places(TrueCombination truth, double sd) =>
        [.. Bodies(truth).Select(b => Inside(b, b.Vehicle.LoadSpace!.Centre.Metres + random.Normal(sd)))];

    private static double Inside(BodyPart body, double centre) =>
        Math.Clamp(centre, body.Vehicle.LoadSpace!.Front.Metres, body.Vehicle.LoadSpace.Rear.Metres);

    private static IEnumerable<BodyPart> Bodies(TrueCombination truth) => truth.Described.Bodies.Where(b => b.StateIndex >= 0);

    /// <summary>True where it stands with all lifts down or all up, and pulls nowhere.</summary>
    private static bool Stands(TrueCombination truth, ImmutableArray<Aboard> load)
    {
        var raised = truth.Described.Axles.Where(a => a.Axle.Lift is not null).Aggregate(default(Configuration), (c, a) => c.With(a.Index, AxleState.Raised));
        return DenseStatics.Settle(truth, default, State(load), default) is StaticsResult.Stands
            || DenseStatics.Settle(truth, raised, State(load), default) is StaticsResult.Stands;
    }

    private static double[] State(ImmutableArray<Aboard> load) => [.. load.SelectMany(a => (double[])[a.Kilograms, a.Kilograms * a.Centre])];

    /// <summary>The load of which the first limit carries so much; loads grow together by what each vehicle is permitted.</summary>
    private static ImmutableArray<Aboard>? Near(TrueCombination truth, double part, ImmutableArray<double> places)
    {
        ImmutableArray<Aboard> Of(double some) =>
            [.. Bodies(truth).Zip(places, (b, x) => new Aboard(b.Vehicle.Id, some * b.Vehicle.LoadSpace!.Permitted.Kilograms, x))];

        if (DenseStatics.Solve(truth, default, State(Of(0.5)), default) is not StaticsResult.Stands { Loads: var half }) return null;
        if (DenseStatics.Solve(truth, default, State(Of(1)), default) is not StaticsResult.Stands { Loads: var whole }) return null;
        var some = Limits(truth.Described, half).Zip(Limits(truth.Described, whole), (h, w) => 0.5 + 0.5 * (part * h.Limit - h.Load) / (w.Load - h.Load))
            .Where(double.IsFinite).Where(s => s > 0).Min();
        return Stands(truth, Of(some)) ? Of(some) : null;
    }

    private static IEnumerable<(double Load, double Limit)> Limits(Combination described, TrueLoads loads)
    {
        foreach (var part in described.Axles)
            // An axle that keeps its own force does not fill.
            if (part.Axle.RegulatedForce is null)
                yield return (loads.Axles[part.Index], Math.Min(part.Axle.Rating.Kilograms, part.Axle.Registered?.Kilograms ?? double.MaxValue));
        foreach (var body in described.Bodies)
        {
            var on = Enumerable.Range(body.FirstAxle, body.Vehicle.Axles.Length).Sum(a => loads.Axles[a]);
            if (body.Vehicle.Registered.RearGroup is { } group) yield return (body.Vehicle.Rear.Axles.Sum(a => loads.Axles[a + body.FirstAxle]), group.Kilograms);
            if (body.Index == 0 || !body.Vehicle.Kind.RestsOnCoupling()) yield return (on, Gross(body.Vehicle));
            else yield return (on + loads.Couplings[body.Index - 1], body.Vehicle.Registered.Gross.Kilograms);
        }

        for (var body = 1; body < described.Bodies.Length; body++)
            if (Most(described, body) is { } most)
                yield return (loads.Couplings[body - 1], most);
        if (described.Bodies.Length > 1)
            yield return (loads.Axles.Sum(), Math.Min(Together, described.Vehicles[0].Registered.Combination?.Kilograms ?? Together));
    }

    // A fifth wheel is loaded to its limit; a drawbar eye is kept from it by where the load is put, not by how much.
    private static double? Most(Combination described, int body)
    {
        if (described.Vehicles[body].Kind != VehicleKind.SemiTrailer) return null;
        var (above, below) = (described.Vehicles[body - 1].RearCoupling?.Most, described.Vehicles[body].FrontCoupling?.Most);
        return above is null && below is null ? null : Math.Min(above?.Kilograms ?? double.MaxValue, below?.Kilograms ?? double.MaxValue);
    }

    private static double Gross(VehicleDescription vehicle) => Math.Min(vehicle.Registered.Gross.Kilograms, vehicle.Axles.Length switch
    {
        <= 2 => TwoAxles,
        3 => ThreeAxles,
        _ => MoreAxles,
    });
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Days;
using AxleTelemetry.Simulator.Routes;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>A drawn fleet of some hauliers. The same seed and plan give the same fleet and the same messages, byte by byte.</summary>
public sealed class SimulatedFleet
{
    private SimulatedFleet(ulong seed, FleetPlan plan, ImmutableArray<SimulatedVehicle> vehicles)
    {
        Seed = seed;
        Plan = plan;
        Vehicles = vehicles;
        Everything = [.. vehicles.SelectMany(v => v.Trailers.Prepend(v.Lead)).DistinctBy(v => v.Id)];
    }

    /// <summary>What it was drawn with.</summary>
    public ulong Seed { get; }

    /// <summary>What it was drawn after.</summary>
    public FleetPlan Plan { get; }

    /// <summary>The powered vehicles, each with the trailers that it pulls.</summary>
    public ImmutableArray<SimulatedVehicle> Vehicles { get; }

    /// <summary>Every vehicle, trailers too, once.</summary>
    public ImmutableArray<FleetVehicle> Everything { get; }

    /// <summary>One of its units with its trailers, alone: the same vehicles, the same days.</summary>
    public SimulatedFleet Alone(SimulatedVehicle vehicle) => new(Seed, Plan, [vehicle]);

    /// <summary>Draws a fleet.</summary>
    public static SimulatedFleet Draw(ulong seed, FleetPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.EverySeconds is not (1 or 10)) throw new ArgumentException("Samples are 1 or 10 seconds apart.", nameof(plan));
        var random = new SeededRandom(seed);
        return new SimulatedFleet(seed, plan, [.. plan.Units.SelectMany(u => Units(plan, u.Key, u.Value, random.Fork()))]);
    }

    /// <summary>Everything of all vehicles in some days, in the order of time. Each vehicle is held as far as it has played, not whole.</summary>
    /// <param name="day">The first day; 0 begins at the plan's start.</param>
    /// <param name="days">How many.</param>
    public IEnumerable<DayOutput> Play(int day, int days)
    {
        var queue = new PriorityQueue<IEnumerator<DayOutput>, (Moment At, int Order)>();
        for (var i = 0; i < Vehicles.Length; i++) Add(Vehicles[i].Play(day, days).GetEnumerator(), i);
        while (queue.TryDequeue(out var vehicle, out var when))
        {
            yield return vehicle.Current;
            Add(vehicle, when.Order);
        }

        void Add(IEnumerator<DayOutput> vehicle, int order)
        {
            if (vehicle.MoveNext()) queue.Enqueue(vehicle, (vehicle.Current.At, order));
            else vehicle.Dispose();
        }
    }

    private static IEnumerable<SimulatedVehicle> Units(FleetPlan plan, UnitKind kind, int count, SeededRandom random)
    {
        // Hauliers share the units of a kind, each a block of its own: trailers change within a haulier only.
        var hauliers = Haulier.All.Length;
        for (var h = 0; h < hauliers; h++)
        {
            var mine = count / hauliers + ((h + (int)kind) % hauliers < count % hauliers ? 1 : 0);
            foreach (var unit in Block(plan, (kind, Haulier.All[h]), mine, random.Fork())) yield return unit;
        }
    }

    private static IEnumerable<SimulatedVehicle> Block(FleetPlan plan, (UnitKind Kind, Haulier Haulier) whose, int count, SeededRandom random)
    {
        var made = whose.Kind.Vehicles();
        var spare = plan.SwapTrailers && whose.Kind.Swaps() ? 2 : 1;
        var leads = Drawn(made[0], count);
        var trailers = made.Length > 1 ? Drawn(made[1], count * spare) : [];
        return leads.Select((lead, i) => new SimulatedVehicle(plan, whose.Kind, lead)
        {
            Pool = trailers,
            Place = i,
            PerDay = trailers.IsEmpty ? 0 : spare,
            Route = Route.All[(i + (int)whose.Kind + Haulier.All.IndexOf(whose.Haulier)) % Route.All.Length],
        });

        ImmutableArray<FleetVehicle> Drawn((string Example, string Letters) what, int many) =>
            [.. Enumerable.Range(1, many).Select(i => new VehicleDraw(plan, random.Fork()).Draw(whose.Haulier, what.Example, $"{whose.Haulier.Letters}{what.Letters}-{i:000}"))];
    }
}

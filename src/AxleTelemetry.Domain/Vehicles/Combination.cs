using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>
/// Vehicles coupled in a row: a powered unit first, then its trailers. Axles, sensors and bodies count through the
/// whole combination, front to rear. Immutable.
/// </summary>
public sealed class Combination
{
    private Combination(ImmutableArray<VehicleDescription> vehicles)
    {
        Vehicles = vehicles;
        var parts = ImmutableArray.CreateBuilder<BodyPart>(vehicles.Length);
        int axles = 0, sensors = 0, state = 0;
        foreach (var vehicle in vehicles)
        {
            parts.Add(new BodyPart(vehicle, parts.Count, axles, sensors, vehicle.LoadSpace is null ? -1 : state));
            axles += vehicle.Axles.Length;
            sensors += vehicle.Sensors.Length;
            if (vehicle.LoadSpace is not null) state += 2;
        }

        Bodies = parts.MoveToImmutable();
        StateSize = state;
        Axles = [.. Bodies.SelectMany(b => b.Vehicle.Axles.Select((axle, i) => new AxlePart(axle, b.Index, b.FirstAxle + i)))];
        Sensors = [.. Bodies.SelectMany(b => b.Vehicle.Sensors.Select((s, i) => new SensorPart(
            s, b.Index, b.FirstSensor + i, [.. s.Axles.Select(a => a + b.FirstAxle)])))];
    }

    /// <summary>The vehicles, powered unit first.</summary>
    public ImmutableArray<VehicleDescription> Vehicles { get; }

    /// <summary>The bodies with their places in the whole.</summary>
    public ImmutableArray<BodyPart> Bodies { get; }

    /// <summary>All axles, front to rear.</summary>
    public ImmutableArray<AxlePart> Axles { get; }

    /// <summary>All pressure sensors.</summary>
    public ImmutableArray<SensorPart> Sensors { get; }

    /// <summary>Size of the payload state z: mass and moment for each body that carries payload.</summary>
    public int StateSize { get; }

    /// <summary>Number of couplings: one less than bodies.</summary>
    public int Couplings => Bodies.Length - 1;

    /// <summary>Rows of a load vector: every axle, then the vertical load at every coupling.</summary>
    public int Rows => Axles.Length + Couplings;

    /// <summary>Row of the coupling ahead of <paramref name="body"/> (which is at least 1).</summary>
    public int CouplingRow(int body) => Axles.Length + body - 1;

    /// <summary>The heading vehicle's identity.</summary>
    public string Id => Vehicles[0].Id;

    /// <summary>Couples vehicles in order. Says why where they cannot be coupled.</summary>
    public static CouplingResult Couple(IEnumerable<VehicleDescription> vehicles)
    {
        var all = vehicles.ToImmutableArray();
        if (all.IsEmpty) return new CouplingResult.Impossible("A combination needs at least one vehicle.");
        if (!all[0].Kind.IsPowered()) return new CouplingResult.Impossible($"'{all[0].Id}' does not pull: a rigid or a tractor goes first.");
        for (var i = 1; i < all.Length; i++)
        {
            if (all[i].Kind.IsPowered()) return new CouplingResult.Impossible($"'{all[i].Id}' is no trailer.");
            if (all[i - 1].RearCoupling is null) return new CouplingResult.Impossible($"'{all[i - 1].Id}' has no rear coupling for '{all[i].Id}'.");
            var isSemi = all[i].Kind == VehicleKind.SemiTrailer;
            if (isSemi && all[i - 1].Kind == VehicleKind.Rigid) return new CouplingResult.Impossible($"'{all[i - 1].Id}' is a rigid: a semi-trailer needs a fifth wheel.");
            if (!isSemi && all[i - 1].Kind == VehicleKind.Tractor) return new CouplingResult.Impossible($"'{all[i].Id}' has a drawbar: it does not couple to the fifth wheel of '{all[i - 1].Id}'.");
        }

        if (all.Length > Configuration.MostBodies || all.Sum(v => v.Axles.Length) > Configuration.MostAxles)
            return new CouplingResult.Impossible($"At most {Configuration.MostBodies} vehicles and {Configuration.MostAxles} axles.");
        return new CouplingResult.Coupled(new Combination(all));
    }

    /// <summary>True where the axles of one vehicle carry load of another: of itself, or of a trailer that rests on it.</summary>
    public bool Carries(int body, BodyPart loaded) =>
        loaded.Index == body || loaded.Index == body + 1 && loaded.Vehicle.Kind.RestsOnCoupling();

    /// <summary>Bit per axle: those that a lift can raise.</summary>
    public uint Liftable => Axles.Where(a => a.Axle.Lift is not null).Aggregate(0u, (bits, a) => bits | 1u << a.Index);
}

/// <summary>What came of coupling.</summary>
public abstract record CouplingResult
{
    private CouplingResult() { }

    /// <summary>They are coupled.</summary>
    public sealed record Coupled(Combination Combination) : CouplingResult;

    /// <summary>They cannot be, and why.</summary>
    public sealed record Impossible(string Reason) : CouplingResult;
}

/// <summary>A vehicle's place in a combination.</summary>
/// <param name="Vehicle">The vehicle.</param>
/// <param name="Index">Which body, 0 = powered unit.</param>
/// <param name="FirstAxle">Index of its first axle in the combination.</param>
/// <param name="FirstSensor">Index of its first sensor in the combination.</param>
/// <param name="StateIndex">Index of its payload mass in the state, the moment follows; -1 without a load space.</param>
public sealed record BodyPart(VehicleDescription Vehicle, int Index, int FirstAxle, int FirstSensor, int StateIndex);

/// <summary>An axle's place in a combination.</summary>
public sealed record AxlePart(Axle Axle, int Body, int Index);

/// <summary>A sensor's place in a combination; its axles count through the combination.</summary>
public sealed record SensorPart(PressureSensor Sensor, int Body, int Index, ImmutableArray<int> Axles);

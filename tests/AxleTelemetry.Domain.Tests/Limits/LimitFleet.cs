using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Limits;

namespace AxleTelemetry.Domain.Tests.Limits;

/// <summary>
/// Small vehicles from a line of axles: a letter for the role (S steer, D drive, T tag, P pusher, A trailer), the position in
/// metres, ^ where it lifts. Registered and rated so high that the table binds, unless a test says otherwise.
/// </summary>
internal static class LimitFleet
{
    public static LimitSet Directive { get; } = ((LimitSetResult.Parsed)LimitSetFile.Shipped(LimitSetFile.Directive)).Set;

    public static LimitContext National { get; } = new() { Trip = TripKind.National };

    public static LimitContext International { get; } = new() { Trip = TripKind.International };

    public static VehicleDescription Rigid(string axles, bool twin = true, bool air = true) =>
        Build("RG-1", VehicleKind.Rigid, axles, twin, air) with { RearCoupling = At(8) };

    public static VehicleDescription Tractor(string axles, bool twin = true, bool air = true) =>
        Build("TC-1", VehicleKind.Tractor, axles, twin, air) with { RearCoupling = At(3.2), LoadSpace = null };

    public static VehicleDescription Semi(string axles) => Build("SM-1", VehicleKind.SemiTrailer, axles, false, true) with { FrontCoupling = At(0) };

    public static VehicleDescription CentreAxle(string axles) => Build("CA-1", VehicleKind.CentreAxleTrailer, axles, false, true) with { FrontCoupling = At(0) };

    public static VehicleDescription Drawbar(string axles) => Build("DB-1", VehicleKind.DrawbarTrailer, axles, false, true) with { FrontCoupling = At(0) };

    public static Combination Couple(params VehicleDescription[] vehicles) => ((CouplingResult.Coupled)Combination.Couple(vehicles)).Combination;

    public static ImmutableArray<Margin> Margins(Combination combination, Configuration configuration = default, LimitContext? context = null) =>
        MarginTable.For(combination, configuration, Directive, context ?? International);

    /// <summary>The limit of a key, or null where there is none.</summary>
    public static double? Limit(this ImmutableArray<Margin> margins, MarginKind kind, int body = -1, int element = -1) =>
        margins.Find(kind, body, element)?.Limit;

    public static Margin? Find(this ImmutableArray<Margin> margins, MarginKind kind, int body = -1, int element = -1) =>
        margins.FirstOrDefault(m => m.Key == new MarginKey(kind, body, element));

    /// <summary>How far over, kg, for loads by row.</summary>
    public static double Over(this Margin margin, params double[] rows) =>
        margin.Weights.Zip(rows, (w, r) => w * r).Sum() - margin.Constant;

    public static VehicleDescription WithAxles(this VehicleDescription vehicle, Func<Axle, Axle> change) =>
        vehicle with { Axles = [.. vehicle.Axles.Select(change)] };

    private static Coupling At(double metres) => new() { Position = Length.FromMetres(metres) };

    private static VehicleDescription Build(string id, VehicleKind kind, string line, bool twin, bool air)
    {
        ImmutableArray<Axle> axles = [.. line.Split(' ').Select((word, i) => ReadAxle(word, i, twin))];
        var front = kind.RestsOnCoupling() ? 0 : kind == VehicleKind.DrawbarTrailer ? 1 : axles.Count(a => a.Role == AxleRole.Steer);
        return new VehicleDescription
        {
            Id = id,
            Kind = kind,
            Axles = axles,
            Front = front == 0 ? null : Group("front", Enumerable.Range(0, front), air),
            Rear = Group("rear", Enumerable.Range(front, axles.Length - front), air),
            Modes = [new SuspensionMode { Name = "normal", Weights = [.. axles.Select(_ => 1.0)], OffsetKilograms = [.. axles.Select(_ => 0.0)] }],
            Kerb = new KerbWeighing { AxleLoads = [.. axles.Select(_ => Mass.FromKilograms(2500))], CouplingLoad = Mass.FromKilograms(kind.RestsOnCoupling() ? 1000 : 0) },
            LoadSpace = new LoadSpace { Front = Length.FromMetres(1), Rear = Length.FromMetres(9), Permitted = Mass.FromKilograms(20_000) },
            Registered = new RegisteredMasses { Gross = Mass.FromKilograms(90_000) },
        };
    }

    private static AxleGroup Group(string name, IEnumerable<int> axles, bool air) =>
        new() { Name = name, Axles = [.. axles], Law = ShareLaw.OneCircuit, AirSuspension = air };

    private static Axle ReadAxle(string word, int index, bool twin)
    {
        var role = word[0] switch
        {
            'S' => AxleRole.Steer,
            'D' => AxleRole.Drive,
            'T' => AxleRole.Tag,
            'P' => AxleRole.Pusher,
            'A' => AxleRole.Trailer,
            _ => throw new ArgumentException($"Unknown axle '{word}'.", nameof(word)),
        };
        return new Axle
        {
            Key = $"a{index + 1}",
            Role = role,
            Steering = role == AxleRole.Steer ? Steering.Steered : Steering.None,
            Position = Length.FromMetres(double.Parse(word[1..].TrimEnd('^'), CultureInfo.InvariantCulture)),
            Unsprung = Mass.FromKilograms(700),
            Lift = word.EndsWith('^') ? new Lift { CanUnload = true } : null,
            Rating = Mass.FromKilograms(20_000),
            Tyres = new Tyres { Count = twin && role == AxleRole.Drive ? 4 : 2, Capacity = Mass.FromKilograms(20_000) },
        };
    }
}

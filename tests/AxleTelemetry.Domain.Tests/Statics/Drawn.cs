using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Domain.Tests.Statics;

/// <summary>Plain vehicles for examples whose masses and places are given, nothing else; their tyres roll without resistance.</summary>
internal static class Drawn
{
    public static Axle Axle(string key, AxleRole role, double metres, double unsprung = 0) => new()
    {
        Key = key,
        Role = role,
        Position = Length.FromMetres(metres),
        Unsprung = Mass.FromKilograms(unsprung),
        Rating = Mass.FromKilograms(12_000),
        Tyres = new Tyres { Count = 2, Capacity = Mass.FromKilograms(12_000), RollingResistance = 0 },
    };

    public static AxleGroup Group(string name, params int[] axles) => new() { Name = name, Axles = [.. axles], Law = ShareLaw.OneCircuit };

    /// <summary>A vehicle without any mass of its own; shares are equal unless <paramref name="weights"/> says otherwise.</summary>
    public static VehicleDescription Vehicle(VehicleKind kind, Axle[] axles, int inFront, params double[] weights) => new()
    {
        Id = "example",
        Kind = kind,
        Axles = [.. axles],
        Front = inFront == 0 ? null : Group("front", [.. Enumerable.Range(0, inFront)]),
        Rear = Group("rear", [.. Enumerable.Range(inFront, axles.Length - inFront)]),
        Modes = [new SuspensionMode
        {
            Name = "normal",
            Weights = weights.Length > 0 ? [.. weights] : [.. axles.Select(_ => 1.0)],
            OffsetKilograms = [.. axles.Select(_ => 0.0)],
        }],
        Kerb = new KerbWeighing { AxleLoads = [.. axles.Select(_ => default(Mass))] },
        FrontCoupling = kind == VehicleKind.SemiTrailer ? Coupling(0, 1.15) : null,
        Registered = new RegisteredMasses { Gross = Mass.FromKilograms(60_000) },
    };

    public static Coupling Coupling(double metres, double height) =>
        new() { Position = Length.FromMetres(metres), Height = Length.FromMetres(height) };

    public static Fixture Fixed(string name, double mass, double metres) =>
        new() { Name = name, Mass = Mass.FromKilograms(mass), Position = Length.FromMetres(metres), State = FixtureState.On };

    public static LoadSpace Anywhere(double height = 0) => new()
    {
        Front = Length.FromMetres(-5),
        Rear = Length.FromMetres(15),
        Permitted = Mass.FromKilograms(100_000),
        Height = Length.FromMetres(height),
    };

    public static Combination Couple(params VehicleDescription[] vehicles) =>
        Assert.IsType<CouplingResult.Coupled>(Combination.Couple(vehicles.Select((v, i) => v with { Id = $"{v.Id}-{i}" }))).Combination;

    /// <summary>
    /// Every row by the map and by the dense solve, which have to agree to 1e-9 of the greatest of them; the map's are
    /// returned.
    /// </summary>
    public static double[] ByBoth(Combination combination, double[] state, RoadMotion motion = default, Configuration configuration = default)
    {
        var map = new LoadModel(combination).Map(configuration);
        Assert.NotNull(map);
        var dense = Scene.Dense(TrueCombination.AsDescribed(combination), configuration, state, motion);
        Assert.NotNull(dense);
        var rows = new double[map.Rows];
        var coefficients = new double[map.Width];
        for (var row = 0; row < map.Rows; row++)
        {
            map.Measured(row, new Motion(motion.Slope, motion.AirSpeed * motion.AirSpeed, motion.Rolling), coefficients);
            rows[row] = LoadMap.Value(coefficients, state);
        }

        for (var row = 0; row < map.Rows; row++) Assert.Equal(dense.Row(row), rows[row], 1e-9 * rows.Max(Math.Abs));
        return rows;
    }
}

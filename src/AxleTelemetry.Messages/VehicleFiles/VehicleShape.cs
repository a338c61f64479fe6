using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>
/// The vehicle file as a table: every property, what it may be, and whether each file needs it. The published schema says
/// the same to editors; a test holds the two together.
/// </summary>
internal static class VehicleShape
{
    private static readonly Form Key = new Form.Text(1, 64, IsKey: true);
    private static readonly Form Name = new Form.Text(0, 80);
    private static readonly Form AxleKeys = new Form.List(Key, 1, Configuration.MostAxles);
    private static readonly Form Flag = new Form.Flag();

    private static readonly Shape Tyres = new("tyres",
    [
        Needed("count", new Form.Number(2, 8, Whole: true)),
        Needed("capacity_kg", new Form.Number(500, 40_000)),
        Optional("radius_m", new Form.Number(0.2, 0.9)),
        Optional("rolling_resistance_n_per_kn", new Form.Number(1, 20)),
    ]);

    private static readonly Shape Lift = new("lift",
    [
        Optional("raise_below", new Form.Number(0.1, 1.5)),
        Optional("lower_above", new Form.Number(0.1, 1.5)),
        Optional("moving_off_aid", new Form.Number(0, 0.30)),
        Optional("can_unload", Flag),
    ]);

    private static readonly Shape Axle = new("axle",
    [
        Needed("key", Key),
        Needed("role", Words<AxleRole>()),
        Needed("x_m", Metres),
        Needed("unsprung_kg", new Form.Number(50, 3_000)),
        Optional("unsprung_sd_kg", Spread),
        Optional("steering", Words<Steering>()),
        Optional("lift", new Form.Part(Lift)),
        Needed("rating_kg", Rating),
        Optional("registered_kg", Rating),
        Needed("tyres", new Form.Part(Tyres)),
        Optional("regulated_kg", new Form.Number(1, 25_000)),
        Optional("ceiling_kg", new Form.Number(1, 25_000)),
        Optional("share", Share),
        Optional("offset_kg", Offset),
    ]);

    private static readonly Shape Group = new("group",
    [
        Optional("name", Key),
        Needed("axles", AxleKeys),
        Optional("shares_by", Words<ShareLaw>()),
        Optional("air_suspension", Flag),
    ]);

    private static readonly Shape Mode = new("mode",
    [
        Needed("name", Key),
        Optional("shares", new Form.ByAxle(Share)),
        Optional("offsets_kg", new Form.ByAxle(Offset)),
    ]);

    private static readonly Shape Handbook = new("handbook",
    [
        Optional("effective_area_cm2", new Form.Number(50, 2_000)),
        Optional("bellows_per_axle", new Form.Number(1, 8, Whole: true)),
        Optional("lever_ratio", new Form.Number(0.2, 5)),
        Optional("kg_per_kpa", new Form.Number(0.5, 100)),
    ]);

    private static readonly Shape Sensor = new("sensor",
    [
        Needed("key", Key),
        Needed("axles", AxleKeys),
        Optional("side", Words<CircuitSide>()),
        Optional("reference", Words<PressureReference>()),
        Optional("raised_residual_kpa", new Form.Number(0, 300)),
        Optional("full_scale_kpa", new Form.Number(300, 5_000)),
        Needed("handbook", new Form.Part(Handbook)),
    ]);

    private static readonly Shape Kerb = new("kerb",
    [
        Needed("axle_loads_kg", new Form.ByAxle(new Form.Number(0, 25_000))),
        Optional("raised", new Form.List(Key, 0, Configuration.MostAxles)),
        Optional("coupling_load_kg", new Form.Number(-3_000, 30_000)),
        Optional("service_aboard_kg", new Form.Number(0, 3_000)),
        Optional("sd_kg", Spread),
        Optional("height_m", Height),
        Optional("note", new Form.Text(0, 400)),
    ]);

    private static readonly Shape Fixture = new("fixture",
    [
        Needed("name", Key),
        Needed("mass_kg", new Form.Number(1, 15_000)),
        Needed("x_m", Metres),
        Optional("state", Words<FixtureState>()),
        Optional("in_kerb_weighing", Flag),
    ]);

    private static readonly Shape Service = new("service",
    [
        Optional("mean_kg", new Form.Number(0, 3_000)),
        Optional("sd_kg", Spread),
        Optional("x_m", Metres),
    ]);

    private static readonly Shape LoadSpace = new("load_space",
    [
        Needed("front_x_m", Metres),
        Needed("rear_x_m", Metres),
        Needed("permitted_kg", new Form.Number(100, 100_000)),
        Optional("centre_x_m", Metres),
        Optional("part_load_sd_m", PositionSpread),
        Optional("full_load_sd_m", PositionSpread),
        Optional("height_m", Height),
        Optional("discharges", Flag),
    ]);

    private static readonly Shape FrontCoupling = new("front_coupling",
    [
        Optional("sd_m", PositionSpread),
        Optional("height_m", Height),
        Optional("least_kg", CouplingLoad),
        Optional("most_kg", CouplingLoad),
    ]);

    private static readonly Shape RearCoupling = new("rear_coupling",
    [
        Needed("x_m", Metres),
        Optional("sd_m", PositionSpread),
        Optional("height_m", Height),
        Optional("least_kg", CouplingLoad),
        Optional("most_kg", CouplingLoad),
        Optional("travel_from_m", Metres),
        Optional("travel_to_m", Metres),
    ]);

    private static readonly Shape Registered = new("registered",
    [
        Needed("gross_kg", new Form.Number(1_000, 150_000)),
        Optional("combination_kg", new Form.Number(1_000, 300_000)),
        Optional("rear_group_kg", new Form.Number(1_000, 80_000)),
    ]);

    private static readonly Shape Drag = new("drag",
    [
        Optional("area_m2", new Form.Number(0, 20)),
        Optional("height_m", Height),
    ]);

    private static readonly Shape Energy = new("energy",
    [
        Needed("kind", Words<DriveEnergyKind>()),
        Optional("extra_kg", new Form.Number(0, 5_000)),
    ]);

    /// <summary>The whole file.</summary>
    public static Shape Vehicle { get; } = new("vehicle",
    [
        Optional("$schema", new Form.Text(0, 400)),
        Needed("id", Key),
        Optional("name", Name),
        Optional("plate", Name),
        Needed("kind", Words<VehicleKind>()),
        Needed("axles", new Form.List(new Form.Part(Axle), 1, Configuration.MostAxles)),
        Optional("front", new Form.Part(Group)),
        Needed("rear", new Form.Part(Group)),
        Optional("modes", new Form.List(new Form.Part(Mode), 1, MostModes)),
        Optional("sensors", new Form.List(new Form.Part(Sensor), 0, 32)),
        Needed("kerb", new Form.Part(Kerb)),
        Optional("fixtures", new Form.List(new Form.Part(Fixture), 0, 16)),
        Optional("service", new Form.Part(Service)),
        Optional("load_space", new Form.Part(LoadSpace)),
        Optional("front_coupling", new Form.Part(FrontCoupling)),
        Optional("rear_coupling", new Form.Part(RearCoupling)),
        Needed("registered", new Form.Part(Registered)),
        Optional("front_overhang_m", new Form.Number(0, 3)),
        Optional("width_m", new Form.Number(1, 4)),
        Optional("drag", new Form.Part(Drag)),
        Optional("energy", new Form.Part(Energy)),
    ]);

    // A configuration keeps four bits for the mode of each body.
    private const int MostModes = 16;

    private static Form.Number Metres => new(-5, 40);

    private static Form.Number Height => new(0, 5);

    private static Form.Number Spread => new(1, 1_000);

    private static Form.Number PositionSpread => new(0.001, 5);

    private static Form.Number Rating => new(1_000, 25_000);

    private static Form.Number Share => new(0.01, 100);

    private static Form.Number Offset => new(-5_000, 5_000);

    private static Form.Number CouplingLoad => new(-5_000, 40_000);

    private static Property Needed(string name, Form form) => new(name, form, Required: true);

    private static Property Optional(string name, Form form) => new(name, form, Required: false);

    private static Form.Choice Words<T>() where T : struct, Enum => new(VehicleFiles.Words.Of<T>());
}

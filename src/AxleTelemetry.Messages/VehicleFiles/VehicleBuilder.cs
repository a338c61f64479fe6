using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Messages.VehicleFiles;

/// <summary>Builds the description from a file in which every check passed; what is not written takes the domain's default.</summary>
internal static class VehicleBuilder
{
    public static VehicleDescription Build(Draft draft)
    {
        var root = draft.Root;
        var kind = draft.Kind!.Value;
        return new VehicleDescription
        {
            Id = root.Text("id")!,
            Name = root.Text("name") ?? "",
            Plate = root.Text("plate") ?? "",
            Kind = kind,
            Axles = [.. draft.Axles.Select(a => AxleOf(a.Node))],
            Front = draft.Front is { } front ? GroupOf(front) : null,
            Rear = GroupOf(draft.Rear!),
            Modes = [.. ModeReading.Of(draft).Select(ModeOf)],
            Sensors = [.. root.Parts("sensors").Select(s => SensorOf(draft, s))],
            Kerb = KerbOf(draft, root.Part("kerb")!),
            Fixtures = [.. root.Parts("fixtures").Select(FixtureOf)],
            Service = kind.IsPowered() ? ServiceOf(root.Part("service")) : null,
            LoadSpace = root.Part("load_space") is { } space ? LoadSpaceOf(space) : null,
            FrontCoupling = root.Part("front_coupling") is { } ahead ? CouplingOf(ahead, Length.FromMetres(0), slides: false) : null,
            RearCoupling = root.Part("rear_coupling") is { } behind ? CouplingOf(behind, Metres(behind, "x_m")!.Value, slides: true) : null,
            Registered = RegisteredOf(root.Part("registered")!),
            FrontOverhang = Metres(root, "front_overhang_m"),
            Width = Metres(root, "width_m"),
            Drag = root.Part("drag") is { } drag ? DragOf(drag) : new AirDrag(),
            Energy = root.Part("energy") is { } energy ? EnergyOf(energy) : new DriveEnergy(),
        };
    }

    private static Axle AxleOf(Node node)
    {
        var role = node.Word<AxleRole>("role")!.Value;
        var axle = new Axle
        {
            Key = node.Text("key")!,
            Role = role,
            Position = Metres(node, "x_m")!.Value,
            Unsprung = Kilograms(node, "unsprung_kg")!.Value,
            Steering = node.Word<Steering>("steering") ?? (role == AxleRole.Steer ? Steering.Steered : Steering.None),
            Lift = node.Part("lift") is { } lift ? LiftOf(lift) : null,
            Rating = Kilograms(node, "rating_kg")!.Value,
            Registered = Kilograms(node, "registered_kg"),
            Tyres = TyresOf(node.Part("tyres")!),
            RegulatedForce = Kilograms(node, "regulated_kg"),
            CeilingForce = Kilograms(node, "ceiling_kg"),
        };
        return axle with { UnsprungSd = Kilograms(node, "unsprung_sd_kg") ?? axle.UnsprungSd };
    }

    private static Lift LiftOf(Node node)
    {
        var lift = new Lift();
        return new Lift
        {
            RaiseBelow = node.Number("raise_below") ?? lift.RaiseBelow,
            LowerAbove = node.Number("lower_above") ?? lift.LowerAbove,
            MovingOffAid = node.Number("moving_off_aid") ?? lift.MovingOffAid,
            CanUnload = node.Flag("can_unload") ?? lift.CanUnload,
        };
    }

    private static Tyres TyresOf(Node node)
    {
        var tyres = new Tyres { Count = (int)node.Number("count")!.Value, Capacity = Kilograms(node, "capacity_kg")!.Value };
        return tyres with
        {
            Radius = Metres(node, "radius_m") ?? tyres.Radius,
            RollingResistance = node.Number("rolling_resistance_n_per_kn") ?? tyres.RollingResistance,
        };
    }

    private static AxleGroup GroupOf(DraftGroup group) => new()
    {
        Name = group.Node.Text("name") ?? group.Place,
        Axles = group.Axles,
        Law = group.Node.Word<ShareLaw>("shares_by") ?? ShareLaw.OneCircuit,
        AirSuspension = group.Node.Flag("air_suspension") ?? true,
    };

    private static SuspensionMode ModeOf(ModeReading mode) => new()
    {
        Name = mode.Name,
        Weights = [.. mode.Weights.Select(w => w!.Value)],
        OffsetKilograms = mode.Offsets,
    };

    private static PressureSensor SensorOf(Draft draft, Node node)
    {
        var axles = draft.Refer(node, "axles");
        var sensor = new PressureSensor
        {
            Key = node.Text("key")!,
            Axles = axles,
            Side = node.Word<CircuitSide>("side") ?? CircuitSide.Both,
            Reference = node.Word<PressureReference>("reference") ?? PressureReference.Vented,
            Handbook = HandbookGain.Fit(HandbookGain.Of(node.Part("handbook")!)!.Value, draft.Axles[axles[0]]),
        };
        return sensor with
        {
            RaisedResidual = Kilopascals(node, "raised_residual_kpa") ?? sensor.RaisedResidual,
            FullScale = Kilopascals(node, "full_scale_kpa") ?? sensor.FullScale,
        };
    }

    private static KerbWeighing KerbOf(Draft draft, Node node)
    {
        var loads = node.ByAxle("axle_loads_kg")!;
        var kerb = new KerbWeighing
        {
            AxleLoads = [.. draft.Axles.Select(a => Mass.FromKilograms(loads.GetValueOrDefault(a.Key!)))],
            CouplingLoad = Kilograms(node, "coupling_load_kg") ?? default,
            ServiceAboard = Kilograms(node, "service_aboard_kg") ?? default,
            Note = node.Text("note") ?? "",
        };
        return kerb with { Sd = Kilograms(node, "sd_kg") ?? kerb.Sd, Height = Metres(node, "height_m") ?? kerb.Height };
    }

    private static Fixture FixtureOf(Node node) => new()
    {
        Name = node.Text("name")!,
        Mass = Kilograms(node, "mass_kg")!.Value,
        Position = Metres(node, "x_m")!.Value,
        State = node.Word<FixtureState>("state") ?? FixtureState.Unknown,
        InKerbWeighing = node.Flag("in_kerb_weighing") ?? false,
    };

    private static ServiceLoad ServiceOf(Node? node)
    {
        var service = new ServiceLoad();
        if (node is null) return service;
        return new ServiceLoad
        {
            Mean = Kilograms(node, "mean_kg") ?? service.Mean,
            Sd = Kilograms(node, "sd_kg") ?? service.Sd,
            Position = Metres(node, "x_m") ?? service.Position,
        };
    }

    private static LoadSpace LoadSpaceOf(Node node)
    {
        var space = new LoadSpace
        {
            Front = Metres(node, "front_x_m")!.Value,
            Rear = Metres(node, "rear_x_m")!.Value,
            Permitted = Kilograms(node, "permitted_kg")!.Value,
            ExpectedCentre = Metres(node, "centre_x_m"),
            Discharges = node.Flag("discharges") ?? false,
        };
        return space with
        {
            PartLoadSd = Metres(node, "part_load_sd_m") ?? space.PartLoadSd,
            FullLoadSd = Metres(node, "full_load_sd_m") ?? space.FullLoadSd,
            Height = Metres(node, "height_m") ?? space.Height,
        };
    }

    private static Coupling CouplingOf(Node node, Length position, bool slides)
    {
        var coupling = new Coupling
        {
            Position = position,
            Least = Kilograms(node, "least_kg"),
            Most = Kilograms(node, "most_kg"),
            TravelFrom = slides ? Metres(node, "travel_from_m") : null,
            TravelTo = slides ? Metres(node, "travel_to_m") : null,
        };
        return coupling with { Sd = Metres(node, "sd_m") ?? coupling.Sd, Height = Metres(node, "height_m") ?? coupling.Height };
    }

    private static RegisteredMasses RegisteredOf(Node node) => new()
    {
        Gross = Kilograms(node, "gross_kg")!.Value,
        Combination = Kilograms(node, "combination_kg"),
        RearGroup = Kilograms(node, "rear_group_kg"),
    };

    private static DriveEnergy EnergyOf(Node node) => new()
    {
        Kind = node.Word<DriveEnergyKind>("kind")!.Value,
        ExtraMass = Kilograms(node, "extra_kg") ?? default,
    };

    private static AirDrag DragOf(Node node)
    {
        var drag = new AirDrag { AreaSquareMetres = node.Number("area_m2") ?? 0 };
        return drag with { Height = Metres(node, "height_m") ?? drag.Height };
    }

    private static Mass? Kilograms(Node node, string name) => node.Number(name) is { } value ? Mass.FromKilograms(value) : null;

    private static Length? Metres(Node node, string name) => node.Number(name) is { } value ? Length.FromMetres(value) : null;

    private static Pressure? Kilopascals(Node node, string name) => node.Number(name) is { } value ? Pressure.FromKilopascals(value) : null;
}

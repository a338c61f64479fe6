using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>
/// What stands in the place of a trailer that is coupled and that nobody described. Every figure in this file is an assumption of
/// this project, common practice without a source, and spread wide enough for the trailers that are met. Behind a fifth wheel a
/// semi-trailer with three axles, behind anything else a centre-axle trailer with two: what rests on the vehicle ahead is then in
/// the uncertainty, also of a trailer with a turntable, that lays nothing on it.
/// </summary>
public static class StandInTrailer
{
    /// <summary>What people are told it is stated as.</summary>
    public const string SemiWords = "a semi-trailer with three axles, about 7 t empty", DrawbarWords = "a centre-axle trailer with two axles, about 4.5 t empty";

    // Curtain sides weigh 6 to 8 t, containers' skeletons 4.5, refrigerated bodies 9. The kingpin is the origin of the body: what is not known of its
    // place before the axles (6.9 to 8.5 m to the middle one) stands in the spread of the load's place.
    private static readonly VehicleDescription Semi = new()
    {
        Id = "",
        Kind = VehicleKind.SemiTrailer,
        IsStandIn = true,
        Axles = [Axle(1, 6.39, 700), Axle(2, 7.70, 700), Axle(3, 9.01, 700)],
        Rear = new AxleGroup { Name = "bogie", Axles = [0, 1, 2], Law = ShareLaw.SeparateSprings },
        Modes = [new SuspensionMode { Name = "normal", Weights = [1, 1, 1], OffsetKilograms = [0, 0, 0] }],
        Kerb = new KerbWeighing { AxleLoads = [Kg(1750), Kg(1750), Kg(1750)], CouplingLoad = Kg(1750), Sd = Kg(1200), Note = "Assumed, never weighed" },
        LoadSpace = new LoadSpace { Front = At(-1.4), Rear = At(12.0), Permitted = Kg(27_000), PartLoadSd = At(1.5), FullLoadSd = At(0.8) },
        FrontCoupling = new Coupling { Position = At(0) },
        Registered = new RegisteredMasses { Gross = Kg(35_000) },
    };

    private static readonly VehicleDescription Drawbar = new()
    {
        Id = "",
        Kind = VehicleKind.CentreAxleTrailer,
        IsStandIn = true,
        Axles = [Axle(1, 5.55, 650), Axle(2, 6.86, 650)],
        Rear = new AxleGroup { Name = "bogie", Axles = [0, 1], Law = ShareLaw.SeparateSprings },
        Modes = [new SuspensionMode { Name = "normal", Weights = [1, 1], OffsetKilograms = [0, 0] }],
        Kerb = new KerbWeighing { AxleLoads = [Kg(2150), Kg(2150)], CouplingLoad = Kg(200), Sd = Kg(1000), Note = "Assumed, never weighed" },
        LoadSpace = new LoadSpace { Front = At(2.2), Rear = At(9.9), Permitted = Kg(13_500), PartLoadSd = At(0.8), FullLoadSd = At(0.4) },
        FrontCoupling = new Coupling { Position = At(0), Height = At(0.9) },
        Registered = new RegisteredMasses { Gross = Kg(18_000) },
    };

    // Whatever is said to hang behind it does so somewhere at its end.
    private static readonly Coupling Behind = new() { Position = At(9.5), Sd = At(1.5), Height = At(0.9) };

    private static readonly VehicleDescription SemiPulling = Semi with { RearCoupling = Behind }, DrawbarPulling = Drawbar with { RearCoupling = Behind };

    /// <summary>Vehicles in a row, a stand-in in the place of each trailer that is not described. The same row gives equal descriptions.</summary>
    /// <param name="row">Identities in order, the powered unit first, with their descriptions where there are any; the first has one.</param>
    public static ImmutableArray<VehicleDescription> Fill(ImmutableArray<(string Id, VehicleDescription? Described)> row)
    {
        var filled = ImmutableArray.CreateBuilder<VehicleDescription>(row.Length);
        for (var i = 0; i < row.Length; i++)
            filled.Add(row[i].Described ?? Of(row[i].Id, filled[i - 1].Kind == VehicleKind.Tractor, isLast: i == row.Length - 1));
        return filled.MoveToImmutable();
    }

    /// <summary>What a stand-in is stated as.</summary>
    public static string Words(VehicleDescription standIn) => standIn.Kind == VehicleKind.SemiTrailer ? SemiWords : DrawbarWords;

    private static VehicleDescription Of(string id, bool onFifthWheel, bool isLast) => (onFifthWheel, isLast) switch
    {
        (true, true) => Semi,
        (true, false) => SemiPulling,
        (false, true) => Drawbar,
        (false, false) => DrawbarPulling,
    } with { Id = id };

    private static Axle Axle(int number, double x, double unsprung) => new()
    {
        Key = FormattableString.Invariant($"assumed-{number}"),
        Role = AxleRole.Trailer,
        Position = At(x),
        Unsprung = Kg(unsprung),
        UnsprungSd = Kg(150),
        Rating = Kg(9000),
        Tyres = new Tyres { Count = 2, Capacity = Kg(9000) },
    };

    private static Mass Kg(double kilograms) => Mass.FromKilograms(kilograms);

    private static Length At(double metres) => Length.FromMetres(metres);
}

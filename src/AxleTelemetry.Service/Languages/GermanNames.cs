using System.Globalization;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Telling;

namespace AxleTelemetry.Service.Languages;

/// <summary>What parts are called in German, also where the combination is not known any more or is another by now: then by their place in the whole.</summary>
internal sealed class GermanNames(Combination? combination)
{
    private readonly PartNames _parts = new(combination);

    public Combination? Combination => combination;

    public string Axle(int axle)
    {
        if (combination is null || axle < 0 || axle >= combination.Axles.Length) return GermanTexts.Of("AxlePlaced", axle + 1);
        var part = combination.Axles[axle];
        var position = axle - combination.Bodies[part.Body].FirstAxle + 1;
        if (part.Body == 0) return GermanTexts.Of("Axle", position, GermanTexts.Of($"Role{part.Axle.Role}"));
        return combination.Bodies.Length > 2 ? GermanTexts.Of("AxleOf", position, Vehicle(part.Body)) : GermanTexts.Of("TrailerAxle", position);
    }

    public string Axles(IEnumerable<int> axles) => GermanTexts.List([.. axles.Select(Axle)]);

    public string Sensor(int sensor)
    {
        if (combination is null || sensor < 0 || sensor >= combination.Sensors.Length) return GermanTexts.Of("SensorPlaced", sensor + 1);
        var part = combination.Sensors[sensor];
        return combination.Bodies.Length == 1 ? GermanTexts.Of("Sensor", part.Sensor.Key) : GermanTexts.Of("SensorOf", part.Sensor.Key, Vehicle(part.Body));
    }

    public string Vehicle(int body) => combination is not null && body >= 0 && body < combination.Bodies.Length ? combination.Vehicles[body].Id : GermanTexts.Of("VehiclePlaced", body + 1);

    /// <summary>What a limit limits; part of a group by its axles.</summary>
    public string Limited(Margin margin)
    {
        if (combination is null || margin.Weights.IsDefaultOrEmpty || margin.Key is not { Kind: MarginKind.Group, Element: > 1 } key || !_parts.IsOf(key)) return Limited(margin.Key);
        var first = combination.Bodies[key.Body].FirstAxle;
        var axles = GermanTexts.List([.. combination.Axles.Where(a => margin.Weights[a.Index] != 0).Select(a => (a.Index - first + 1).ToString(CultureInfo.InvariantCulture))]);
        if (key.Body == 0) return GermanTexts.Of("Axles", axles);
        return combination.Bodies.Length > 2 ? GermanTexts.Of("AxlesOf", axles, Vehicle(key.Body)) : GermanTexts.Of("TrailerAxles", axles);
    }

    /// <summary>What a limit limits.</summary>
    public string Limited(MarginKey key) => key.Kind switch
    {
        MarginKind.Axle or MarginKind.AxleRating => Axle(key.Element),
        MarginKind.TyreRating => GermanTexts.Of("Tyres", Axle(key.Element)),
        MarginKind.Group => Group(key),
        MarginKind.Gross => combination is { Bodies.Length: 1 } ? GermanTexts.Of("Gross") : GermanTexts.Of("GrossOf", Vehicle(key.Body)),
        MarginKind.CombinationGross => GermanTexts.Of("CombinationGross"),
        MarginKind.DrivingShare => GermanTexts.Of("DrivingShare"),
        MarginKind.SteeringShare => GermanTexts.Of("SteeringShare"),
        MarginKind.Bridge => GermanTexts.Of("Run", Axle(key.FirstOfRun), Axle(key.LastOfRun)),
        MarginKind.CouplingLeast or MarginKind.CouplingMost => Coupling(key),
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown kind."),
    };

    private string Group(MarginKey key)
    {
        if (combination is null || key.Body >= combination.Bodies.Length || !key.IsWholeGroup) return GermanTexts.Of("GroupPlaced", Vehicle(key.Body));
        if (key.Body == 0) return GermanTexts.Of(key.Element == 0 ? "GroupFront" : "GroupRear");
        return GermanTexts.Of(key.Element == 0 ? "GroupFrontOf" : "GroupRearOf", Vehicle(key.Body));
    }

    private string Coupling(MarginKey key)
    {
        if (combination is null || !_parts.IsOf(key)) return GermanTexts.Of("CouplingPlaced", Vehicle(key.Body));
        var body = key.Element == 0 ? key.Body : key.Body + 1;
        var name = GermanTexts.Of($"Coupling{combination.Vehicles[body].Kind}");
        return combination.Bodies.Length > 2 ? GermanTexts.Of("CouplingOf", name, Vehicle(body)) : name;
    }
}

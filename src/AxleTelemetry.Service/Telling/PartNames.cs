using System.Globalization;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;

namespace AxleTelemetry.Service.Telling;

/// <summary>
/// What parts are called, also where the combination is not known any more or is another by now: then by their place in the whole.
/// </summary>
internal sealed class PartNames(Combination? combination)
{
    private readonly Names? _names = combination is null ? null : new Names(combination);

    public Combination? Combination => combination;

    public string Axle(int axle) => _names is not null && axle >= 0 && axle < combination!.Axles.Length ? _names.Axle(axle) : Numbered("axle", axle);

    public string Sensor(int sensor) => _names is not null && sensor >= 0 && sensor < combination!.Sensors.Length ? _names.Sensor(sensor) : Numbered("sensor", sensor);

    public string Vehicle(int body) => _names is not null && body >= 0 && body < combination!.Bodies.Length ? _names.Vehicle(body) : Numbered("vehicle", body);

    public string Limited(MarginKey key) => _names is not null && IsOf(key) ? _names.Limited(key) : key.Kind switch
    {
        MarginKind.Axle => Axle(key.Element),
        MarginKind.AxleRating => $"{Axle(key.Element)} (rating)",
        MarginKind.TyreRating => $"tyres of {Axle(key.Element)}",
        MarginKind.Group => $"group of {Vehicle(key.Body)}",
        MarginKind.Gross => $"gross of {Vehicle(key.Body)}",
        MarginKind.CombinationGross => "gross combination mass",
        MarginKind.DrivingShare => "driving share",
        MarginKind.SteeringShare => "steer share",
        MarginKind.Bridge => $"{Axle(key.FirstOfRun)} to {Axle(key.LastOfRun)} together",
        MarginKind.CouplingLeast or MarginKind.CouplingMost => $"coupling of {Vehicle(key.Body)}",
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown kind."),
    };

    /// <summary>True where the limit's parts are parts of this combination.</summary>
    public bool IsOf(MarginKey key)
    {
        if (combination is null || key.Body >= combination.Bodies.Length) return false;
        return key.Kind switch
        {
            MarginKind.Axle or MarginKind.AxleRating or MarginKind.TyreRating => key.Element >= 0 && key.Element < combination.Axles.Length,
            MarginKind.Group => key.Body >= 0 && (key.IsWholeGroup || key.FirstOfGroup < combination.Axles.Length),
            MarginKind.Gross => key.Body >= 0,
            MarginKind.CouplingLeast or MarginKind.CouplingMost => key.Body >= 0 && key.Body + (key.Element == 0 ? 0 : 1) is > 0 and var behind && behind < combination.Bodies.Length,
            MarginKind.Bridge => key.FirstOfRun < key.LastOfRun && key.LastOfRun < combination.Axles.Length,
            MarginKind.CombinationGross or MarginKind.DrivingShare or MarginKind.SteeringShare => true,
            _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown kind."),
        };
    }

    private static string Numbered(string part, int index) => string.Create(CultureInfo.InvariantCulture, $"{part} {index + 1} of the combination");
}

using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Wording;

/// <summary>What people call the parts of a combination: an axle by its position and role, a group, a coupling.</summary>
/// <param name="combination">The combination.</param>
public sealed class Names(Combination combination)
{
    /// <summary><c>axle 3 (tag)</c>; <c>trailer axle 1</c>; with several trailers <c>axle 1 of ST-06</c>. Positions count within a vehicle.</summary>
    public string Axle(int axle)
    {
        var part = combination.Axles[axle];
        var position = Text(axle - combination.Bodies[part.Body].FirstAxle + 1);
        if (part.Body > 0) return combination.Bodies.Length > 2 ? $"axle {position} of {Vehicle(part.Body)}" : $"trailer axle {position}";
        return $"axle {position} ({Role(part.Axle.Role)})";
    }

    /// <summary>Several axles: <c>axle 1 (steer) and axle 3 (tag)</c>.</summary>
    public string Axles(IEnumerable<int> axles) => List([.. axles.Select(Axle)]);

    /// <summary>Identity of a vehicle.</summary>
    public string Vehicle(int body) => combination.Vehicles[body].Id;

    /// <summary><c>sensor tag</c>; in a combination <c>sensor bogie of ST-06</c>.</summary>
    public string Sensor(int sensor)
    {
        var part = combination.Sensors[sensor];
        return combination.Bodies.Length == 1 ? $"sensor {part.Sensor.Key}" : $"sensor {part.Sensor.Key} of {Vehicle(part.Body)}";
    }

    /// <summary>The coupling ahead of a body: fifth wheel, drawbar eye, drawbar.</summary>
    public string Coupling(int body)
    {
        var name = combination.Vehicles[body].Kind switch
        {
            VehicleKind.SemiTrailer => "fifth wheel",
            VehicleKind.CentreAxleTrailer => "drawbar eye",
            VehicleKind.DrawbarTrailer => "drawbar",
            VehicleKind.Rigid or VehicleKind.Tractor => throw new ArgumentOutOfRangeException(nameof(body), body, "A powered unit has nothing ahead."),
            _ => throw new ArgumentOutOfRangeException(nameof(body), combination.Vehicles[body].Kind, "Unknown kind."),
        };
        return combination.Bodies.Length > 2 ? $"{name} of {Vehicle(body)}" : name;
    }

    /// <summary>What a limit limits, as <see cref="Limited(MarginKey)"/>; part of a group by its axles: <c>axles 3 and 4</c>.</summary>
    public string Limited(Margin margin)
    {
        if (margin.Key is not { Kind: MarginKind.Group, Element: > 1 } key) return Limited(margin.Key);
        var first = combination.Bodies[key.Body].FirstAxle;
        var axles = List([.. combination.Axles.Where(a => margin.Weights[a.Index] != 0).Select(a => Text(a.Index - first + 1))]);
        if (key.Body == 0) return $"axles {axles}";
        return combination.Bodies.Length > 2 ? $"axles {axles} of {Vehicle(key.Body)}" : $"trailer axles {axles}";
    }

    /// <summary>What a limit limits: <c>axle 2 (drive)</c>, <c>rear group</c>, <c>gross</c>, <c>fifth wheel</c>.</summary>
    public string Limited(MarginKey key) => key.Kind switch
    {
        MarginKind.Axle or MarginKind.AxleRating => Axle(key.Element),
        MarginKind.TyreRating => $"tyres of {Axle(key.Element)}",
        MarginKind.Group => Group(key),
        MarginKind.Gross => combination.Bodies.Length == 1 ? "gross" : $"gross of {Vehicle(key.Body)}",
        MarginKind.CombinationGross => "gross combination mass",
        MarginKind.DrivingShare => "driving share",
        MarginKind.SteeringShare => "steer share",
        MarginKind.Bridge => $"{Axle(key.FirstOfRun)} to {Axle(key.LastOfRun)} together",
        MarginKind.CouplingLeast or MarginKind.CouplingMost => Coupling(key.Element == 0 ? key.Body : key.Body + 1),
        _ => throw new ArgumentOutOfRangeException(nameof(key), key.Kind, "Unknown kind."),
    };

    /// <summary><c>a, b and c</c>.</summary>
    public static string List(ImmutableArray<string> names) => names.Length switch
    {
        0 => "",
        1 => names[0],
        _ => $"{string.Join(", ", names[..^1])} and {names[^1]}",
    };

    /// <summary>The first letter made large.</summary>
    public static string Begin(string sentence) =>
        sentence.Length == 0 ? sentence : char.ToUpperInvariant(sentence[0]) + sentence[1..];

    private string Group(MarginKey key)
    {
        if (!key.IsWholeGroup) return $"group from {Axle(key.FirstOfGroup)}";
        if (key.Body == 0) return key.Element == 0 ? "front group" : "rear group";
        var trailer = combination.Bodies.Length > 2 ? Vehicle(key.Body) : "trailer";
        return key.Element == 0 ? $"front group of {trailer}" : $"{trailer} bogie";
    }

    private static string Role(AxleRole role) => role switch
    {
        AxleRole.Steer => "steer",
        AxleRole.Drive => "drive",
        AxleRole.Tag => "tag",
        AxleRole.Pusher => "pusher",
        AxleRole.Trailer => "trailer",
        _ => throw new ArgumentOutOfRangeException(nameof(role), role, "Unknown role."),
    };

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}

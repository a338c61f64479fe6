namespace AxleTelemetry.Simulator.Routes;

/// <summary>What kind of way it is: how fast one drives there, how rough it is.</summary>
public enum RoadClass
{
    /// <summary>Two carriageways, no crossings.</summary>
    Motorway,

    /// <summary>A wide road between towns.</summary>
    Trunk,

    /// <summary>An ordinary road.</summary>
    Main,

    /// <summary>Streets with lights.</summary>
    Town,

    /// <summary>Aboard a ship.</summary>
    Ferry,
}

/// <summary>What follows from a class. Common practice.</summary>
internal static class RoadClasses
{
    /// <summary>Speed a truck drives there, or a ship, m/s.</summary>
    public static double Speed(this RoadClass road) => road switch
    {
        RoadClass.Motorway => 23.3,
        RoadClass.Trunk => 20.5,
        RoadClass.Main => 17,
        RoadClass.Town => 11,
        RoadClass.Ferry => 8,
        _ => throw new ArgumentOutOfRangeException(nameof(road), road, "Unknown class."),
    };

    /// <summary>Factor on the noise that the wheels bring into the bellows.</summary>
    public static double Roughness(this RoadClass road) => road switch
    {
        RoadClass.Motorway => 0.8,
        RoadClass.Trunk => 0.9,
        RoadClass.Main => 1.1,
        RoadClass.Town => 1.3,
        RoadClass.Ferry => 0,
        _ => throw new ArgumentOutOfRangeException(nameof(road), road, "Unknown class."),
    };

    /// <summary>How the way swings to one side and over rises: depth and length of a swing, height and length of a rise, all in m.</summary>
    public static (double Depth, double Length, double Rise, double RiseLength) Swing(this RoadClass road) => road switch
    {
        RoadClass.Motorway => (40, 2600, 7, 3100),
        RoadClass.Trunk => (30, 1600, 6, 2100),
        RoadClass.Main => (25, 1000, 6, 1300),
        RoadClass.Town => (8, 500, 2, 700),
        RoadClass.Ferry => (0, 1, 0, 1),
        _ => throw new ArgumentOutOfRangeException(nameof(road), road, "Unknown class."),
    };
}

using System.Collections.Immutable;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// The names that one version of a vehicle's description knows, so that a payload's keys become indexes. Immutable, shared
/// by every message of the vehicle.
/// </summary>
public sealed class KeyTable
{
    private readonly NameTable sensors;
    private readonly NameTable axles;
    private readonly NameTable modes;

    /// <summary>Builds from the keys in the order of the description. Throws <see cref="ArgumentException"/> for an empty or repeated key.</summary>
    /// <param name="sensors">Keys of the pressure sensors.</param>
    /// <param name="axles">Keys of the axles, liftable or not.</param>
    /// <param name="modes">Names of the suspension modes; the first is normal driving.</param>
    public KeyTable(IEnumerable<string> sensors, IEnumerable<string> axles, IEnumerable<string> modes)
    {
        this.sensors = new NameTable(sensors);
        this.axles = new NameTable(axles);
        this.modes = new NameTable(modes);
    }

    /// <summary>Keys of the pressure sensors.</summary>
    public ImmutableArray<string> Sensors => sensors.Names;

    /// <summary>Keys of the axles.</summary>
    public ImmutableArray<string> Axles => axles.Names;

    /// <summary>Names of the suspension modes.</summary>
    public ImmutableArray<string> Modes => modes.Names;

    /// <summary>Index of a sensor, -1 when the description has none of this name.</summary>
    public int FindSensor(ReadOnlySpan<byte> utf8) => sensors.Find(utf8);

    /// <summary>Index of an axle, -1 when the description has none of this name.</summary>
    public int FindAxle(ReadOnlySpan<byte> utf8) => axles.Find(utf8);

    /// <summary>Index of a suspension mode, -1 when the description has none of this name.</summary>
    public int FindMode(ReadOnlySpan<byte> utf8) => modes.Find(utf8);
}

using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Readings;

/// <summary>
/// One value that a vehicle reported: the atom of the input. A batch, a sample with many keys, a frame: all fall apart
/// into readings at the edge, so that one bad value refuses itself and nothing else.
/// </summary>
/// <param name="At">When it held, by the vehicle's clock.</param>
/// <param name="Kind">Which stream of the message contract it belongs to; the order of the members is the order within one moment.</param>
/// <param name="Key">
/// Pressure: index of the sensor in the vehicle's description. Lift: index of the axle in the vehicle's description.
/// Condition: a <see cref="ConditionKey"/>. Position: a <see cref="PositionKey"/>.
/// </param>
/// <param name="Value">
/// Pressure: kPa. Lift: a <see cref="LiftWord"/> as a number. Condition, position: see the key. Always finite.
/// </param>
public readonly record struct Reading(Moment At, ReadingKind Kind, ushort Key, double Value) : IComparable<Reading>
{
    /// <summary>The order in which one vehicle's readings are taken: moment, stream, key; of two values for one identity the lesser first, so that the greater counts.</summary>
    public int CompareTo(Reading other)
    {
        var order = At.CompareTo(other.At);
        if (order == 0) order = (int)Kind - (int)other.Kind; // CompareTo of an enum would box both.
        if (order == 0) order = Key.CompareTo(other.Key);
        return order == 0 ? Value.CompareTo(other.Value) : order;
    }
}

/// <summary>The streams whose values become readings, in the contract's order.</summary>
public enum ReadingKind : byte
{
    /// <summary>Bellows pressure of a sensor, kPa.</summary>
    Pressure,

    /// <summary>What the vehicle says of a liftable axle.</summary>
    Lift,

    /// <summary>What the vehicle says of itself.</summary>
    Condition,

    /// <summary>Where it is and how it moves.</summary>
    Position,
}

/// <summary>What a vehicle reports of a liftable axle.</summary>
public enum LiftReport : byte
{
    /// <summary>On the road and carrying.</summary>
    Loaded,

    /// <summary>On the road, bellows relieved (traction help).</summary>
    Unloaded,

    /// <summary>Off the road.</summary>
    Raised,

    /// <summary>Between positions.</summary>
    Moving,

    /// <summary>The vehicle does not know.</summary>
    Unknown,

    /// <summary>On the road: whether loaded or unloaded is decided from the pressure.</summary>
    Lowered,
}

/// <summary>Keys of the condition stream, with the meaning of the value. Every one is optional.</summary>
public enum ConditionKey : ushort
{
    /// <summary>0 normal driving height, 1 not at driving height (raised, lowered to a dock or ramp, dumped).</summary>
    RideHeight,

    /// <summary>Index of the suspension mode in the vehicle's description; 0 is normal.</summary>
    SuspensionMode,

    /// <summary>1 while the service brake is applied, else 0.</summary>
    ServiceBrake,

    /// <summary>1 while the parking brake is applied, else 0.</summary>
    ParkingBrake,

    /// <summary>1 while the power take-off is engaged, else 0.</summary>
    PowerTakeOff,

    /// <summary>1 while the ignition is on, else 0.</summary>
    Ignition,

    /// <summary>Speed from the wheels, m/s, 0 to 60.</summary>
    WheelSpeed,

    /// <summary>Fuel on board, litres.</summary>
    Fuel,

    /// <summary>Outside temperature, degrees Celsius.</summary>
    Ambient,

    /// <summary>1 while a tail-lift, outrigger or raised body is in use, else 0.</summary>
    BodyInUse,
}

/// <summary>Keys of the position stream, with the meaning of the value.</summary>
public enum PositionKey : ushort
{
    /// <summary>Degrees north, WGS 84.</summary>
    Latitude,

    /// <summary>Degrees east, WGS 84.</summary>
    Longitude,

    /// <summary>Metres above sea level.</summary>
    Altitude,

    /// <summary>Degrees clockwise from north.</summary>
    Heading,

    /// <summary>Radius of 95 % in metres.</summary>
    Accuracy,

    /// <summary>Metres per second over ground, 0 to 60. Last of the keys: when it is taken, the rest of the position is known.</summary>
    Speed,
}

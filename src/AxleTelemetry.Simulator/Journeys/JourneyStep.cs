using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>One line of a journey: something that takes time, or something that changes at once.</summary>
public abstract record JourneyStep
{
    private JourneyStep() { }

    /// <summary>True where time passes on the road: the wheels roll on from the step before into the step after.</summary>
    public bool Rolls => this is Drive;

    /// <summary>True where time passes.</summary>
    public bool TakesTime => this is Drive or Stand or Carry or Load { Seconds: > 0 };

    /// <summary>Drives a distance.</summary>
    /// <param name="Metres">Distance.</param>
    /// <param name="Speed">Speed aimed at, m/s.</param>
    /// <param name="Grade">Grade of the whole stretch as a fraction, uphill positive.</param>
    /// <param name="Bends">True through bends that no steady reading survives.</param>
    /// <param name="GivenOff">Payload that leaves the body evenly on the way, kg.</param>
    public sealed record Drive(double Metres, double Speed, double Grade, bool Bends, double GivenOff) : JourneyStep;

    /// <summary>Stands.</summary>
    public sealed record Stand(double Seconds) : JourneyStep;

    /// <summary>Is carried: the position moves, the wheels do not.</summary>
    public sealed record Carry(double Seconds, double Speed) : JourneyStep;

    /// <summary>The payload of a body becomes this, evenly over the time given, standing.</summary>
    public sealed record Load(int Body, double Kilograms, double Centre, double Seconds) : JourneyStep;

    /// <summary>An axle moves, or is said to have.</summary>
    /// <param name="Axle">Axle of the combination.</param>
    /// <param name="To">Where to.</param>
    /// <param name="Said">True where the vehicle reports it.</param>
    /// <param name="Done">True where it happens.</param>
    /// <param name="Reason">Why, as the driver says.</param>
    public sealed record Lift(int Axle, LiftReport To, bool Said, bool Done, LiftReason Reason = LiftReason.Unsaid) : JourneyStep;

    /// <summary>The ride height of a body changes.</summary>
    /// <param name="Body">Body.</param>
    /// <param name="Height">What the bellows do.</param>
    /// <param name="Said">True where the vehicle reports it.</param>
    public sealed record Ride(int Body, RideHeight Height, bool Said) : JourneyStep;

    /// <summary>The suspension of a body goes into another mode.</summary>
    public sealed record Mode(int Body, int Index) : JourneyStep;

    /// <summary>A sensor begins to do something else than measure, or measures again.</summary>
    public sealed record Fault(int Sensor, SensorFault To) : JourneyStep;

    /// <summary>The unit begins or ceases to report something.</summary>
    public sealed record Report(Reported What, bool On) : JourneyStep;

    /// <summary>The air outside, degrees Celsius; reported from then on.</summary>
    public sealed record Ambient(double Celsius) : JourneyStep;

    /// <summary>The journey goes on at this height above the sea, m.</summary>
    public sealed record Altitude(double Metres) : JourneyStep;
}

/// <summary>What the bellows of a body hold.</summary>
public enum RideHeight
{
    /// <summary>Driving height.</summary>
    Normal,

    /// <summary>Off the driving height, on its bump stops or fully out: the pressure is not the load.</summary>
    Off,

    /// <summary>No air.</summary>
    Dumped,
}

/// <summary>What a unit may report or not.</summary>
public enum Reported
{
    /// <summary>Anything at all.</summary>
    Everything,

    /// <summary>Speed of the wheels.</summary>
    WheelSpeed,
}

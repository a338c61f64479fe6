using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>One second of a journey: what is true, and what the unit would report of it.</summary>
public sealed record JourneyMoment
{
    /// <summary>When.</summary>
    public required Moment At { get; init; }

    /// <summary>What every axle really does.</summary>
    public required Configuration Configuration { get; init; }

    /// <summary>True payload: mass in kg and moment in kg m of each body that carries.</summary>
    public required ImmutableArray<double> Payload { get; init; }

    /// <summary>True speed over ground, m/s.</summary>
    public required double Speed { get; init; }

    /// <summary>True metres rolled since the journey began.</summary>
    public required double Odometer { get; init; }

    /// <summary>False while the unit is off: then nothing below reaches anybody.</summary>
    public required bool Heard { get; init; }

    /// <summary>Reported pressure of each sensor, kPa; <c>null</c> where it says nothing.</summary>
    public required ImmutableArray<double?> Pressures { get; init; }

    /// <summary>Reported state of each axle with a lift; <c>null</c> for others.</summary>
    public required ImmutableArray<LiftReport?> Lifts { get; init; }

    /// <summary>Why each axle was put where it is, as the driver says.</summary>
    public required ImmutableArray<LiftReason> Reasons { get; init; }

    /// <summary>What each vehicle reports of itself.</summary>
    public required ImmutableArray<SelfReport> Reports { get; init; }

    /// <summary>Reported position.</summary>
    public required PositionReport Position { get; init; }
}

/// <summary>What a vehicle reports of itself.</summary>
/// <param name="RideOff">Not at driving height.</param>
/// <param name="Mode">Index of the suspension mode.</param>
/// <param name="ServiceBrake">Service brake applied.</param>
/// <param name="ParkingBrake">Parking brake applied.</param>
/// <param name="PowerTakeOff">Power take-off engaged.</param>
/// <param name="WheelSpeed">m/s; <c>null</c> where it is not reported.</param>
/// <param name="Ambient">Degrees Celsius; <c>null</c> where it is not reported.</param>
public readonly record struct SelfReport(
    bool RideOff, int Mode, bool ServiceBrake, bool ParkingBrake, bool PowerTakeOff, double? WheelSpeed, double? Ambient);

/// <summary>A position as a receiver reports it: degrees, metres, metres per second.</summary>
public readonly record struct PositionReport(double Latitude, double Longitude, double Altitude, double Heading, double Speed);

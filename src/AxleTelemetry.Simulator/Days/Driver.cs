using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Routes;
using AxleTelemetry.Simulator.Statics;

namespace AxleTelemetry.Simulator.Days;

/// <summary>Drives a truck along a road, second by second.</summary>
internal sealed class Driver(Road road, double at, SeededRandom random)
{
    // Ordinary driving of a loaded truck. Common practice.
    private const double SpeedUp = 0.45, SpeedUpFast = 0.25, SlowDown = 0.7, LookAhead = 320;
    private const double MostLateral = 1.5, WattsAtWheels = 290_000, RollingResistance = 0.006, AirFactor = 3.3;

    private double _wobble;

    /// <summary>1 towards the road's end, -1 towards its beginning.</summary>
    public int Ahead { get; private set; } = 1;

    /// <summary>Metres along the road.</summary>
    public double At { get; private set; } = at;

    /// <summary>m/s over ground.</summary>
    public double Speed { get; private set; }

    /// <summary>m/s2.</summary>
    public double Acceleration { get; private set; }

    /// <summary>Metres rolled on the wheels.</summary>
    public double Odometer { get; private set; }

    /// <summary>Where the truck is, looking ahead.</summary>
    public RoadPlace Place { get; private set; } = road.At(at);

    /// <summary>True while the service brake is applied.</summary>
    public bool Braking => Acceleration < -0.35;

    /// <summary>One second towards a standstill at a place; true where it is reached.</summary>
    public bool Roll(double to, double gross)
    {
        if (Speed <= 0) Ahead = to >= At ? 1 : -1;
        var left = Math.Abs(to - At);
        _wobble = 0.97 * _wobble + random.Normal(0.05);
        Acceleration = Math.Clamp(Aim(gross) + _wobble - Speed, -SlowDown, Speed < 10 ? SpeedUp : SpeedUpFast);
        if (Speed * Speed / (2 * SlowDown) + Speed >= left)
            Acceleration = -Math.Min(Speed, Math.Max(SlowDown, Speed * Speed / (2 * Math.Max(left, 1))));
        var before = Speed;
        Speed = left < 3 ? 0 : Math.Max(0.5, Speed + Acceleration);
        Acceleration = Speed - before;
        var metres = Math.Min(left, (before + Speed) / 2);
        Odometer += metres;
        Move(metres);
        return Speed <= 0;
    }

    /// <summary>One second at rest.</summary>
    public void Stand() => Speed = Acceleration = 0;

    /// <summary>One second aboard a ship.</summary>
    public void Carry(double to, double speed)
    {
        if (Speed <= 0) Ahead = to >= At ? 1 : -1;
        Speed = speed;
        Acceleration = 0;
        Move(Math.Min(Math.Abs(to - At), speed));
    }

    private void Move(double metres)
    {
        At += Ahead * metres;
        var place = road.At(At);
        Place = Ahead > 0 ? place : place.Reversed();
    }

    private double Aim(double gross)
    {
        var ahead = road.At(At + Ahead * LookAhead);
        var near = road.At(At + Ahead * LookAhead / 3);
        var aim = Math.Min(Place.Road.Speed(), ahead.Road == RoadClass.Ferry ? double.MaxValue : ahead.Road.Speed());
        var bend = Math.Max(Math.Abs(Place.Curvature), Math.Max(Math.Abs(near.Curvature), Math.Abs(ahead.Curvature)));
        if (bend > 1e-5) aim = Math.Min(aim, Math.Sqrt(MostLateral / bend));
        var held = gross * RoadMotion.Gravity * (Place.Grade + RollingResistance) + AirFactor * Speed * Speed;
        return held > 0 ? Math.Min(aim, Math.Max(4, WattsAtWheels / held)) : aim;
    }
}

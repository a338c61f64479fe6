using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Journeys;

/// <summary>How the combination moves, second by second: speed, grade, heading, place.</summary>
internal sealed class RoadTravel(SeededRandom random)
{
    // Ordinary driving of a loaded truck. Common practice.
    private const double SpeedUp = 0.45, SpeedUpFast = 0.25, SlowDown = 0.7;
    private const double MetresPerDegree = 111_320;

    private double _wobble;
    private double _wander;
    private double _turn;
    private double _bend;
    private double _altitudeError;

    public double Speed { get; private set; }

    public double Acceleration { get; private set; }

    public double Grade { get; private set; }

    public double Odometer { get; private set; }

    public double Latitude { get; private set; } = 46.2;

    public double Longitude { get; private set; } = 15.6;

    public double Altitude { get; set; } = 250;

    public double Heading { get; private set; } = 80;

    public bool Braking => Acceleration < -0.35;

    /// <summary>One second on the wheels towards a speed; to a standstill where little is left of the way.</summary>
    public void Roll(double aim, double left, bool endsStanding, double grade, bool bends)
    {
        _wobble = 0.97 * _wobble + random.Normal(0.08);
        var wanted = aim + _wobble - Speed;
        Acceleration = Math.Clamp(wanted, -SlowDown, Speed < 10 ? SpeedUp : SpeedUpFast);
        if (endsStanding && Speed * Speed / (2 * SlowDown) + Speed >= left)
            Acceleration = -Math.Min(Speed, Math.Max(SlowDown, Speed * Speed / (2 * Math.Max(left, 1))));
        var before = Speed;
        Speed = Math.Max(0, Speed + Acceleration);
        if (endsStanding && left < 3) Speed = 0;
        Acceleration = Speed - before;
        var metres = (before + Speed) / 2;
        _wander = 0.995 * _wander + random.Normal(0.0004);
        Grade = grade + _wander;
        Turn(metres, bends);
        Advance(metres);
        Odometer += metres;
    }

    public void Stand()
    {
        Acceleration = -Speed;
        Speed = 0;
        Grade = 0;
    }

    /// <summary>One second aboard something else.</summary>
    public void Carry(double speed)
    {
        Acceleration = 0;
        Speed = speed;
        Grade = 0;
        Advance(speed);
    }

    /// <summary>What a receiver makes of it.</summary>
    public PositionReport Report()
    {
        _altitudeError = 0.99 * _altitudeError + random.Normal(0.15);
        return new PositionReport(
            Math.Round(Latitude, 5),
            Math.Round(Longitude, 5),
            Math.Round(Altitude + _altitudeError, 1),
            Math.Round(Wrap(Heading + random.Normal(0.15)), 1),
            Speed <= 0 ? 0 : Math.Round(Math.Max(0, Speed + random.Normal(0.04)), 2));
    }

    private void Turn(double metres, bool bends)
    {
        // A road is never quite straight; through bends it swings to radii of some 150 m.
        _turn = 0.98 * _turn + random.Normal(0.00004);
        _bend += metres / 60;
        var curvature = _turn + (bends ? Math.Tanh(6 * Math.Sin(_bend)) / 150 : 0);
        Heading = Wrap(Heading + curvature * metres * 180 / Math.PI);
    }

    private void Advance(double metres)
    {
        var heading = Heading * Math.PI / 180;
        Latitude += metres * Math.Cos(heading) / MetresPerDegree;
        Longitude += metres * Math.Sin(heading) / (MetresPerDegree * Math.Cos(Latitude * Math.PI / 180));
        Altitude += Grade * metres;
    }

    private static double Wrap(double degrees) => (degrees % 360 + 360) % 360;
}

using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Simulator.Routes;

namespace AxleTelemetry.Simulator.Days;

/// <summary>What a satellite receiver makes of a place: errors that wander slowly.</summary>
internal sealed class Receiver(SeededRandom random, bool noisy)
{
    private const double Memory = 0.99, PlaceStep = 0.15, AltitudeStep = 0.15, HeadingSd = 0.15, SpeedSd = 0.04;

    private double _north, _east, _up;

    public PositionReport See(RoadPlace place, double speed)
    {
        if (!noisy) return Rounded(place, place.Heading, speed);
        _north = Memory * _north + random.Normal(PlaceStep);
        _east = Memory * _east + random.Normal(PlaceStep);
        _up = Memory * _up + random.Normal(AltitudeStep);
        var shown = speed <= 0 ? 0 : Math.Max(0, speed + random.Normal(SpeedSd));
        return Rounded(place.Moved(_north, _east, _up), RoadPlace.Wrap(place.Heading + random.Normal(HeadingSd)), shown);
    }

    private static PositionReport Rounded(RoadPlace place, double heading, double speed) => new(
        Math.Round(place.Latitude, 6), Math.Round(place.Longitude, 6), Math.Round(place.Altitude, 1), Math.Round(heading, 1) % 360, Math.Round(speed, 2));
}

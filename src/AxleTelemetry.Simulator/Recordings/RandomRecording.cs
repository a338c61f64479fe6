using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Simulator.Chance;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>
/// What a small fleet publishes over some hours: vehicles with the errors that real ones have, loads and lifts that change
/// at stops, overloads that come and go, trailers that change between tractors, devices each with habits of its own. The
/// same seed and scene give the same bytes.
/// </summary>
public sealed class RandomRecording
{
    private readonly RecordingScene _scene;
    private readonly SeededRandom _random;
    private readonly Dictionary<string, FleetUnit> _units;
    private readonly List<RecordedMessage> _sent = [];

    private RandomRecording(ulong seed, RecordingScene scene)
    {
        _scene = scene;
        _random = new SeededRandom(seed);
        _units = scene.Vehicles.ToDictionary(v => v.Id, v => new FleetUnit(v, Device(v), _random.Fork()));
    }

    /// <summary>The messages in the order received; none is received before its newest sample was taken.</summary>
    public static ImmutableArray<RecordedMessage> Draw(ulong seed, RecordingScene scene)
    {
        ArgumentNullException.ThrowIfNull(scene);
        return new RandomRecording(seed, scene).Messages();
    }

    private ImmutableArray<RecordedMessage> Messages()
    {
        foreach (var stretch in StretchPlan.Draw(_scene, _random.Fork())) Play(stretch);
        foreach (var vehicle in _scene.Vehicles) _units[vehicle.Id].Device.Flush();
        return [.. _sent.OrderBy(m => m.Received)];
    }

    private Device Device(VehicleDescription vehicle)
    {
        var random = _random.Fork();
        return new Device((_scene.Fleet, vehicle.Id), DeviceHabits.Draw(_scene, random), random, _sent.Add);
    }

    private void Play(Stretch stretch)
    {
        switch (stretch)
        {
            case Stretch.Driven driven: Drive(driven); break;
            case Stretch.Parked parked: _units[parked.Trailer.Id].Park(parked); break;
            default: throw new InvalidOperationException($"Nobody plays {stretch}.");
        }
    }

    private void Drive(Stretch.Driven stretch)
    {
        ImmutableArray<FleetUnit> units = [.. stretch.Vehicles.Select(v => _units[v.Id])];
        var script = StretchScript.Draw(stretch, units, _random.Fork());
        if (stretch.Stated) units[0].Device.Couple(stretch.From.Plus(_random.Between(0, 20)), stretch.Vehicles.Skip(1).Select(v => v.Id));
        Speaker[] speakers = [.. script.Combination.Bodies.Select(body => new Speaker(script, body, units[body.Index]))];
        foreach (var moment in JourneyPlayer.Play(script).Take(stretch.Seconds))
            foreach (var speaker in speakers)
                speaker.Say(moment);
        foreach (var speaker in speakers) speaker.End();
    }
}

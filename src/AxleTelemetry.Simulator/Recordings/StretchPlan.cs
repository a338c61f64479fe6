using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Simulator.Recordings;

/// <summary>Who pulls what, and when.</summary>
internal sealed class StretchPlan
{
    private const int ShortestHaul = 1200, LongestHaul = 3600, ShortestRest = 120, LongestRest = 480;
    private const double Forgotten = 0.2, SaysSolo = 0.5;

    private readonly RecordingScene _scene;
    private readonly SeededRandom _random;
    private readonly List<Haul> _hauls = [];

    private StretchPlan(RecordingScene scene, SeededRandom random)
    {
        _scene = scene;
        _random = random;
    }

    /// <summary>The stretches of all vehicles by their beginning; those of one vehicle follow each other without a gap.</summary>
    public static IReadOnlyList<Stretch> Draw(RecordingScene scene, SeededRandom random)
    {
        var plan = new StretchPlan(scene, random);
        foreach (var trailer in scene.Vehicles.Where(v => !v.Kind.IsPowered())) plan.Book(trailer);
        return [.. scene.Vehicles.SelectMany(v => v.Kind.IsPowered() ? plan.Driven(v) : plan.Parked(v)).OrderBy(s => s.From)];
    }

    private void Book(VehicleDescription trailer)
    {
        for (var at = _random.Chance(0.6) ? 0 : Rest(); at < _scene.Seconds; at += Rest())
        {
            var until = Math.Min(_scene.Seconds, at + _random.Whole(ShortestHaul, LongestHaul));
            VehicleDescription[] free = [.. _scene.Vehicles.Where(v => Pulls(v, trailer) && !_hauls.Any(h => h.Puller == v && h.From < until && at < h.Until))];
            if (free.Length == 0) continue;
            _hauls.Add(new Haul(at, until, _random.Pick<VehicleDescription>(free), trailer));
            at = until;
        }
    }

    private int Rest() => _random.Whole(ShortestRest, LongestRest);

    private static bool Pulls(VehicleDescription puller, VehicleDescription trailer) =>
        puller.Kind.IsPowered() && Combination.Couple([puller, trailer]) is CouplingResult.Coupled;

    private IEnumerable<Stretch> Driven(VehicleDescription puller)
    {
        var at = 0;
        foreach (var haul in _hauls.Where(h => h.Puller == puller).OrderBy(h => h.From))
        {
            if (haul.From > at) yield return Solo(puller, at, haul.From);
            yield return new Stretch.Driven(_scene.Start.Plus(haul.From), haul.Until - haul.From, [puller, haul.Trailer], Stated: true);
            at = haul.Until;
        }

        if (at < _scene.Seconds) yield return Solo(puller, at, _scene.Seconds);
    }

    // Drivers forget to say that they uncoupled; then the trailer's next tractor says it first.
    private Stretch.Driven Solo(VehicleDescription puller, int from, int until) =>
        new(_scene.Start.Plus(from), until - from, [puller], _random.Chance(from > 0 ? 1 - Forgotten : SaysSolo));

    private IEnumerable<Stretch> Parked(VehicleDescription trailer)
    {
        var at = 0;
        foreach (var haul in _hauls.Where(h => h.Trailer == trailer).OrderBy(h => h.From))
        {
            if (haul.From > at) yield return new Stretch.Parked(_scene.Start.Plus(at), haul.From - at, trailer);
            at = haul.Until;
        }

        if (at < _scene.Seconds) yield return new Stretch.Parked(_scene.Start.Plus(at), _scene.Seconds - at, trailer);
    }

    private readonly record struct Haul(int From, int Until, VehicleDescription Puller, VehicleDescription Trailer);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Wording;

/// <summary>What the sensors that were read can tell of a combination, and what no amount of readings would tell.</summary>
/// <param name="combination">The combination.</param>
/// <param name="map">The configuration it was read in.</param>
/// <param name="sensors">Sensors that were read and carry.</param>
public sealed class KnowledgeSentences(Combination combination, LoadMap map, ImmutableArray<int> sensors)
{
    private readonly Names _names = new(combination);
    private readonly Reach _reach = new(combination, map, sensors);

    /// <summary>The sentences, most important first; empty where there is nothing to be said.</summary>
    public ImmutableArray<string> All() => [.. ByPlace(), .. Shared(), .. OneSided(), .. Redundancy()];

    private IEnumerable<string> ByPlace()
    {
        ImmutableArray<int> axles = [.. combination.Axles.Select(a => a.Index).Where(a => _reach.OfAxle(a) == Knowledge.ByPlace)];
        var gross = _reach.Of(LinearForm.OfGross(map, combination).Level) == Knowledge.ByPlace;
        if (!gross && axles.IsEmpty) yield break;
        ImmutableArray<string> what = [.. axles.Select(_names.Axle), .. gross ? ["the gross mass"] : ImmutableArray<string>.Empty];
        var fitted = Unread().ToArray();
        var remedy = fitted.Length > 0 ? $"A pressure of {Names.List([.. fitted.Select(_names.Sensor)])} would settle it."
            : $"A sensor on {_names.Axle(axles.IsEmpty ? 0 : axles[0])}, or weighing, would settle it.";
        yield return $"Known only through where the payload sits, not from pressure: {Names.List(what)}. {remedy}";
    }

    /// <summary>Sensors that were not read though their axles carry.</summary>
    private IEnumerable<int> Unread() => combination.Sensors.Select(s => s.Index)
        .Where(s => !sensors.Contains(s) && combination.Sensors[s].Axles.Any(a => map.Configuration[a] == AxleState.Loaded && _reach.OfAxle(a) == Knowledge.ByPlace));

    private IEnumerable<string> Shared()
    {
        foreach (var sensor in sensors)
        {
            ImmutableArray<int> loaded = [.. combination.Sensors[sensor].Axles.Where(a => map.Configuration[a] == AxleState.Loaded).Order()];
            if (loaded.Length > 1)
                yield return $"{Names.Begin(_names.Sensor(sensor))} feels {_names.Axles(loaded)} together: their mean is measured, the split between them is assumed.";
        }
    }

    private IEnumerable<string> OneSided()
    {
        foreach (var sensor in sensors.Select(s => combination.Sensors[s]).Where(s => s.Sensor.Side != CircuitSide.Both))
            yield return $"{Names.Begin(_names.Sensor(sensor.Index))} feels the {(sensor.Sensor.Side == CircuitSide.Left ? "left" : "right")} side only: nothing that rests on it is ever sure.";
    }

    private IEnumerable<string> Redundancy()
    {
        if (sensors.IsEmpty || combination.StateSize == 0) yield break;
        yield return _reach.IsRedundant
            ? "The sensors check one another, but not an error that they share: only a weighing finds that."
            : "The sensors do not check one another: only a weighing finds an error in a calibration.";
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Simulator.Hauling;

/// <summary>What fleet to draw.</summary>
public sealed record FleetPlan
{
    /// <summary>How many units of each kind.</summary>
    public ImmutableSortedDictionary<UnitKind, int> Units { get; init; } = Each(1);

    /// <summary>Midnight (UTC) before the first day.</summary>
    public Moment Start { get; init; } = new(1_772_409_600_000);

    /// <summary>When a vehicle's work of a day begins: seconds after midnight, the earliest and the latest.</summary>
    public (int Earliest, int Latest) WorkBegins { get; init; } = (16_200, 25_200);

    /// <summary>Seconds between samples: 1 or 10.</summary>
    public int EverySeconds { get; init; } = 1;

    /// <summary>Until when devices store what they have for a minute and send it together; from then on, and without it, each sends by its own habit.</summary>
    public Moment? StoredUntil { get; init; }

    /// <summary>How laden trucks are loaded, relative to the first limit they would pass with every axle down: mean.</summary>
    public double LadenMean { get; init; } = 0.90;

    /// <summary>Standard deviation of <see cref="LadenMean"/>.</summary>
    public double LadenSd { get; init; } = 0.08;

    /// <summary>True where weighbridge tickets stand behind every circuit; else what the handbook says is all, and sensors depart from it further.</summary>
    public bool Ticketed { get; init; } = true;

    /// <summary>False for vehicles and sensors that are exactly as described.</summary>
    public bool Errors { get; init; } = true;

    /// <summary>False for pressures without noise, friction and errors of a stretch of road, and positions without a receiver's error.</summary>
    public bool Noise { get; init; } = true;

    /// <summary>Part of the vehicles whose first sensor is described as being on one side only.</summary>
    public double OneSidedPart { get; init; }

    /// <summary>True where all that is dropped comes from the rear and what is left stands in front: harder than the error budget has it.</summary>
    public bool DropsFromRear { get; init; }

    /// <summary>True where semi-trailers change between tractors.</summary>
    public bool SwapTrailers { get; init; } = true;

    /// <summary>How often each fault occurs: probability per vehicle and day. What is not there does not occur.</summary>
    public ImmutableSortedDictionary<FaultKind, double> Faults { get; init; } = ImmutableSortedDictionary<FaultKind, double>.Empty;

    /// <summary>So many units of every kind.</summary>
    public static ImmutableSortedDictionary<UnitKind, int> Each(int count) =>
        Enum.GetValues<UnitKind>().ToImmutableSortedDictionary(kind => kind, _ => count);

    /// <summary>So many units, kinds in turn.</summary>
    public static ImmutableSortedDictionary<UnitKind, int> InTurn(int count)
    {
        var kinds = Enum.GetValues<UnitKind>();
        return kinds.ToImmutableSortedDictionary(kind => kind, kind => count / kinds.Length + ((int)kind < count % kinds.Length ? 1 : 0));
    }

    /// <summary>Every fault with one probability per vehicle and day.</summary>
    public static ImmutableSortedDictionary<FaultKind, double> AllFaults(double probability) =>
        Enum.GetValues<FaultKind>().ToImmutableSortedDictionary(kind => kind, _ => probability);
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>Everything that can be found about a combination, each with its slot among the running episodes.</summary>
public sealed class FindingCatalog
{
    private readonly int _tell;
    private readonly int _axles;
    private readonly int _sensors;
    private readonly int _bodies;

    private static readonly FindingKind[] PerAxle =
    [
        FindingKind.LoweredForNothing, FindingKind.AutomaticLoweringDidNotAct, FindingKind.MovingOffAid, FindingKind.AxleRelieved,
        FindingKind.LiftDisputed, FindingKind.RaisedForNothing,
    ];

    private static readonly FindingKind[] PerSensor =
        [FindingKind.PressureStep, FindingKind.SensorDrifts, FindingKind.SensorStill, FindingKind.SensorSilent];

    private static readonly FindingKind[] PerBody = [FindingKind.SplitDeparts, FindingKind.SuspensionOff, FindingKind.PayloadImplausible];

    // Asked for with most readings: looked up, not looked for.
    private static readonly int[] Places = PlacesAmongTheirOwn();

    /// <summary>Lists what can be found.</summary>
    public FindingCatalog(Combination combination, ImmutableArray<MarginKey> keys)
    {
        Margins = keys;
        var list = ImmutableArray.CreateBuilder<FindingKey>();
        list.AddRange(keys.Select(k => new FindingKey(FindingKind.Overload, k, -1)));
        _tell = list.Count;
        list.AddRange(keys.Select(k => new FindingKey(FindingKind.CannotTell, k, -1)));
        _axles = list.Count;
        for (var a = 0; a < combination.Axles.Length; a++)
            list.AddRange(PerAxle.Select(kind => new FindingKey(kind, default, a)));
        _sensors = list.Count;
        for (var s = 0; s < combination.Sensors.Length; s++)
            list.AddRange(PerSensor.Select(kind => new FindingKey(kind, default, s)));
        _bodies = list.Count;
        for (var b = 0; b < combination.Bodies.Length; b++)
            list.AddRange(PerBody.Select(kind => new FindingKey(kind, default, b)));
        Carried = list.Count;
        list.Add(new FindingKey(FindingKind.Carried, default, 0));
        NotPossible = list.Count;
        list.Add(new FindingKey(FindingKind.NotPossible, default, 0));
        OverAcrossBorder = list.Count;
        list.Add(new FindingKey(FindingKind.OverAcrossBorder, default, 0));
        CountryUndecided = list.Count;
        list.Add(new FindingKey(FindingKind.CountryUndecided, default, 0));
        TrailerClaimedTwice = list.Count;
        list.Add(new FindingKey(FindingKind.TrailerClaimedTwice, default, 0));
        Undescribed = list.Count;
        list.AddRange(combination.Bodies.Where(b => b.Vehicle.IsStandIn).Select(b => new FindingKey(FindingKind.TrailerUndescribed, default, b.Index)));
        Keys = list.ToImmutable();
    }

    /// <summary>Every finding, one per slot.</summary>
    public ImmutableArray<FindingKey> Keys { get; }

    /// <summary>The limits, in order.</summary>
    public ImmutableArray<MarginKey> Margins { get; }

    /// <summary>Slot of 'carried'.</summary>
    public int Carried { get; }

    /// <summary>Slot of 'not possible'.</summary>
    public int NotPossible { get; }

    /// <summary>Slot of 'would be over across the border'.</summary>
    public int OverAcrossBorder { get; }

    /// <summary>Slot of 'trailer claimed twice'.</summary>
    public int TrailerClaimedTwice { get; }

    /// <summary>First slot of 'trailer undescribed'; they go on to the last of all, one for each stand-in.</summary>
    public int Undescribed { get; }

    /// <summary>Slot of 'country undecided'.</summary>
    public int CountryUndecided { get; }

    /// <summary>Index of a limit among <see cref="Margins"/>, which is also the slot of its overload; -1 where it is not listed.</summary>
    public int IndexOf(MarginKey key) => Margins.BinarySearch(key);

    /// <summary>Slot of 'cannot tell' for a limit by its index.</summary>
    public int CannotTell(int margin) => _tell + margin;

    /// <summary>Slot of a finding about an axle.</summary>
    public int OfAxle(FindingKind kind, int axle) => _axles + axle * PerAxle.Length + Places[(int)kind];

    /// <summary>Slot of a finding about a sensor.</summary>
    public int OfSensor(FindingKind kind, int sensor) => _sensors + sensor * PerSensor.Length + Places[(int)kind];

    /// <summary>Slot of a finding about a body.</summary>
    public int OfBody(FindingKind kind, int body) => _bodies + body * PerBody.Length + Places[(int)kind];

    /// <summary>True where both list the same.</summary>
    internal bool IsSame(FindingCatalog other) => Keys.AsSpan().SequenceEqual(other.Keys.AsSpan());

    private static int[] PlacesAmongTheirOwn()
    {
        var places = new int[Enum.GetValues<FindingKind>().Length];
        foreach (var own in (FindingKind[][])[PerAxle, PerSensor, PerBody])
            for (var i = 0; i < own.Length; i++) places[(int)own[i]] = i;
        return places;
    }
}

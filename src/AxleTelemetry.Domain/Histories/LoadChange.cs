using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Says when loads have moved enough from those last recorded to be recorded again: by more than 100 kg and more than two standard deviations.</summary>
internal sealed class LoadChange
{
    private const double LeastKilograms = 100, Deviations = 2;

    private double[] _recorded = [];
    private long _settledAt, _provisionalAt;
    private LoadStanding _standing;
    private byte _mayHaveChanged;

    /// <summary>Nothing is recorded of these vehicles.</summary>
    public void Forget()
    {
        _recorded = [];
        (_settledAt, _provisionalAt, _mayHaveChanged, _standing) = (0, 0, 0, LoadStanding.None);
    }

    /// <summary>True where the lane measured something since it was last asked. Costs nothing.</summary>
    public bool IsDue(Lane lane)
    {
        ref var load = ref lane.State.Load;
        if (load.SettledAt == _settledAt && load.ProvisionalAt == _provisionalAt && load.MayHaveChanged == _mayHaveChanged) return false;
        (_settledAt, _provisionalAt, _mayHaveChanged) = (load.SettledAt, load.ProvisionalAt, load.MayHaveChanged);
        return true;
    }

    /// <summary>True where an axle or the gross moved enough, or figures came, went or became worth something else.</summary>
    public bool Moved(LaneView view)
    {
        if (view.Standing != _standing || _recorded.Length != view.Axles.Length + 1) return true;
        for (var i = 0; i < _recorded.Length; i++)
            if (Moved(_recorded[i], FigureOf(view, i)))
                return true;
        return false;
    }

    /// <summary>These are recorded now.</summary>
    public void Recorded(LaneView view)
    {
        if (_recorded.Length != view.Axles.Length + 1) _recorded = new double[view.Axles.Length + 1];
        for (var i = 0; i < _recorded.Length; i++) _recorded[i] = FigureOf(view, i)?.Mean ?? double.NaN;
        _standing = view.Standing;
    }

    public void Write(ByteWriter to)
    {
        to.Int(_recorded.Length);
        foreach (var figure in _recorded) to.Double(figure);
        to.Long(_settledAt);
        to.Long(_provisionalAt);
        to.Byte(_mayHaveChanged);
        to.Byte((byte)_standing);
    }

    public void Read(ref ByteReader from)
    {
        _recorded = new double[from.Count()];
        for (var i = 0; i < _recorded.Length; i++) _recorded[i] = from.Double();
        _settledAt = from.Long();
        _provisionalAt = from.Long();
        _mayHaveChanged = from.Byte();
        _standing = (LoadStanding)from.Byte();
    }

    private static bool Moved(double before, Estimated? now) =>
        now is not { } figure ? !double.IsNaN(before)
        : double.IsNaN(before) || Math.Abs(figure.Mean - before) > Math.Max(LeastKilograms, Deviations * figure.Sd);

    private static Estimated? FigureOf(LaneView view, int index) =>
        index < view.Axles.Length ? view.Axles[index].Load?.Load : view.Gross?.Load;
}

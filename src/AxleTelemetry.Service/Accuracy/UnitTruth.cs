using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Simulator.Days;

namespace AxleTelemetry.Service.Accuracy;

/// <summary>What was true of one combination over its days.</summary>
internal sealed class UnitTruth
{
    private readonly List<TrueMoment> _moments = [];
    private readonly List<TruthRecord.Leg> _legs = [];

    /// <summary>The legs, in the order driven.</summary>
    public IReadOnlyList<TruthRecord.Leg> Legs => _legs;

    public void Add(TruthRecord record)
    {
        switch (record)
        {
            case TruthRecord.Now now:
                _moments.Add(TrueMoment.Of(now));
                break;
            case TruthRecord.Leg leg:
                _legs.Add(leg);
                break;
            default:
                throw new InvalidOperationException("A truth that nobody handles.");
        }
    }

    /// <summary>The truth that held at a moment; <c>null</c> before the first.</summary>
    public TrueMoment? At(Moment at) => IndexAt(at) is var i and >= 0 ? _moments[i] : null;

    /// <summary>Truths that held in an interval, the one at its beginning included.</summary>
    public IEnumerable<TrueMoment> Between(Moment from, Moment to)
    {
        for (var i = Math.Max(IndexAt(from), 0); i < _moments.Count && _moments[i].At <= to; i++) yield return _moments[i];
    }

    /// <summary>The last truth of an interval while the wheels turned; <c>null</c> where they did not.</summary>
    public TrueMoment? LastRolling(Moment from, Moment to)
    {
        for (var i = IndexAt(to); i >= 0 && _moments[i].At >= from; i--)
            if (_moments[i].Rolling)
                return _moments[i];
        return null;
    }

    private int IndexAt(Moment at)
    {
        int low = 0, high = _moments.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (_moments[middle].At <= at) low = middle + 1;
            else high = middle;
        }

        return low - 1;
    }
}

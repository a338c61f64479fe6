namespace AxleTelemetry.Domain.FittedTyres;

/// <summary>
/// Goes through events day by day and keeps where every tyre is. Whether two are at one place is asked at the end of a day only: tyres that
/// change places pass through each other.
/// </summary>
internal sealed class TyreRound
{
    private readonly Dictionary<string, (TyrePlace At, DateOnly From, int Event)> _fitted = [];
    private readonly List<TyreStay> _over = [];

    public Dictionary<string, List<DateOnly>> Retreads { get; } = [];

    public List<TyreProblem> Problems { get; } = [];

    /// <summary>Stays that are over, and those that last.</summary>
    public IEnumerable<TyreStay> Stays => _over.Concat(_fitted.Select(f => new TyreStay(f.Key, f.Value.At, f.Value.From, null)));

    /// <summary>Takes the events of one day; days come in order.</summary>
    public void Take(IEnumerable<(TyreEvent Event, int Index)> day)
    {
        var on = default(DateOnly);
        foreach (var (done, index) in day)
        {
            Retreads.TryAdd(done.Tyre, []);
            if (Take(done, index) is { } reason) Problems.Add(new TyreProblem(index, reason));
            on = done.On;
        }

        foreach (var taken in _fitted.GroupBy(f => f.Value.At).Where(g => g.Count() > 1 && g.Any(f => f.Value.From == on)))
            Problems.Add(new TyreProblem(taken.Max(f => f.Value.Event),
                FormattableString.Invariant($"At the end of {on:yyyy-MM-dd} {string.Join(" and ", taken.Select(f => $"'{f.Key}'").Order(StringComparer.Ordinal))} are both at {taken.Key}.")));
    }

    private string? Take(TyreEvent done, int index)
    {
        var isFitted = _fitted.TryGetValue(done.Tyre, out var stay);
        switch (done)
        {
            case TyreEvent.Fitted when isFitted: return $"'{done.Tyre}' is at {stay.At} already: it has to be removed first, or this is a rotation.";
            case TyreEvent.Fitted fitted: _fitted[done.Tyre] = (fitted.At, done.On, index); return null;
            case TyreEvent.Rotated or TyreEvent.Removed when !isFitted: return $"'{done.Tyre}' is on no vehicle that day.";
            case TyreEvent.Rotated rotated:
                Close(done, stay);
                _fitted[done.Tyre] = (rotated.To, done.On, index);
                return null;
            case TyreEvent.Removed:
                Close(done, stay);
                _fitted.Remove(done.Tyre);
                return null;
            case TyreEvent.Retreaded when isFitted: return $"'{done.Tyre}' is at {stay.At} that day: a tyre is retreaded off the vehicle.";
            case TyreEvent.Retreaded: Retreads[done.Tyre].Add(done.On); return null;
            default: throw new ArgumentOutOfRangeException(nameof(done), done, "Unknown event.");
        }
    }

    // Who came and went on one day was not there at the end of any.
    private void Close(TyreEvent done, (TyrePlace At, DateOnly From, int Event) stay)
    {
        if (done.On > stay.From) _over.Add(new TyreStay(done.Tyre, stay.At, stay.From, done.On));
    }
}

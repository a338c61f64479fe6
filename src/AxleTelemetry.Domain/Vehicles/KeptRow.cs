using System.Collections.Immutable;

namespace AxleTelemetry.Domain.Vehicles;

/// <summary>
/// What was derived of a vehicle, kept so that it need not be derived again: a few things, each looked at in turn. Whether something is kept changes no result.
/// For any thread: who looks sees a whole row, and of two who add the same thing at once both get the one that stays.
/// </summary>
internal sealed class KeptRow<T>
    where T : class
{
    private readonly int _most;
    private ImmutableArray<T> _kept = [];

    /// <summary>Makes an empty row.</summary>
    /// <param name="most">So many are kept; one more, and all others are let go.</param>
    public KeptRow(int most) => _most = most;

    /// <summary>What is kept.</summary>
    public ReadOnlySpan<T> All => _kept.AsSpan();

    /// <summary>Keeps one more, or finds the same that another kept meanwhile.</summary>
    public T Keep(T item, Func<T, T, bool> isSame)
    {
        ImmutableInterlocked.Update(ref _kept, static (kept, added) => kept.Any(k => added.IsSame(k, added.Item)) ? kept : kept.Length < added.Most ? kept.Add(added.Item) : [added.Item], (Item: item, IsSame: isSame, Most: _most));
        foreach (var kept in All)
            if (isSame(kept, item))
                return kept;
        return item;
    }
}

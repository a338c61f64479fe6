using System.Collections.Immutable;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Storage.Reading;

/// <summary>Keeps the first so many of what it is given, in an order: sealed blocks and hot rows come as they lie.</summary>
internal sealed class BoundedPage(int limit, IComparer<LoggedInput> order)
{
    private readonly SortedSet<LoggedInput> kept = new(order);

    public bool IsFull => kept.Count >= limit;

    /// <summary>The last that is kept.</summary>
    public LoggedInput Last => kept.Max!;

    public void Add(LoggedInput input)
    {
        kept.Add(input);
        if (kept.Count > limit) kept.Remove(kept.Max!);
    }

    public ImmutableArray<LoggedInput> ToPage() => [.. kept];
}

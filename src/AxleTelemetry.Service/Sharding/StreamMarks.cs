using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// How far each stream of a vehicle has come, and for which of them it is worth waiting: one that came twice within a minute
/// comes again soon. One that kept the others waiting in vain is not waited for until it is regular again.
/// </summary>
internal sealed class StreamMarks
{
    private const long Regular = 60_000;

    private readonly Mark[] _marks = new Mark[(int)UpStream.Frame + 1];

    /// <summary>Latest moment of all streams; <c>null</c> before the first.</summary>
    public long? Newest { get; private set; }

    /// <summary>Up to where nothing is missing of the streams that are waited for; <c>null</c> where none is.</summary>
    public long? Complete
    {
        get
        {
            long? least = null;
            foreach (ref var mark in _marks.AsSpan())
                if (mark.IsAwaited && (least is null || mark.Newest < least))
                    least = mark.Newest;
            return least;
        }
    }

    /// <summary>A message of a stream came.</summary>
    /// <param name="stream">One that carries readings.</param>
    /// <param name="newest">Latest moment in it, Unix milliseconds.</param>
    public void Heard(UpStream stream, long newest)
    {
        if (Newest is not { } latest || newest > latest) Newest = newest;
        ref var mark = ref _marks[(int)stream];
        if (mark.WasHeard && newest <= mark.Newest) return;
        mark.IsAwaited = mark.WasHeard && newest - mark.Newest <= Regular;
        mark.WasHeard = true;
        mark.Newest = newest;
    }

    /// <summary>Readings up to a moment had come before the shard was opened; by which streams is not known.</summary>
    public void Restore(long newest) => Newest = newest;

    /// <summary>What has not come this far is not waited for.</summary>
    public void GiveUpBefore(long moment)
    {
        foreach (ref var mark in _marks.AsSpan())
            if (mark.Newest < moment)
                mark.IsAwaited = false;
    }

    private record struct Mark(long Newest, bool WasHeard, bool IsAwaited);
}

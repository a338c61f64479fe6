using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Delivering;

namespace AxleTelemetry.Service.Delivering;

/// <summary>
/// How fast a person is told. In any hour he gets at most so many messages; what comes beyond it is gathered and told as one when there is room again, that
/// one counted as well. Urgent messages have as much room again, and are gathered only beyond that: with the usual six an hour this is the twelve that
/// ISA-18.2 / IEC 62682 call the most that one person can manage. Pure.
/// </summary>
/// <param name="Most">Messages in an hour; <c>null</c> for no limit.</param>
internal readonly record struct Pace(int? Most)
{
    private const long Hour = 3_600_000;

    /// <summary>From when on what was delivered counts.</summary>
    public static Moment Since(Moment now) => new(now.UnixMilliseconds - Hour);

    /// <summary>What to do next.</summary>
    /// <param name="due">Messages that are due, urgent ones first, then as they came.</param>
    /// <param name="delivered">Those delivered in the last hour, oldest first.</param>
    public PaceStep Next(ImmutableArray<Parcel> due, ImmutableArray<(Moment At, bool IsUrgent)> delivered)
    {
        if (due.IsEmpty) return new PaceStep.Nothing();
        if (Most is not { } most) return new PaceStep.Send(due[0]);
        var all = Room([.. delivered.Select(d => d.At)], 2 * most);
        var isUrgent = due[0].IsUrgent;
        var room = isUrgent ? all : Lesser(all, Room([.. delivered.Where(d => !d.IsUrgent).Select(d => d.At)], most));
        if (room.Free <= 0) return new PaceStep.Wait(room.Until);
        ImmutableArray<Parcel> like = [.. due.Where(p => p.IsUrgent == isUrgent)];
        // A digest that could not be sent goes before others are gathered again: what it holds is older.
        if (like.FirstOrDefault(p => p.Kind == ParcelKind.Digest) is { } digest) return new PaceStep.Send(digest);
        return like.Length <= room.Free ? new PaceStep.Send(like[0]) : new PaceStep.Gather(like);
    }

    private static (int Free, Moment Until) Lesser((int Free, Moment Until) one, (int Free, Moment Until) other) =>
        (Math.Min(one.Free, other.Free), one.Until > other.Until ? one.Until : other.Until);

    private static (int Free, Moment Until) Room(ImmutableArray<Moment> delivered, int most) =>
        delivered.Length < most ? (most - delivered.Length, default) : (0, new Moment(delivered[^most].UnixMilliseconds + Hour));
}

/// <summary>What to do next for a recipient.</summary>
internal abstract record PaceStep
{
    private PaceStep() { }

    /// <summary>Nothing is due.</summary>
    public sealed record Nothing : PaceStep;

    /// <summary>Send one.</summary>
    public sealed record Send(Parcel Parcel) : PaceStep;

    /// <summary>Make these one.</summary>
    public sealed record Gather(ImmutableArray<Parcel> Parts) : PaceStep;

    /// <summary>There is no room before then.</summary>
    public sealed record Wait(Moment Until) : PaceStep;
}

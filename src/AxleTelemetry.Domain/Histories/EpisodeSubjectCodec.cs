using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Domain.Histories;

/// <summary>What belongs to an episode's kind of finding, as bytes and back.</summary>
internal static class EpisodeSubjectCodec
{
    public static void Write(EpisodeSubject subject, ByteWriter to)
    {
        switch (subject)
        {
            case EpisodeSubject.Plain:
                to.Byte(0);
                break;
            case EpisodeSubject.Limit limit:
                to.Byte(1);
                Write(limit, to);
                break;
            case EpisodeSubject.Idle idle:
                to.Byte(2);
                to.Int(idle.Raised.Length);
                foreach (var axle in idle.Raised) to.Int(axle);
                to.Double(idle.TyreNewtons);
                to.Double(idle.HubNewtons);
                break;
            case EpisodeSubject.DidNotAct why:
                to.Byte(3);
                to.Double(why.Mechanism);
                to.Double(why.Calibration);
                to.Double(why.LiftState);
                break;
            case EpisodeSubject.Measured measured:
                to.Byte(4);
                to.Double(measured.Value);
                to.Text(measured.Unit);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(subject), subject, "Unknown subject of an episode.");
        }
    }

    /// <summary>Unknown bytes read as a plain subject: the reader has failed by then, or the row's version is another.</summary>
    public static EpisodeSubject Read(ref ByteReader from) => from.Byte() switch
    {
        1 => ReadLimit(ref from),
        2 => new EpisodeSubject.Idle(ReadAxles(ref from), from.Double(), from.Double()),
        3 => new EpisodeSubject.DidNotAct(from.Double(), from.Double(), from.Double()),
        4 => new EpisodeSubject.Measured(from.Double(), from.Text()),
        _ => new EpisodeSubject.Plain(),
    };

    private static void Write(EpisodeSubject.Limit limit, ByteWriter to)
    {
        to.Double(limit.Value);
        to.Double(limit.Scale);
        to.Byte((byte)limit.Standing);
        to.Text(limit.Source.Title);
        to.Text(limit.Source.Clause);
        to.Int(limit.Source.AsOf.DayNumber);
        to.Byte((byte)limit.Source.Status);
        to.Text(limit.Note);
        HistoryRowCodec.Write(limit.Load, to);
        HistoryRowCodec.Write(limit.Opening, to);
        HistoryRowCodec.Write(limit.Peak, to);
        to.Long(limit.PeakAt.UnixMilliseconds);
    }

    private static EpisodeSubject.Limit ReadLimit(ref ByteReader from) => new()
    {
        Value = from.Double(),
        Scale = from.Double(),
        Standing = (MarginStanding)from.Byte(),
        Source = new LimitSource(from.Text(), from.Text(), DateOnly.FromDayNumber(Math.Clamp(from.Int(), 0, DateOnly.MaxValue.DayNumber)), (LimitStatus)from.Byte()),
        Note = from.Text(),
        Load = HistoryRowCodec.Estimated(ref from),
        Opening = HistoryRowCodec.Estimated(ref from),
        Peak = HistoryRowCodec.Estimated(ref from),
        PeakAt = new Moment(from.Long()),
    };

    private static ImmutableArray<int> ReadAxles(ref ByteReader from)
    {
        var axles = ImmutableArray.CreateBuilder<int>();
        for (var count = from.Count(); count > 0; count--) axles.Add(from.Int());
        return axles.ToImmutable();
    }
}

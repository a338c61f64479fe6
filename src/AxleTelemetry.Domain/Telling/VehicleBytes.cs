using System.Buffers;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>What the book holds of one vehicle, as bytes.</summary>
internal static class VehicleBytes
{
    public static void Put(ArrayBufferWriter<byte> to, VehicleAlerts vehicle)
    {
        Bytes.PutAll(to, vehicle.Alerts, Put);
        Bytes.PutAll(to, vehicle.Waiting, static (t, w) =>
        {
            Put(t, w.Episode);
            Put(t, w.Lead);
            Bytes.Put(t, w.Held);
            Put(t, w.Source);
        });
        Bytes.PutMaybe(to, vehicle.Hearing.HeardAt, Bytes.Put);
        Bytes.PutAll(to, vehicle.Hearing.Days, static (t, d) => { Bytes.Put(t, d.Day); Bytes.Put(t, d.Seconds); });
        Bytes.Put(to, vehicle.ForgottenBefore);
    }

    public static VehicleAlerts Take(ref ReadOnlySpan<byte> from, VehicleName name) => new()
    {
        Alerts = Bytes.All(ref from, (ref ReadOnlySpan<byte> f) => Alert(ref f, name)),
        Waiting = Bytes.All(ref from, static (ref ReadOnlySpan<byte> f) => new WaitingEpisode(Episode(ref f), Subject(ref f), Bytes.Moment(ref f), Bytes.Position(ref f))),
        Hearing = new HearingHabit(
            Bytes.Maybe(ref from, Bytes.Moment),
            Bytes.All(ref from, static (ref ReadOnlySpan<byte> f) => new DayGap(Bytes.Number(ref f), Bytes.Count(ref f)))),
        ForgottenBefore = Bytes.Moment(ref from),
    };

    private static void Put(ArrayBufferWriter<byte> to, Alert alert)
    {
        Put(to, alert.Id.Subject);
        Bytes.Put(to, alert.Id.Since);
        StateBytes.Put(to, alert.State);
        Bytes.PutAll(to, alert.Episodes, Put);
        Bytes.Put(to, alert.KnownAt);
        Bytes.Put(to, alert.WaitingSince);
        Bytes.Put(to, (byte)alert.Priority);
        Bytes.PutMaybe(to, (byte?)alert.ToldAs, Bytes.Put);
        Bytes.Put(to, alert.Changes);
        Bytes.Put(to, alert.Count);
        Bytes.Put(to, alert.Escalated);
        Put(to, alert.Source);
        Bytes.PutMaybe(to, alert.Figures, static (t, f) => { Bytes.Put(t, f.Excess); Bytes.Put(t, f.Sd); Bytes.Put(t, f.Scale); });
        Bytes.PutAll(to, alert.Contacts, Put);
        Bytes.PutAll(to, alert.Notes, static (t, n) => { StateBytes.Put(t, n.By); Bytes.Put(t, n.Text); });
    }

    private static Alert Alert(ref ReadOnlySpan<byte> from, VehicleName name) => new()
    {
        Id = new AlertId(name, Subject(ref from), Bytes.Moment(ref from)),
        State = StateBytes.Take(ref from),
        Episodes = Bytes.All(ref from, Episode),
        KnownAt = Bytes.Moment(ref from),
        WaitingSince = Bytes.Moment(ref from),
        Priority = (AlertPriority)Bytes.Small(ref from),
        ToldAs = (AlertPriority?)Bytes.Maybe(ref from, Bytes.Small),
        Changes = Bytes.Count(ref from),
        Count = Bytes.Count(ref from),
        Escalated = Bytes.Flag(ref from),
        Source = Bytes.Position(ref from),
        Figures = Bytes.Maybe(ref from, static (ref ReadOnlySpan<byte> f) => new AlertFigures(Bytes.Real(ref f), Bytes.Real(ref f), Bytes.Real(ref f))),
        Contacts = Bytes.All(ref from, Contact),
        Notes = Bytes.All(ref from, static (ref ReadOnlySpan<byte> f) => new Note(StateBytes.Act(ref f), Bytes.Text(ref f))),
    };

    private static void Put(ArrayBufferWriter<byte> to, Contact contact)
    {
        Bytes.Put(to, contact is Telling.Contact.GivenUp);
        Bytes.Put(to, contact.Who);
        Bytes.Put(to, contact.Channel);
        Bytes.Put(to, contact.At);
        if (contact is Telling.Contact.GivenUp givenUp) Bytes.Put(to, givenUp.Why);
    }

    private static Contact Contact(ref ReadOnlySpan<byte> from)
    {
        var isGivenUp = Bytes.Flag(ref from);
        var (who, channel, at) = (Bytes.Text(ref from), Bytes.Text(ref from), Bytes.Moment(ref from));
        return isGivenUp ? new Contact.GivenUp(who, channel, at, Bytes.Text(ref from)) : new Contact.Reached(who, channel, at);
    }

    private static void Put(ArrayBufferWriter<byte> to, ToldEpisode episode)
    {
        Put(to, episode.Subject);
        Bytes.Put(to, episode.Since);
        Bytes.Put(to, (byte)episode.Level);
        Bytes.Put(to, (byte)episode.Highest);
        Bytes.Put(to, (byte)episode.Standing);
        Bytes.PutMaybe(to, episode.Ended, Bytes.Put);
        Bytes.Put(to, episode.Stated);
        Bytes.Put(to, episode.Void);
    }

    private static ToldEpisode Episode(ref ReadOnlySpan<byte> from) => new(
        Subject(ref from), Bytes.Moment(ref from), (Level)Bytes.Small(ref from), (Level)Bytes.Small(ref from),
        (MarginStanding)Bytes.Small(ref from), Bytes.Maybe(ref from, Bytes.Moment))
    {
        Stated = Bytes.Flag(ref from),
        Void = Bytes.Flag(ref from),
    };

    private static void Put(ArrayBufferWriter<byte> to, AlertSubject subject) => Bytes.PutMaybe(to, subject.Finding, static (t, key) =>
    {
        Bytes.Put(t, (long)key.Kind);
        Bytes.Put(t, (long)key.Margin.Kind);
        Bytes.Put(t, key.Margin.Body);
        Bytes.Put(t, key.Margin.Element);
        Bytes.Put(t, key.Element);
    });

    private static AlertSubject Subject(ref ReadOnlySpan<byte> from) => new(Bytes.Maybe(ref from, static (ref ReadOnlySpan<byte> f) => new FindingKey(
        (FindingKind)Bytes.Number(ref f),
        new MarginKey((MarginKind)Bytes.Number(ref f), Bytes.Count(ref f), Bytes.Count(ref f)),
        Bytes.Count(ref f))));

    private static void Put(ArrayBufferWriter<byte> to, LogPosition position)
    {
        Bytes.Put(to, position.Batch);
        Bytes.Put(to, position.Row);
    }
}

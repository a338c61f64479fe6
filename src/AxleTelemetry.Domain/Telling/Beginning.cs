using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>An episode becomes known: as an alert of its own, as a part of another, as the same one once more.</summary>
internal static class Beginning
{
    private const int MostEpisodes = 32;

    /// <summary>What is said of an episode that no alert carries yet.</summary>
    /// <param name="Episode">The episode.</param>
    /// <param name="Held">Event time of what was said.</param>
    /// <param name="Source">The input that said it.</param>
    /// <param name="Finding">The finding in full, where it was said by a lane.</param>
    internal sealed record News(ToldEpisode Episode, Moment Held, LogPosition Source, LaneOutput.Episode? Finding);

    public static VehicleAlerts Take(VehicleAlerts vehicle, VehicleName name, News news, AlertSubject? lead, Pen pen)
    {
        vehicle = vehicle with { Waiting = vehicle.Waiting.RemoveAll(w => w.Episode.Is(news.Episode.Subject, news.Episode.Since)) };
        if (lead is { } leading)
        {
            var carrier = vehicle.Index(a => a.Episodes.Any(e => e.Holds && e.Subject == leading));
            if (carrier < 0) return Wait(vehicle, news, leading);
            var joined = Add(vehicle.Alerts[carrier], news.Episode, pen.At);
            return vehicle.With(carrier, pen.Write(joined, new AlertCause.Joined(news.Episode.Subject), episode: news.Finding));
        }

        var again = vehicle.Index(a => TakesBack(a, news.Episode, pen.Settings) || a.Id == new AlertId(name, news.Episode.Subject, news.Episode.Since));
        return again >= 0 ? vehicle.With(again, Repeat(vehicle.Alerts[again], news, pen)) : Open(vehicle, name, news, pen);
    }

    /// <summary>The alert with one more episode, brought in line.</summary>
    public static Alert Add(Alert alert, ToldEpisode episode, Moment at)
    {
        var episodes = alert.Episodes.Add(episode);
        if (episodes.Length > MostEpisodes && episodes.FirstOrDefault(e => !e.Holds && !e.Owes) is { } old) episodes = episodes.Remove(old);
        return Settling.Settle(alert with { Episodes = episodes }, at);
    }

    /// <summary>True where an alert takes a new episode of its subject in: while it is put aside, or soon after it ended. What somebody has dealt with is done.</summary>
    private static bool TakesBack(Alert alert, ToldEpisode episode, AlertSettings settings)
    {
        if (alert.Id.Subject != episode.Subject) return false;
        if (alert.State is AlertState.Shelved or AlertState.OutOfService) return true;
        // A silence has its own measure of what is too soon; what nobody was called for must not keep the next one quiet.
        if (episode.Subject == AlertSubject.VehicleSilent || alert.State is AlertState.SuppressedByDesign) return false;
        if (!alert.Notes.IsEmpty || alert.State is AlertState.Normal { As: not ClosedAs.Returned }) return false;
        var last = alert.Episodes.Where(e => e.Subject == episode.Subject && !e.Void).Max(e => e.Ended);
        return alert.Ended is not null && last is { } ended && episode.Since >= ended && episode.Since.SecondsSince(ended) <= settings.ChatterWindow.TotalSeconds;
    }

    private static Alert Repeat(Alert alert, News news, Pen pen)
    {
        var repeated = Add(alert with { Count = alert.Count + 1, Source = news.Source, Figures = Figures.Of(news.Finding) ?? alert.Figures }, news.Episode, pen.At);
        return Rising.Write(repeated, new AlertCause.Repeated(), news.Finding, pen);
    }

    private static VehicleAlerts Open(VehicleAlerts vehicle, VehicleName name, News news, Pen pen)
    {
        // A backlog may bring the end a few lines later: wait for it before anybody is called.
        var old = pen.At.SecondsSince(news.Held) > pen.Settings.LongOver.TotalSeconds;
        var alert = new Alert
        {
            Id = new AlertId(name, news.Episode.Subject, news.Episode.Since),
            State = old ? new AlertState.SuppressedByDesign(Suppression.MayBeOver, new AlertState.Unacknowledged()) : new AlertState.Unacknowledged(),
            Episodes = [news.Episode],
            KnownAt = pen.At,
            WaitingSince = pen.At,
            Source = news.Source,
            Figures = Figures.Of(news.Finding),
        };
        var followers = vehicle.Waiting.Where(w => w.Lead == news.Episode.Subject).ToArray();
        alert = Settling.Settle(alert with { Episodes = [news.Episode, .. followers.Select(f => f.Episode)] }, pen.At);
        vehicle = vehicle with { Waiting = vehicle.Waiting.RemoveRange(followers) };
        return Room(vehicle.With(-1, pen.Write(alert, new AlertCause.Began(), rings: !old, news.Finding)), pen);
    }

    private static VehicleAlerts Wait(VehicleAlerts vehicle, News news, AlertSubject lead) =>
        vehicle with { Waiting = vehicle.Waiting.Add(new WaitingEpisode(news.Episode, lead, news.Held, news.Source)) };

    /// <summary>Gives up the oldest open alert where there are too many.</summary>
    public static VehicleAlerts Room(VehicleAlerts vehicle, Pen pen)
    {
        if (vehicle.Alerts.Count(a => a.State.IsOpen) <= VehicleAlerts.MostOpen) return vehicle;
        var oldest = vehicle.Alerts.First(a => a.State.IsOpen);
        var closed = oldest with { State = new AlertState.Normal(ClosedAs.GivenUp, pen.At) };
        return vehicle.With(vehicle.IndexOf(oldest.Id), pen.Write(closed, new AlertCause.GivenUp()));
    }
}

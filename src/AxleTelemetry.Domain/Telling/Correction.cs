using System.Collections.Immutable;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Telling;

/// <summary>
/// Brings the alerts of a vehicle in line with a corrected history. An episode that has its match among those told keeps its
/// alert, also when its times moved; one without is marked corrected; a new one that is long over is listed and does not ring.
/// </summary>
internal static class Correction
{
    public static VehicleAlerts Take(VehicleAlerts vehicle, TellingInput.Corrected corrected, Pen pen)
    {
        vehicle = vehicle with { Waiting = [] };
        var homes = Homes(vehicle, corrected);
        for (var i = 0; i < vehicle.Alerts.Length; i++)
        {
            var before = vehicle.Alerts[i];
            var episodes = Rewritten(before, corrected, [.. homes.Where(h => h.Alert == i)], pen);
            if (episodes.SequenceEqual(before.Episodes)) continue;
            vehicle = vehicle.With(i, Restate(before, before with { Episodes = episodes }, corrected, pen));
        }

        var homeless = homes.Where(h => h.Alert < 0).OrderBy(h => h.Told.ToldWith is null ? 0 : 1).ThenBy(h => h.Told.Since);
        return homeless.Aggregate(vehicle, (v, h) => Appear(v, corrected, h.Told, pen));
    }

    /// <summary>Where an episode in force belongs: an alert, and the episode in it whose place it takes; -1 for none.</summary>
    private readonly record struct Home(EpisodeInForce Told, int Alert, int Episode);

    private static ImmutableArray<Home> Homes(VehicleAlerts vehicle, TellingInput.Corrected corrected)
    {
        var homes = ImmutableArray.CreateBuilder<Home>();
        var exact = corrected.InForce.Where(n => vehicle.IndexOf(n.Told.Subject, n.Since) >= 0).ToHashSet();
        foreach (var told in corrected.InForce.Where(exact.Contains))
        {
            var alert = vehicle.IndexOf(told.Told.Subject, told.Since);
            homes.Add(new Home(told, alert, vehicle.Alerts[alert].IndexOf(told.Told.Subject, told.Since)));
        }

        foreach (var told in corrected.InForce.Where(n => !exact.Contains(n)).OrderBy(n => n.Since).ThenBy(n => n.Told.Subject))
        {
            var alert = vehicle.Index(a => a.Episodes.Any(e => e.Overlaps(told.Told)));
            var episode = alert < 0 ? -1 : vehicle.Alerts[alert].Episodes.IndexOf(vehicle.Alerts[alert].Episodes.First(e => e.Overlaps(told.Told)));
            // The place may be taken by an exact match or by an earlier part: then it stands beside it.
            homes.Add(new Home(told, alert, homes.Any(h => h.Alert == alert && h.Episode == episode) ? -1 : episode));
        }

        return homes.ToImmutable();
    }

    private static ImmutableArray<ToldEpisode> Rewritten(Alert alert, TellingInput.Corrected corrected, ImmutableArray<Home> homes, Pen pen)
    {
        var episodes = alert.Episodes.ToBuilder();
        for (var i = 0; i < episodes.Count; i++)
        {
            var old = episodes[i];
            var home = homes.Where(h => h.Episode == i).Select(h => (Home?)h).FirstOrDefault();
            var touched = old.Subject.Finding is not null && (old.Ended is not { } ended || ended >= corrected.From);
            if (home is { } found) episodes[i] = found.Told.Told with { Stated = old.Stated && found.Told.Highest <= old.Highest };
            else if (touched && !old.Void) episodes[i] = old with { Void = true, Ended = old.Ended ?? pen.At };
        }

        episodes.AddRange(homes.Where(h => h.Episode < 0).Select(h => h.Told.Told with { Stated = alert.Episodes.All(e => e.Stated) }));
        return episodes.ToImmutable();
    }

    private static Alert Restate(Alert before, Alert after, TellingInput.Corrected corrected, Pen pen)
    {
        var said = after.Episodes.LastOrDefault(e => !e.Void && e.Subject == after.Id.Subject) is { } lead ? corrected.FindingOf(lead) : null;
        after = after with { Source = pen.Position, Figures = Figures.Of(said) ?? after.Figures };
        var settled = Settling.Settle(after, pen.At);
        if (settled.Episodes.All(e => e.Void))
            return pen.Write(settled with { State = settled.State.Behind() }, new AlertCause.Corrected());
        if (!settled.Holds && before.State is AlertState.SuppressedByDesign { Why: Suppression.MayBeOver })
            return pen.Write(Course.OverBeforeKnown(settled, pen.At), new AlertCause.ListedLate(), episode: said);
        // What nobody was called for because it was thought to be over, and is not: now somebody is.
        if (settled.Holds && NobodyWasCalled(before.State))
            return pen.Write(settled with { State = new AlertState.Unacknowledged() }, new AlertCause.HoldsStill(), rings: true, said);
        return Rising.Write(settled, new AlertCause.Restated(), settled.Holds ? said : null, pen);
    }

    private static VehicleAlerts Appear(VehicleAlerts vehicle, TellingInput.Corrected corrected, EpisodeInForce told, Pen pen)
    {
        var (name, episode) = (corrected.Vehicle, told.Told);
        var said = corrected.FindingOf(episode);
        var worth = AlertPolicy.PriorityOf(episode.Subject, episode.Standing, episode.Ended is null ? episode.Level : episode.Highest);
        if (worth is null || episode.Ended < vehicle.ForgottenBefore) return vehicle;
        var lead = told.ToldWith is { } key ? vehicle.Index(a => a.Episodes.Any(e => !e.Void && e.Subject == new AlertSubject(key) && Touch(e, episode))) : -1;
        if (lead >= 0)
            return vehicle.With(lead, pen.Write(Beginning.Add(vehicle.Alerts[lead], episode, pen.At), new AlertCause.Joined(episode.Subject), episode: said));
        // It holds now, and nobody was told yet.
        if (episode.Ended is not { } ended)
            return Beginning.Take(vehicle, name, new Beginning.News(episode, pen.At, pen.Position, said), null, pen);
        return ListOver(vehicle, name, new Beginning.News(episode, pen.At, pen.Position, said), pen.At.SecondsSince(ended) > pen.Settings.LongOver.TotalSeconds, pen);
    }

    private static VehicleAlerts ListOver(VehicleAlerts vehicle, VehicleName name, Beginning.News news, bool longOver, Pen pen)
    {
        var episode = news.Episode;
        var id = new AlertId(name, episode.Subject, episode.Since);
        if (vehicle.IndexOf(id) is var known and >= 0)
            return vehicle.With(known, pen.Write(Beginning.Add(vehicle.Alerts[known], episode, pen.At), new AlertCause.Restated()));
        var alert = new Alert
        {
            Id = id,
            State = new AlertState.ReturnedUnacknowledged(pen.At),
            Episodes = [episode],
            KnownAt = pen.At,
            WaitingSince = pen.At,
            Source = pen.Position,
            Figures = Figures.Of(news.Finding),
            Priority = AlertPolicy.PriorityOf(episode.Subject, episode.Standing, episode.Highest) ?? AlertPriority.Low,
        };
        if (longOver) alert = Course.OverBeforeKnown(alert, pen.At);
        return Beginning.Room(vehicle.With(-1, pen.Write(alert, new AlertCause.ListedLate(), rings: !longOver, news.Finding)), pen);
    }

    private static bool NobodyWasCalled(AlertState state) =>
        state is AlertState.SuppressedByDesign { Why: Suppression.OverBeforeKnown } or AlertState.Normal { As: ClosedAs.OverBeforeKnown };

    private static bool Touch(ToldEpisode a, ToldEpisode b) => a.Overlaps(b with { Subject = a.Subject });
}

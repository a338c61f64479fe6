using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Sighting;

/// <summary>The register for its page.</summary>
internal sealed class RegisterSight(Desks desks, CombinationShelf shelf) : IRegisterSight
{
    public Task<EpisodesFound> ReadAsync(EpisodeQuery query, CancellationToken cancel) => new EpisodeLines(desks, shelf).ReadAsync(query, cancel);

    public async Task<ImmutableArray<ToldLine>> ToldAsync(EpisodeLine episode, CancellationToken cancel)
    {
        if (desks.Find(episode.Vehicle.Fleet) is not { } desk) return [];
        var subject = new AlertSubject(episode.Finding);
        var book = await desk.AskAsync(s => s.Alerts, cancel);
        // An episode may have been told with a graver one; its own identity is tried where the book does not remember it any more.
        var id = book.Vehicles.GetValueOrDefault(episode.Vehicle)?.Alerts.FirstOrDefault(a => a.Episodes.Any(e => e.Is(subject, episode.Since)))?.Id
            ?? new AlertId(episode.Vehicle, subject, episode.Since);
        var changes = await Task.Run(() => ToldChanges.Of(desk, episode.Vehicle, id.ToString()), cancel);
        return [.. changes.Select(c => new ToldLine(c.At, c.Cause is "began" or "rose" or "fell" or "repeated" or "holds_still" ? $"{c.Happened} {c.Sentence}" : c.Happened))];
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Sighting;

/// <summary>The register for its page.</summary>
internal sealed class RegisterSight(Desks desks, CombinationShelf shelf) : IRegisterSight
{
    public Task<EpisodesFound> ReadAsync(EpisodeQuery query, CancellationToken cancel) => new EpisodeLines(desks, shelf).ReadAsync(query, cancel);

    public async Task<EpisodeLine[]> WithContactsAsync(EpisodeLine[] lines, CancellationToken cancel)
    {
        var books = new Dictionary<ShardDesk, AlertBook>();
        foreach (var desk in lines.Select(l => desks.Find(l.Vehicle.Fleet)).OfType<ShardDesk>().Distinct()) books[desk] = await BookAsync(desk, cancel);
        // Several episodes are told in one alert: what its journal says is read once.
        var told = new Dictionary<string, string>();
        return await Task.Run(() => lines.Select(line =>
        {
            cancel.ThrowIfCancellationRequested();
            if (desks.Find(line.Vehicle.Fleet) is not { } desk) return line;
            var id = IdOf(books[desk], line);
            if (!told.TryGetValue(id, out var contacts)) told[id] = contacts = string.Join("; ", ToldChanges.Of(desk, line.Vehicle, id).Select(c => c.Contact).OfType<ContactDocument>().Select(Told));
            return line with { Contacts = contacts };
        }).ToArray(), cancel);
    }

    public async Task<ImmutableArray<ToldLine>> ToldAsync(EpisodeLine episode, CancellationToken cancel)
    {
        if (desks.Find(episode.Vehicle.Fleet) is not { } desk) return [];
        var book = await BookAsync(desk, cancel);
        var changes = await Task.Run(() => ToldChanges.Of(desk, episode.Vehicle, IdOf(book, episode)), cancel);
        return [.. changes.Select(c => new ToldLine(c.At, c.Cause is "began" or "rose" or "fell" or "repeated" or "holds_still" ? $"{c.Happened} {c.Sentence}" : c.Happened))];
    }

    private static string Told(ContactDocument contact) => contact.Why is { } why ? $"not {contact.Who} by {contact.Channel}, {contact.At}: {why}" : $"{contact.Who} by {contact.Channel}, {contact.At}";

    private static async Task<AlertBook> BookAsync(ShardDesk desk, CancellationToken cancel)
    {
        try
        {
            return await desk.AskAsync(s => s.Alerts, cancel);
        }
        catch (ShardNotRunningException)
        {
            // An alert's own identity stands in the journal too; only what was told with a graver one is not found.
            return AlertBook.Empty;
        }
    }

    private static string IdOf(AlertBook book, EpisodeLine episode)
    {
        var subject = new AlertSubject(episode.Finding);
        // An episode may have been told with a graver one; its own identity is tried where the book does not remember it any more.
        var id = book.Vehicles.GetValueOrDefault(episode.Vehicle)?.Alerts.FirstOrDefault(a => a.Episodes.Any(e => e.Is(subject, episode.Since)))?.Id
            ?? new AlertId(episode.Vehicle, subject, episode.Since);
        return id.ToString();
    }
}

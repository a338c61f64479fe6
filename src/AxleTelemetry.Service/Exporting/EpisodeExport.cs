using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Register;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using RowKind = AxleTelemetry.Storage.Rows.RowKind;

namespace AxleTelemetry.Service.Exporting;

/// <summary>Reads the register of a journal from beginning to end, page by page, so that years of it need no memory.</summary>
internal sealed class EpisodeExport(JournalReader reader)
{
    private const int Page = 500;

    private readonly ImmutableArray<FleetConfiguration?> _log = Configurations(reader);

    /// <summary>Episodes that meet a span, oldest first.</summary>
    public IEnumerable<EpisodeDocument> Episodes(SampleSpan span, string? fleet, VehicleName? vehicle)
    {
        var query = new AcrossQuery(new RowKind((int)Domain.Histories.RowKind.Episode), span)
        {
            Fleet = fleet, Vehicle = vehicle is { } one ? Codes.Of(one) : null, NewestFirst = false, Limit = Page,
        };
        for (var page = reader.HistoryAcross(query); !page.IsEmpty; page = reader.HistoryAcross(query))
        {
            foreach (var kept in page)
                if (Read(kept.Row.Bytes.AsSpan()) is { } episode)
                    yield return EpisodeDocument.Of(episode, CombinationShelf.Make(episode.Members, _log));
            query = query with { After = AcrossPlace.Of(page[^1]) };
        }
    }

    private static Domain.Histories.HistoryRow.Episode? Read(ReadOnlySpan<byte> bytes)
    {
        var from = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref from) as Domain.Histories.HistoryRow.Episode;
    }

    /// <summary>The configurations of a journal. One that this release cannot read keeps its place, as <c>null</c>: versions are counted by it.</summary>
    public static ImmutableArray<FleetConfiguration?> Configurations(JournalReader reader)
    {
        var query = new InputQuery(VehicleKey.Shard, new SampleSpan(new Moment(long.MinValue), new Moment(long.MaxValue))) { Kind = Codes.ConfigurationInput };
        var found = new List<LoggedInput>();
        for (var page = reader.Inputs(query); !page.IsEmpty; page = reader.Inputs(query))
        {
            found.AddRange(page);
            query = query with { After = InputPlace.Of(page[^1]) };
        }

        return [.. found.OrderBy(i => i.Position).Select(i => (FleetConfiguration.Parse(i.Row.Bytes.AsSpan()) as ConfigurationResult.Built)?.Configuration)];
    }
}

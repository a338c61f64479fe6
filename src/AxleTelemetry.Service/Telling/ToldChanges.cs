using System.Collections.Immutable;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Telling;

/// <summary>The changes of an alert out of the journal.</summary>
internal static class ToldChanges
{
    private const int Page = 500, Most = 5_000;

    /// <summary>Oldest first; at most so many that one alert cannot cost a page its memory.</summary>
    public static ImmutableArray<AlertChangeDocument> Of(ShardDesk desk, VehicleName vehicle, string id)
    {
        var changes = ImmutableArray.CreateBuilder<AlertChangeDocument>();
        var after = Position.Start;
        while (changes.Count < Most)
        {
            var from = after;
            var rows = desk.Read(r => r.Told(Codes.Of(vehicle), id, from, Page));
            foreach (var (position, row) in rows)
            {
                after = position;
                // The journal takes what the key begins with: another alert's id may begin with this one's.
                if (row.Key == id && AlertChangeJson.Read(row.Bytes.AsSpan()) is { } change) changes.Add(change);
            }

            if (rows.Length < Page) break;
        }

        return changes.ToImmutable();
    }
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Series;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>The points of the history in force, straight from the journal.</summary>
internal static class InForce
{
    public static async Task<List<SeriesPoint>> OfAsync(ShardDesk desk)
    {
        var (points, shelf) = (new List<SeriesPoint>(), RowShelf.Of(desk));
        foreach (var vehicle in desk.Read(r => r.Vehicles()).Where(v => v != VehicleKey.Shard))
            foreach (var row in desk.Read(r => r.Touched(vehicle, new Moment(long.MinValue))))
                if (HistoryReading.Row(row.Row.Bytes.AsSpan()) is { } read && await shelf.OfAsync(read.Members, TestContext.Current.CancellationToken) is { } of)
                    points.AddRange(of.Of(read));
        return points;
    }
}

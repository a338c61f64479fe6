using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Drives;

/// <summary>Speed over a span out of the messages as they came: rows of loads hold none. So it costs as much as there are messages, and is read for no more than two days and so many of them.</summary>
/// <param name="desk">Whose journal.</param>
/// <param name="readings">Turns messages into readings; not on the thread of the shard.</param>
internal sealed class SpeedReading(ShardDesk desk, StoredReadings readings)
{
    /// <summary>The longest span that is read.</summary>
    public const double MostSeconds = 48 * 3600;

    private const int Page = 500;

    /// <summary>The most messages that are read.</summary>
    public int Most { get; init; } = 20_000;

    /// <summary>Reads a span.</summary>
    public SpeedLine Read(VehicleName vehicle, (Moment From, Moment To) span, int points)
    {
        if (span.To.SecondsSince(span.From) > MostSeconds) return new([], SpeedCover.TooLong, null);
        var reduction = new SpeedReduction(span.From, span.To, points);
        var query = new InputQuery(Codes.Of(vehicle), new SampleSpan(span.From, span.To)) { Limit = Page };
        var (found, count) = (new List<Reading>(), 0);
        while (true)
        {
            var asked = query;
            var page = desk.Read(r => r.Inputs(asked));
            foreach (var input in page) readings.Add(input, found);
            reduction.Take(found);
            found.Clear();
            if (page.Length < Page) return new(reduction.Done(), SpeedCover.Whole, null);
            if ((count += page.Length) >= Most) return new(reduction.Done(), SpeedCover.Begun, page[^1].Row.Samples.Least);
            query = query with { After = InputPlace.Of(page[^1]) };
        }
    }
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// Messages whose samples lie more than half a day apart: a clock jumped between them, or a device kept few samples for long. By its
/// span such a message would be met by every search between; so they have a code of their own, and are opened once for each vehicle.
/// </summary>
internal sealed class WideMessages(IShardStore store, StoredReadings readings)
{
    /// <summary>Milliseconds of an hour.</summary>
    public const long HourLength = 3_600_000;

    private const long Wide = 12 * HourLength;
    private const int Page = 500;

    private readonly Dictionary<VehicleName, SortedDictionary<long, List<Reading>>> _opened = [];
    private readonly Dictionary<VehicleName, List<Reading>> _uncommitted = [];

    /// <summary>Whether a span is that of a wide message.</summary>
    public static bool IsWide(Moment least, Moment greatest) => greatest.UnixMilliseconds - least.UnixMilliseconds > Wide;

    /// <summary>The hour of a moment, from 1970.</summary>
    public static long HourOf(Moment at) => at.UnixMilliseconds >= 0 ? at.UnixMilliseconds / HourLength : -1 - (-1 - at.UnixMilliseconds) / HourLength;

    /// <summary>A reading of a wide message was taken.</summary>
    public void Add(VehicleName vehicle, in Reading reading)
    {
        if (_opened.TryGetValue(vehicle, out var hours))
        {
            Put(hours, reading);
            return;
        }

        // Opened before the commit, the store would not show it yet.
        if (!_uncommitted.TryGetValue(vehicle, out var own)) _uncommitted.Add(vehicle, own = []);
        own.Add(reading);
    }

    /// <summary>The batch is committed: the store has it all.</summary>
    public void Committed() => _uncommitted.Clear();

    /// <summary>Readings of an hour, in no order.</summary>
    public IReadOnlyCollection<Reading> Of(VehicleName vehicle, long hour) => Hours(vehicle).GetValueOrDefault(hour) ?? [];

    /// <summary>The next hour that has any, from one to another; <c>null</c> for none.</summary>
    public long? NextHour(VehicleName vehicle, long from, long to)
    {
        foreach (var hour in Hours(vehicle).Keys)
            if (hour >= from)
                return hour <= to ? hour : null;
        return null;
    }

    private SortedDictionary<long, List<Reading>> Hours(VehicleName vehicle)
    {
        if (_opened.TryGetValue(vehicle, out var hours)) return hours;
        _opened.Add(vehicle, hours = []);
        var query = new InputQuery(Codes.Of(vehicle), new SampleSpan(new Moment(long.MinValue), new Moment(long.MaxValue))) { Kind = Codes.WideMessageInput, Limit = Page };
        List<Reading> all = [];
        for (var page = store.Inputs(query); !page.IsEmpty; page = store.Inputs(query))
        {
            foreach (var input in page) readings.Add(input, all);
            query = query with { After = InputPlace.Of(page[^1]) };
        }

        if (_uncommitted.TryGetValue(vehicle, out var fresh)) all.AddRange(fresh);
        foreach (var reading in all) Put(hours, reading);
        return hours;
    }

    private static void Put(SortedDictionary<long, List<Reading>> hours, in Reading reading)
    {
        if (!hours.TryGetValue(HourOf(reading.At), out var hour)) hours.Add(HourOf(reading.At), hour = []);
        hour.Add(reading);
    }
}

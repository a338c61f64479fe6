using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// Messages whose samples lie more than half a day apart: a clock jumped between them, or a device kept few samples for long. By its
/// span such a message would be met by every search between; so they have a code of their own, and are opened once for each vehicle.
/// Opened ones are kept up to a bound; those that were not asked for the longest go first, and are opened again when they are.
/// </summary>
internal sealed class WideMessages(IShardStore store, StoredReadings readings, int most = 500_000)
{
    /// <summary>Milliseconds of an hour.</summary>
    public const long HourLength = 3_600_000;

    private const long Wide = 12 * HourLength;
    private const int Page = 500;

    // A vehicle without any takes room too: that of some readings.
    private const int OfVehicle = 8;

    private readonly Dictionary<VehicleName, Opened> _opened = [];
    private readonly Dictionary<VehicleName, List<Reading>> _uncommitted = [];
    private long _held, _asked;

    /// <summary>Room that opened messages take, in readings.</summary>
    public long Held => _held;

    /// <summary>Whether a span is that of a wide message.</summary>
    public static bool IsWide(Moment least, Moment greatest) => greatest.UnixMilliseconds - least.UnixMilliseconds > Wide;

    /// <summary>The hour of a moment, from 1970.</summary>
    public static long HourOf(Moment at) => at.UnixMilliseconds >= 0 ? at.UnixMilliseconds / HourLength : -1 - (-1 - at.UnixMilliseconds) / HourLength;

    /// <summary>A reading of a wide message was taken.</summary>
    public void Add(VehicleName vehicle, in Reading reading)
    {
        if (_opened.TryGetValue(vehicle, out var opened)) Put(opened, reading);
        // Opened before the commit, for the first time or again, the store would not show it yet.
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
        if (!_opened.TryGetValue(vehicle, out var opened))
        {
            opened = Open(vehicle);
            _opened.Add(vehicle, opened);
            opened.AskedAt = ++_asked;
            MakeRoom(opened);
        }

        opened.AskedAt = ++_asked;
        return opened.Hours;
    }

    // Only after it was read whole: a read that failed must not leave a vehicle that looks as if it had none.
    private Opened Open(VehicleName vehicle)
    {
        var query = new InputQuery(Codes.Of(vehicle), new SampleSpan(new Moment(long.MinValue), new Moment(long.MaxValue))) { Kind = Codes.WideMessageInput, Limit = Page };
        List<Reading> all = [];
        for (var page = store.Inputs(query); !page.IsEmpty; page = store.Inputs(query))
        {
            foreach (var input in page) readings.Add(input, all);
            query = query with { After = InputPlace.Of(page[^1]) };
        }

        if (_uncommitted.TryGetValue(vehicle, out var fresh)) all.AddRange(fresh);
        var opened = new Opened();
        _held += OfVehicle;
        foreach (var reading in all) Put(opened, reading);
        return opened;
    }

    private void MakeRoom(Opened but)
    {
        if (_held <= most) return;
        foreach (var (vehicle, opened) in _opened.OrderBy(o => o.Value.AskedAt).ToList())
        {
            if (opened == but || _held <= most / 2) return;
            _held -= OfVehicle + opened.Hours.Values.Sum(h => h.Count);
            _opened.Remove(vehicle);
        }
    }

    private void Put(Opened opened, in Reading reading)
    {
        var hours = opened.Hours;
        _held++;
        if (!hours.TryGetValue(HourOf(reading.At), out var hour)) hours.Add(HourOf(reading.At), hour = []);
        hour.Add(reading);
    }

    /// <summary>Readings of one vehicle's wide messages by hour, and when they were last asked for.</summary>
    private sealed class Opened
    {
        public SortedDictionary<long, List<Reading>> Hours { get; } = [];

        public long AskedAt { get; set; }
    }
}

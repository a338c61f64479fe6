using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Sharding;

/// <summary>
/// The archive of a shard's history: raw messages decoded again, hour by hour of a vehicle, with those of the batch that is
/// being made. Hours that were asked for are kept, up to a bound, and follow what is added.
/// </summary>
internal sealed class RawArchive(IShardStore store, StoredReadings readings) : IHistoryArchive
{
    private const long HourLength = 3_600_000;
    private const long Short = 100 * HourLength;
    private const int MostReadings = 2_000_000, Page = 500;

    private readonly Dictionary<(VehicleName Vehicle, long Hour), HourOfReadings> _hours = [];
    private readonly Dictionary<VehicleName, List<Reading>> _uncommitted = [];
    private readonly Dictionary<VehicleName, HashSet<(ReadingKind Kind, ushort Key)>> _words = [];
    private int _held;
    private long _asked;

    /// <summary>A reading was taken; its message is committed with the batch. True for the first word of its kind.</summary>
    public bool Add(VehicleName vehicle, in Reading reading)
    {
        if (!_uncommitted.TryGetValue(vehicle, out var own)) _uncommitted.Add(vehicle, own = []);
        own.Add(reading);
        if (_hours.Count > 0 && _hours.TryGetValue((vehicle, HourOf(reading.At)), out var hour)) _held += hour.Add(reading);
        return StandingWord.Is(reading) && NoteWord(vehicle, (reading.Kind, reading.Key));
    }

    /// <summary>The batch is committed: the store has it all.</summary>
    public void Committed() => _uncommitted.Clear();

    /// <summary>Of which lifts and conditions a vehicle ever had something to say: no others need be looked for.</summary>
    public IReadOnlyCollection<(ReadingKind Kind, ushort Key)> WordsOf(VehicleName vehicle) => _words.GetValueOrDefault(vehicle) ?? [];

    /// <summary>A vehicle has something to say of a lift or the suspension. True where that was not known.</summary>
    public bool NoteWord(VehicleName vehicle, (ReadingKind Kind, ushort Key) word)
    {
        if (!_words.TryGetValue(vehicle, out var own)) _words.Add(vehicle, own = []);
        return own.Add(word);
    }

    /// <inheritdoc/>
    public IEnumerable<Reading> Between(VehicleName vehicle, Moment after, Moment to)
    {
        if (after >= to || Span(vehicle, after, to) is not { } span) yield break;
        for (var number = HourOf(span.Least); number <= HourOf(span.Greatest); number++)
        {
            // Copied, as readings may be added and hours forgotten while this is read.
            foreach (var reading in HourNumber(vehicle, number).Between(after, to)) yield return reading;
        }
    }

    /// <inheritdoc/>
    public IEnumerable<Reading> WordsAt(VehicleName vehicle, Moment at)
    {
        var words = new SortedDictionary<(ReadingKind, ushort), Reading>();
        var oldest = new Moment(at.UnixMilliseconds - (long)(1000 * StandingWord.LooksBack));
        var wanted = _words.GetValueOrDefault(vehicle)?.Count ?? 0;
        for (var number = HourOf(at); number >= HourOf(oldest) && words.Count < wanted; number--)
        {
            if (!Holds(vehicle, number)) continue;
            foreach (var word in HourNumber(vehicle, number).WordsUpTo(at, oldest))
                words.TryAdd((word.Kind, word.Key), word);
        }

        return words.Values;
    }

    /// <inheritdoc/>
    public IEnumerable<RecordedRow> TouchedFrom(VehicleName unit, Moment from)
    {
        foreach (var kept in store.Touched(Codes.Of(unit), from))
        {
            var bytes = kept.Row.Bytes.AsMemory();
            yield return new RecordedRow(KeyOf(bytes.Span), bytes);
        }
    }

    /// <inheritdoc/>
    public ReadOnlyMemory<byte> Snapshot(VehicleName unit, Moment upTo) =>
        store.Snapshot(Codes.Of(unit), upTo) ?? throw new InvalidOperationException($"The snapshot of {unit} up to {upTo} is gone.");

    private static RowKey KeyOf(ReadOnlySpan<byte> bytes)
    {
        var from = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref from)?.Key ?? throw new InvalidOperationException("A row of history cannot be read.");
    }

    private static long HourOf(Moment at) => at.UnixMilliseconds >= 0 ? at.UnixMilliseconds / HourLength : -1 - (-1 - at.UnixMilliseconds) / HourLength;

    /// <summary>The part of a span in which there is anything at all: the whole past may be asked for.</summary>
    private SampleSpan? Span(VehicleName vehicle, Moment after, Moment to)
    {
        if (after.UnixMilliseconds >= to.UnixMilliseconds - Short) return new SampleSpan(new Moment(after.UnixMilliseconds + 1), to);
        Moment? least = null;
        var first = store.Inputs(new InputQuery(Codes.Of(vehicle), new SampleSpan(after, to)) { Limit = 1 });
        if (!first.IsEmpty) least = first[0].Row.Samples.Least;
        foreach (var reading in _uncommitted.GetValueOrDefault(vehicle) ?? [])
            if (reading.At > after && (least is null || reading.At < least)) least = reading.At;
        return least is { } from ? new SampleSpan(new Moment(Math.Max(from.UnixMilliseconds, after.UnixMilliseconds + 1)), to) : null;
    }

    private bool Holds(VehicleName vehicle, long number) => _hours.ContainsKey((vehicle, number)) || _uncommitted.ContainsKey(vehicle)
        || !store.Inputs(new InputQuery(Codes.Of(vehicle), SpanOf(number)) { Limit = 1 }).IsEmpty;

    private static SampleSpan SpanOf(long number) => new(new Moment(number * HourLength), new Moment((number + 1) * HourLength - 1));

    private HourOfReadings HourNumber(VehicleName vehicle, long number)
    {
        if (!_hours.TryGetValue((vehicle, number), out var hour))
        {
            MakeRoom();
            _hours.Add((vehicle, number), hour = Load(vehicle, number));
            _held += hour.Count;
        }

        hour.AskedAt = ++_asked;
        return hour;
    }

    private HourOfReadings Load(VehicleName vehicle, long number)
    {
        List<Reading> all = [];
        var query = new InputQuery(Codes.Of(vehicle), SpanOf(number)) { Limit = Page };
        for (var page = store.Inputs(query); ; page = store.Inputs(query))
        {
            foreach (var input in page) readings.Add(input, all);
            if (page.Length < Page) break;
            query = query with { After = InputPlace.Of(page[^1]) };
        }

        all.AddRange(_uncommitted.GetValueOrDefault(vehicle) ?? []);
        all.RemoveAll(r => HourOf(r.At) != number);
        return new HourOfReadings(all);
    }

    private void MakeRoom()
    {
        if (_held < MostReadings) return;
        foreach (var (key, hour) in _hours.OrderBy(h => h.Value.AskedAt).Take(_hours.Count / 2 + 1).ToList())
        {
            _held -= hour.Count;
            _hours.Remove(key);
        }
    }
}

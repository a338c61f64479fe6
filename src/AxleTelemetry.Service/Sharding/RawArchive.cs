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
    private const long HourLength = WideMessages.HourLength;
    private const int MostReadings = 2_000_000, MostHours = 20_000, MostSpare = 512, MostSpares = 64, Page = 500, Alike = 8;

    private readonly Dictionary<(VehicleName Vehicle, long Hour), HourOfReadings> _hours = [];
    private readonly Dictionary<VehicleName, List<Reading>> _uncommitted = [];
    private readonly Stack<List<Reading>> _spare = [];
    private readonly Dictionary<VehicleName, HashSet<(ReadingKind Kind, ushort Key)>> _words = [];
    private readonly WideMessages _wide = new(store, readings);
    private int _held, _hoursChanged;
    private long _asked;

    /// <summary>Begins to add the readings of a message, which is committed with the batch: its vehicle is looked up once for all of them.</summary>
    /// <param name="vehicle">Whose.</param>
    /// <param name="isWide">Whether it is a <see cref="WideMessages.IsWide"/> one.</param>
    public Addition Adding(VehicleName vehicle, bool isWide)
    {
        if (_uncommitted.TryGetValue(vehicle, out var own)) return new Addition(this, (vehicle, isWide), own);
        if (!_spare.TryPop(out own)) own = [];
        _uncommitted.Add(vehicle, own);
        return new Addition(this, (vehicle, isWide), own);
    }

    /// <summary>True for a message that is in the log byte for byte: a broker that was cut off from us sends again what it has no answer for.</summary>
    public bool Holds(InputRow message)
    {
        var query = new InputQuery(message.Vehicle, SampleSpan.At(message.Samples.Least)) { Kind = message.Kind, Limit = Alike };
        foreach (var input in store.Inputs(query))
            if (input.Row.Stream == message.Stream && input.Row.Samples == message.Samples && input.Row.Bytes.AsSpan().SequenceEqual(message.Bytes.AsSpan()))
                return true;
        return false;
    }

    /// <summary>The batch is committed: the store has it all.</summary>
    public void Committed()
    {
        foreach (var own in _uncommitted.Values)
        {
            own.Clear();
            if (own.Capacity <= MostSpare && _spare.Count < MostSpares) _spare.Push(own);
        }

        _uncommitted.Clear();
        _wide.Committed();
    }

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
        for (var next = NextHour(vehicle, after, to); next is { } number; next = NextHour(vehicle, EndOf(number), to))
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

    private static long HourOf(Moment at) => WideMessages.HourOf(at);

    private static Moment EndOf(long number) => new((number + 1) * HourLength - 1);

    /// <summary>The next hour after a moment in which there is anything; <c>null</c> for none. A clock that was not set says 1970: what lies between is not searched hour by hour.</summary>
    private long? NextHour(VehicleName vehicle, Moment after, Moment to)
    {
        if (after >= to) return null;
        var from = new Moment(after.UnixMilliseconds + 1);
        var number = HourOf(from);
        if (number == HourOf(to) || _hours.ContainsKey((vehicle, number))) return number;
        var next = _wide.NextHour(vehicle, number, HourOf(to));
        var first = store.Inputs(new InputQuery(Codes.Of(vehicle), new SampleSpan(from, to)) { Kind = Codes.MessageInput, Limit = 1 });
        if (!first.IsEmpty) next = Sooner(next, Math.Max(number, HourOf(first[0].Row.Samples.Least)));
        foreach (var reading in _uncommitted.GetValueOrDefault(vehicle) ?? [])
            if (reading.At >= from && reading.At <= to)
                next = Sooner(next, HourOf(reading.At));
        return next;
    }

    private static long Sooner(long? known, long other) => known is { } hour && hour < other ? hour : other;

    private bool Holds(VehicleName vehicle, long number) => _hours.ContainsKey((vehicle, number)) || _uncommitted.ContainsKey(vehicle) || _wide.Of(vehicle, number).Count > 0
        || !store.Inputs(new InputQuery(Codes.Of(vehicle), SpanOf(number)) { Kind = Codes.MessageInput, Limit = 1 }).IsEmpty;

    private static SampleSpan SpanOf(long number) => new(new Moment(number * HourLength), new Moment((number + 1) * HourLength - 1));

    private HourOfReadings HourNumber(VehicleName vehicle, long number)
    {
        if (!_hours.TryGetValue((vehicle, number), out var hour))
        {
            MakeRoom();
            _hours.Add((vehicle, number), hour = Load(vehicle, number));
            _hoursChanged++;
            _held += hour.Count;
        }

        hour.AskedAt = ++_asked;
        return hour;
    }

    private HourOfReadings Load(VehicleName vehicle, long number)
    {
        List<Reading> all = [];
        var query = new InputQuery(Codes.Of(vehicle), SpanOf(number)) { Kind = Codes.MessageInput, Limit = Page };
        for (var page = store.Inputs(query); ; page = store.Inputs(query))
        {
            foreach (var input in page) readings.Add(input, all);
            if (page.Length < Page) break;
            query = query with { After = InputPlace.Of(page[^1]) };
        }

        all.AddRange(_wide.Of(vehicle, number));
        all.AddRange(_uncommitted.GetValueOrDefault(vehicle) ?? []);
        all.RemoveAll(r => HourOf(r.At) != number);
        return new HourOfReadings(all);
    }

    private void MakeRoom()
    {
        if (_held < MostReadings && _hours.Count < MostHours) return;
        _hoursChanged++;
        foreach (var (key, hour) in _hours.OrderBy(h => h.Value.AskedAt).Take(_hours.Count / 2 + 1).ToList())
        {
            _held -= hour.Count;
            _hours.Remove(key);
        }
    }

    /// <summary>Adds readings of one vehicle, of one batch.</summary>
    internal ref struct Addition(RawArchive archive, (VehicleName Vehicle, bool IsWide) message, List<Reading> uncommitted)
    {
        private HourOfReadings? _hour;
        private (long Number, int Changed)? _looked;

        /// <summary>A reading was taken. True for the first word of its kind.</summary>
        public bool Add(in Reading reading)
        {
            uncommitted.Add(reading);
            if (message.IsWide) archive._wide.Add(message.Vehicle, reading);
            if (archive._hours.Count > 0) AddToHour(reading);
            return StandingWord.Is(reading) && archive.NoteWord(message.Vehicle, (reading.Kind, reading.Key));
        }

        // Looked for where the reading before was of another hour, or hours were loaded or let go since.
        private void AddToHour(in Reading reading)
        {
            var look = (HourOf(reading.At), archive._hoursChanged);
            if (look != _looked) _hour = archive._hours.GetValueOrDefault((message.Vehicle, look.Item1));
            _looked = look;
            if (_hour is { } hour) archive._held += hour.Add(reading);
        }
    }
}

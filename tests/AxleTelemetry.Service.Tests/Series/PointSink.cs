using System.Collections.Immutable;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Series;

/// <summary>
/// A database of series as far as what is written to it goes: points of one identity are one, field by field. It is away now and then, loses an answer after it
/// has taken a part, and takes no more than so many points at once.
/// </summary>
internal sealed class PointSink(int seed)
{
    private const int Most = 700;
    private readonly Random _random = new(seed);
    private readonly Dictionary<PointIdentity, ImmutableSortedDictionary<string, FieldValue>> _points = [];

    public int Away { get; private set; }

    /// <summary>Where set, what is sent is taken at once and answered only when this ends.</summary>
    public Task Answering { get; set; } = Task.CompletedTask;

    /// <summary>How often something was sent.</summary>
    public int Sent { get; private set; }

    /// <summary>What a query sees that filters what was taken back.</summary>
    public IEnumerable<string> Standing()
    {
        lock (_points)
            return [.. _points.Where(p => p.Value[Service.Series.SeriesSchema.Void] == new FieldValue.Flag(false)).Select(p => Line(p.Key, p.Value)).Order(StringComparer.Ordinal)];
    }

    public async Task<SendOutcome> SendAsync(ImmutableArray<SeriesPoint> points, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        if (points.Length > Most) return new SendOutcome.TooLarge();
        var breaks = _random.Next(8) == 0;
        lock (_points)
            foreach (var point in breaks ? points[..(points.Length / 2)] : points)
                _points[point.Identity] = _points.GetValueOrDefault(point.Identity, ImmutableSortedDictionary<string, FieldValue>.Empty.WithComparers(StringComparer.Ordinal)).SetItems(point.Fields.Select(f => KeyValuePair.Create(f.Name, f.Value)));
        if (breaks) Away++;
        Sent++;
        await Answering.WaitAsync(cancel);
        return breaks ? new SendOutcome.Unavailable("reset", null) : new SendOutcome.Taken();
    }

    public static string Line(SeriesPoint point) => Line(point.Identity, point.Fields.ToImmutableSortedDictionary(f => f.Name, f => f.Value, StringComparer.Ordinal));

    private static string Line(PointIdentity identity, ImmutableSortedDictionary<string, FieldValue> fields) =>
        $"{identity.Measurement},{string.Join(',', identity.Tags.Select(t => $"{t.Name}={t.Value}"))} {string.Join(',', fields.Select(f => $"{f.Key}={f.Value}"))} {identity.At.UnixMilliseconds}";
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Storage;
using AxleTelemetry.Storage.Keeping;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Writing;

namespace AxleTelemetry.Service.Sharding;

/// <summary>In idle time seals what is older than an hour and lets go what nobody needs, a little at a time.</summary>
/// <param name="journal">The journal.</param>
/// <param name="bounds">How long what is kept.</param>
/// <param name="neededAgain">Vehicles whose inputs from a moment on are needed to correct what is marked, however old.</param>
internal sealed class HouseKeeping(Journal journal, Bounds bounds, Func<IEnumerable<(VehicleName Vehicle, Moment From)>> neededAgain)
{
    // An hour's inputs are sealed together once late ones have had some time to come.
    private const double SealAfter = 2 * 3600, SweepEvery = 600, Rerun = 74 * 3600;
    // A shard that is never idle still has to stay small: some thousand vehicles leave some thousand hours to seal in each.
    private const double Longest = 0.25;
    private const int DaysOfYear = 366;

    private Moment _keptAt, _sealedAt, _sweptAt, _lookedAt;
    private ImmutableDictionary<VehicleKey, ImmutableArray<SampleSpan>>? _evidence;
    private bool _seals = true, _sweeps = true;

    /// <summary>True where no step was done for so long that the next must not wait for idle time.</summary>
    public bool Waited(Moment now) => now < _keptAt || now.SecondsSince(_keptAt) >= Longest;

    /// <summary>One step, where one is due.</summary>
    public void Keep(Moment now)
    {
        _keptAt = now;
        if (_seals || now.SecondsSince(_sealedAt) >= SweepEvery)
        {
            _sealedAt = now;
            _seals = journal.Seal(now.Plus(-SealAfter)) is WriteOutcome.Committed { More: true };
            return;
        }

        if (!_sweeps && now.SecondsSince(_sweptAt) < SweepEvery) return;
        _sweptAt = now;
        _sweeps = journal.Retain(Plan(now)) is WriteOutcome.Committed { More: true };
    }

    /// <summary>The disk is full: what may go goes now.</summary>
    public void MakeRoom(Moment now) => journal.Retain(Plan(now));

    private RetentionPlan Plan(Moment now)
    {
        using var reader = journal.Reader();
        return new RetentionPlan
        {
            InputsBefore = now.Plus(-86_400.0 * bounds.RawDays),
            TellingBefore = now.Plus(-86_400.0 * DaysOfYear * bounds.RegisterYears),
            HistoryBefore = ImmutableDictionary<RowKind, Moment>.Empty
                .Add(new RowKind((int)Domain.Histories.RowKind.Load), now.Plus(-86_400.0 * DaysOfYear * bounds.RegisterYears))
                .Add(new RowKind((int)Domain.Histories.RowKind.Account), now.Plus(-86_400.0 * DaysOfYear * bounds.RegisterYears))
                .Add(new RowKind((int)Domain.Histories.RowKind.LoadBegun), now.Plus(-86_400.0 * DaysOfYear * bounds.RegisterYears))
                .Add(new RowKind((int)Domain.Histories.RowKind.Parted), now.Plus(-86_400.0 * DaysOfYear * bounds.RegisterYears))
                .Add(new RowKind((int)Domain.Histories.RowKind.Episode), now.Plus(-86_400.0 * DaysOfYear * bounds.RegisterYears)),
            Pins = new Pins { RerunFrom = now.Plus(-Rerun), SlowestCursor = reader.SlowestCursor(), Spans = Pinned(Evidence(reader, now)) },
        };
    }

    private ImmutableDictionary<VehicleKey, ImmutableArray<SampleSpan>> Pinned(ImmutableDictionary<VehicleKey, ImmutableArray<SampleSpan>> evidence)
    {
        var spans = evidence.ToBuilder();
        foreach (var (vehicle, from) in neededAgain())
            spans[Codes.Of(vehicle)] = spans.GetValueOrDefault(Codes.Of(vehicle), []).Add(new SampleSpan(from, new Moment(long.MaxValue)));
        return spans.ToImmutable();
    }

    // Read once for many steps, as it goes through every episode. Up to now, so that it holds for the steps to come as well.
    private ImmutableDictionary<VehicleKey, ImmutableArray<SampleSpan>> Evidence(JournalReader reader, Moment now)
    {
        if (_evidence is { } known && now >= _lookedAt && now.SecondsSince(_lookedAt) < SweepEvery) return known;
        _lookedAt = now;
        return _evidence = EvidenceSpans.Of(reader, now.Plus(-86_400.0 * bounds.RawDays + 2 * SweepEvery));
    }
}

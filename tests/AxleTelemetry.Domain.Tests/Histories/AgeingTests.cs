using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>A version that is the one before but for its age changes nothing that goes on; one with other lines begins anew.</summary>
public sealed class AgeingTests
{
    private static readonly VehicleName Rigid = Traffic.Name("rigid-6x2-tag");
    private static readonly VehicleDescription Described = Repository.Vehicle("rigid-6x2-tag")!;
    private static readonly List<Input.Read> Journey = [.. Traffic.Draw(5).OfType<Input.Read>().Where(i => i.Vehicle == Rigid)];

    [Fact]
    public void An_older_calibration_keeps_the_load_and_what_is_open()
    {
        var (plain, aged) = (Run(fit => fit, false), Run(fit => fit.Aged(0.5), true));
        Assert.Equal(plain.OfType<HistoryRow.LoadBegun>().Select(r => r.Key), aged.OfType<HistoryRow.LoadBegun>().Select(r => r.Key));
        Assert.DoesNotContain(Middle, aged.OfType<HistoryRow.Episode>().Select(e => e.ClosedAt));
        Assert.DoesNotContain(aged.OfType<HistoryRow.Load>(), r => r.Key.At == Middle && r.Standing == LoadStanding.None);
        // The later rows say that they rest on the older one.
        Assert.Equal(1, aged[^1].Members[0].Version);
    }

    [Fact]
    public void Another_line_measures_the_load_anew()
    {
        var (plain, other) = (Run(fit => fit, false), Run(fit => fit with { KilogramsPerKilopascal = 1.02 * fit.KilogramsPerKilopascal }, true));
        Assert.True(other.OfType<HistoryRow.LoadBegun>().Count() > plain.OfType<HistoryRow.LoadBegun>().Count()
            || other.OfType<HistoryRow.Load>().Any(r => r.Key.At >= Middle && r.Standing == LoadStanding.None));
    }

    [Fact]
    public void An_overload_open_over_the_first_of_a_month_stays_one_episode_of_the_same_load()
    {
        var journey = Overloaded();
        var before = Run(fit => fit, null, journey);
        var over = before.OfType<HistoryRow.Episode>().First(e => e.Key.Finding.Kind == FindingKind.Overload && (e.ClosedAt ?? journey[^1].Reading.At).SecondsSince(e.OpenedAt) > 300);
        var first = over.OpenedAt.Plus(120);
        var aged = Run(fit => fit.Aged(1 / 12.0), first, journey);
        Assert.Equal(over.ClosedAt, Assert.Single(aged.OfType<HistoryRow.Episode>(), e => e.Key == over.Key).ClosedAt);
        Assert.DoesNotContain(aged.OfType<HistoryRow.Episode>(), e => e.Key.Finding == over.Key.Finding && e.OpenedAt >= first && e.OpenedAt <= (over.ClosedAt ?? e.OpenedAt));
        Assert.Equal(before.OfType<HistoryRow.LoadBegun>().Select(r => r.Key), aged.OfType<HistoryRow.LoadBegun>().Select(r => r.Key));

        // A new ticket, another line; and a ticket that left the line where it was: both say so by another version.
        foreach (var ticket in (Func<CircuitFit, CircuitFit>[])[f => f with { KilogramsPerKilopascal = 1.01 * f.KilogramsPerKilopascal }, f => f with { Version = "2026-03-02/3" }])
            Assert.Equal(first, Assert.Single(Run(ticket, first, journey).OfType<HistoryRow.Episode>(), e => e.Key == over.Key).ClosedAt);
    }

    [Fact]
    public void Other_limits_are_not_only_older()
    {
        var combination = Assert.IsType<CouplingResult.Coupled>(Combination.Couple([Described])).Combination;
        LaneSetup Setup(double kilograms) => LaneSetup.FromHandbook(combination, c =>
            [.. MarginTable.For(combination, c, Repository.Limits, LimitContext.Undeclared).Select(m => m with { Limit = m.Limit + kilograms, Constant = m.Constant + kilograms })]);
        Assert.Equal(Setup(0).Catalog.Keys, Setup(100).Catalog.Keys);
        Assert.True(LaneHandover.IsOnlyOlder(Setup(0), Setup(0)));
        Assert.False(LaneHandover.IsOnlyOlder(Setup(0), Setup(100)));
    }

    private static List<Input.Read> Overloaded() => [.. Enumerable.Range(1, 40).Select(seed => Traffic.Draw((ulong)seed).OfType<Input.Read>().Where(i => i.Vehicle == Rigid).ToList())
        .First(journey => Run(fit => fit, null, journey).OfType<HistoryRow.Episode>()
            .Any(e => e.Key.Finding.Kind == FindingKind.Overload && (e.ClosedAt ?? journey[^1].Reading.At).SecondsSince(e.OpenedAt) > 300))];

    private static Moment Middle => Journey[Journey.Count / 2].Reading.At;

    private static List<HistoryRow> Run(Func<CircuitFit, CircuitFit> then, bool changes) => Run(then, changes ? Middle : null, Journey);

    private static List<HistoryRow> Run(Func<CircuitFit, CircuitFit> then, Moment? from, List<Input.Read> journey)
    {
        var combination = Assert.IsType<CouplingResult.Coupled>(Combination.Couple([Described])).Combination;
        LaneSetup Setup(ImmutableArray<LaneMember> members) => new(combination,
            [.. combination.Sensors.Select(s => members[0].Version == 0 ? s.Sensor.Handbook : then(s.Sensor.Handbook))],
            c => MarginTable.For(combination, c, Repository.Limits, LimitContext.Undeclared));
        var delivery = Delivery.Begin(Traffic.Settings with { Setup = Setup });
        if (from is { } moment) delivery.Take(new SettingsVersion(Rigid, moment, 1));
        foreach (var input in journey) delivery.Take(input);
        delivery.End();
        return [.. delivery.Archive.Rows.Select(r => Read(r.Bytes.Span)).OrderBy(r => r.Touched)];
    }

    private static HistoryRow Read(ReadOnlySpan<byte> bytes)
    {
        var from = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref from)!;
    }
}

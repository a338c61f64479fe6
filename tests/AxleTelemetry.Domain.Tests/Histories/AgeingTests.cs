using System.Collections.Immutable;
using AxleTelemetry.Domain.Calibration;
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

    private static Moment Middle => Journey[Journey.Count / 2].Reading.At;

    private static List<HistoryRow> Run(Func<CircuitFit, CircuitFit> then, bool changes)
    {
        var combination = Assert.IsType<CouplingResult.Coupled>(Combination.Couple([Described])).Combination;
        LaneSetup Setup(ImmutableArray<LaneMember> members) => new(combination,
            [.. combination.Sensors.Select(s => members[0].Version == 0 ? s.Sensor.Handbook : then(s.Sensor.Handbook))],
            c => MarginTable.For(combination, c, Repository.Limits, LimitContext.Undeclared));
        var delivery = Delivery.Begin(Traffic.Settings with { Setup = Setup });
        if (changes) delivery.Take(new SettingsVersion(Rigid, Middle, 1));
        foreach (var input in Journey) delivery.Take(input);
        delivery.End();
        return [.. delivery.Archive.Rows.Select(r => Read(r.Bytes.Span)).OrderBy(r => r.Touched)];
    }

    private static HistoryRow Read(ReadOnlySpan<byte> bytes)
    {
        var from = new ByteReader(bytes);
        return HistoryRowCodec.Read(ref from)!;
    }
}

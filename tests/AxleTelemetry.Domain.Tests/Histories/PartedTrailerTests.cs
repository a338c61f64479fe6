using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>A trailer moves between tractors with what is known to be aboard of it, and how old that is; a powered vehicle keeps its own load when its trailer goes.</summary>
public sealed class PartedTrailerTests
{
    private static readonly VehicleName First = Traffic.Name("tractor-4x2"), Second = Traffic.Name("tractor-6x2-pusher"), Bare = Traffic.Name("semi-bare");
    private static readonly VehicleName Rigid = Traffic.Name("rigid-6x2-tag"), Centre = Traffic.Name("trailer-centre-axle");
    private static readonly Moment Start = new(1_772_432_045_000), Parted = Start.Plus(1800), Taken = Start.Plus(3600), Rolls = Start.Plus(3660);
    private static readonly HistorySettings Settings = Traffic.Settings with { Setup = SetupOf, IsPowered = v => v.Id is not ("semi-bare" or "trailer-centre-axle") };

    [Fact]
    public void A_bare_trailer_is_stated_behind_the_next_tractor_with_its_age()
    {
        var delivery = Delivery.Begin(Settings);
        Bring(delivery, 18);
        Take(delivery, Drive(Rolls, "load 18 t at 6.0 m", "tractor-6x2-pusher", "semi-bare"));
        delivery.Release(Second, Rolls.Plus(10).UnixMilliseconds);

        var view = delivery.History.LaneOf(Second)!.View();
        Assert.Equal(LoadStanding.Earlier, view.Standing);
        Assert.Contains(Withheld.LoadMayHaveChanged, view.Withheld);
        Assert.True(view.MeasuredAt > Start.Plus(120) && view.MeasuredAt < Parted);
        Assert.InRange(view.AgeSeconds!.Value, Rolls.SecondsSince(Parted), Rolls.Plus(10).SecondsSince(Start));
        var payload = Assert.Single(view.Payloads).Load;
        Assert.InRange(18_000, payload.Low, payload.High);
        Assert.NotNull(view.Gross);

        delivery.End();
        // What is measured then is the same load: none begins.
        Assert.DoesNotContain(RowsOf(delivery, Second), r => r is HistoryRow.LoadBegun);
        Assert.Contains(RowsOf(delivery, Second).OfType<HistoryRow.Load>(), r => r.Standing == LoadStanding.Settled);
        Assert.Contains(delivery.Said, o => o is LaneOutput.LoadGoesOn);
    }

    [Fact]
    public void What_was_loaded_while_it_was_parked_is_found_by_the_first_settled_reading()
    {
        var delivery = Delivery.Begin(Settings);
        Bring(delivery, 3);
        Take(delivery, Drive(Rolls, "load 26 t at 6.0 m", "tractor-6x2-pusher", "semi-bare"));
        delivery.End();
        var begun = Assert.Single(RowsOf(delivery, Second).OfType<HistoryRow.LoadBegun>());
        Assert.Equal(Taken, begun.Since);
        Assert.InRange(26_000, begun.Payload.Low, begun.Payload.High);
        Assert.All(RowsOf(delivery, Second).OfType<HistoryRow.Load>().Where(r => r.Key.At >= Taken && r.Key.At < begun.Key.At), r => Assert.Equal(LoadStanding.Earlier, r.Standing));
    }

    [Fact]
    public void Who_took_it_before_it_was_known_what_was_aboard_is_corrected()
    {
        var (timely, late) = (Delivery.Begin(Settings), Delivery.Begin(Settings));
        Bring(timely, 18);
        Take(timely, Drive(Rolls, "load 18 t at 6.0 m", "tractor-6x2-pusher", "semi-bare"));
        timely.End();

        late.Take(new CouplingStatement(First, Start.Plus(-1), [Bare]));
        late.Take(new CouplingStatement(First, Parted, []));
        late.Take(new CouplingStatement(Second, Taken, [Bare]));
        Take(late, Drive(Rolls, "load 18 t at 6.0 m", "tractor-6x2-pusher", "semi-bare"));
        late.Release(Second, Rolls.Plus(900).UnixMilliseconds);
        Assert.Contains(RowsOf(late, Second), r => r is HistoryRow.LoadBegun);
        Take(late, Drive(Start, "load 18 t at 6.0 m", "tractor-4x2", "semi-bare"));
        late.Release(First, Parted.UnixMilliseconds);
        Assert.Equal((Second, Taken), Assert.Single(late.History.ToBeCorrected));
        late.End();
        Assert.Equal(timely.Rows(), late.Rows());
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void It_is_known_after_a_restart(bool killed)
    {
        List<Delivery> deliveries = [Delivery.Begin(Settings), Delivery.Begin(Settings)];
        foreach (var delivery in deliveries)
        {
            Bring(delivery, 18);
            if (delivery == deliveries[1]) delivery.Restart(killed);
            Take(delivery, Drive(Rolls, "load 18 t at 6.0 m", "tractor-6x2-pusher", "semi-bare"));
            delivery.End();
        }

        Assert.DoesNotContain(RowsOf(deliveries[1], Second), r => r is HistoryRow.LoadBegun);
        Assert.Equal(deliveries[0].Rows(), deliveries[1].Rows());
    }

    [Fact]
    public void A_rigid_keeps_its_load_when_it_leaves_its_trailer_and_knows_that_of_the_trailer_when_it_comes_back()
    {
        var delivery = Delivery.Begin(Settings);
        delivery.Take(new CouplingStatement(Rigid, Start.Plus(-1), [Centre]));
        Take(delivery, Drive(Start, "load 7 t at 4.3 m on RT-01\nload 9 t at 6.0 m on CA-08", "rigid-6x2-tag", "trailer-centre-axle"));
        delivery.Take(new CouplingStatement(Rigid, Parted, []));
        delivery.Take(new CouplingStatement(Rigid, Taken, [Centre]));
        delivery.Release(Rigid, Parted.UnixMilliseconds);
        var alone = delivery.History.LaneOf(Rigid)!.View();
        Assert.Equal((LoadStanding.Earlier, 1), (alone.Standing, alone.Payloads.Length));
        Assert.InRange(7000, alone.Payloads[0].Load.Low, alone.Payloads[0].Load.High);

        delivery.Release(Rigid, Taken.UnixMilliseconds);
        var again = delivery.History.LaneOf(Rigid)!.View();
        Assert.Equal((LoadStanding.Earlier, alone.MeasuredAt), (again.Standing, again.MeasuredAt));
        Assert.InRange(7000, again.Payloads[0].Load.Low, again.Payloads[0].Load.High);
        Assert.InRange(9000, again.Payloads[1].Load.Low, again.Payloads[1].Load.High);
    }

    [Fact]
    public void One_that_measures_nothing_hands_on_what_it_was_given()
    {
        var delivery = Delivery.Begin(Settings);
        Bring(delivery, 18);
        // Shunted over the yard: no reading settles.
        Take(delivery, Drive(Rolls, "load 18 t at 6.0 m", "tractor-6x2-pusher", "semi-bare").Where(i => i.Reading.At < Rolls.Plus(15)));
        delivery.Take(new CouplingStatement(Second, Rolls.Plus(60), []));
        delivery.Take(new CouplingStatement(First, Rolls.Plus(600), [Bare]));
        delivery.End();
        var handed = RowsOf(delivery, First).Concat(RowsOf(delivery, Second)).OfType<HistoryRow.Parted>().OrderBy(r => r.Key.At).Select(r => Assert.Single(r.Trailers)).ToList();
        Assert.Equal(2, handed.Count);
        Assert.Equal(handed[0], handed[1]);
        Assert.Equal(LoadStanding.Earlier, delivery.History.LaneOf(First)!.View().Standing);
    }

    [Theory]
    [InlineData(71, 0, LoadStanding.Earlier)]
    [InlineData(73, 0, LoadStanding.None)]
    [InlineData(1, 1, LoadStanding.None)]
    public void It_is_not_believed_after_three_days_nor_by_other_settings(int hours, int version, LoadStanding standing)
    {
        var delivery = Delivery.Begin(Settings);
        Bring(delivery, 18, coupled: false);
        if (version > 0) delivery.Take(new SettingsVersion(Bare, Taken, version));
        delivery.Take(new CouplingStatement(Second, Parted.Plus(3600 * hours), [Bare]));
        delivery.End();
        Assert.Equal(standing, delivery.History.LaneOf(Second)!.View().Standing);
    }

    [Fact]
    public void What_is_kept_of_it_is_read_again_also_where_an_earlier_release_kept_nothing_and_is_forgotten_with_the_couplings()
    {
        const int Days = 30 * 86_400;
        var (ledger, again, earlier) = (new FleetLedger(Days, _ => true), new FleetLedger(Days, _ => true), new FleetLedger(Days, _ => true));
        var (trailer, payload) = (new LaneMember(Bare, 3), new BodyPayload { Mass = 18_000, Moment = 108_000, MassVariance = 4e6, Covariance = 2e7, MomentVariance = 2e8, MeasuredAt = Start.UnixMilliseconds });
        ledger.Enter(new CouplingStatement(First, Start, [Bare]));
        ledger.Enter(new CouplingStatement(First, Parted, []));
        var before = new ByteWriter();
        ledger.Write(First, before);
        var old = new ByteReader(before.Written[..^sizeof(int)]);
        earlier.Read(First, ref old);
        Assert.True(old.EndedWell);
        Assert.False(earlier.AboardAt(trailer, Taken.UnixMilliseconds).IsKnown);

        ledger.Enter(new HistoryRow.Parted(new RowKey(First, RowKind.Parted, Parted, default), Parted, [new LaneMember(First, 0), trailer], [new PartedTrailer(trailer, payload)]));
        var after = new ByteWriter();
        ledger.Write(First, after);
        var reader = new ByteReader(after.Written);
        again.Read(First, ref reader);
        Assert.True(reader.EndedWell);
        Assert.Equal(payload, again.AboardAt(trailer, Taken.UnixMilliseconds));
        Assert.False(again.AboardAt(trailer, Parted.UnixMilliseconds - 1).IsKnown);

        ledger.Prune(First, _ => Parted.Plus(Days - 1).UnixMilliseconds);
        Assert.True(ledger.AboardAt(trailer, Taken.UnixMilliseconds).IsKnown);
        ledger.Prune(First, _ => Parted.Plus(Days).UnixMilliseconds);
        var forgotten = new ByteWriter();
        ledger.Write(First, forgotten);
        Assert.True(forgotten.Written.Length < before.Written.Length, "the coupling is forgotten too");
    }

    /// <summary>The first tractor brings a loaded trailer and leaves it; the second takes it.</summary>
    private static void Bring(Delivery delivery, int tonnes, bool coupled = true)
    {
        delivery.Take(new CouplingStatement(First, Start.Plus(-1), [Bare]));
        Take(delivery, Drive(Start, $"load {tonnes} t at 6.0 m", "tractor-4x2", "semi-bare"));
        delivery.Take(new CouplingStatement(First, Parted, []));
        delivery.Release(First, Parted.UnixMilliseconds);
        if (coupled) delivery.Take(new CouplingStatement(Second, Taken, [Bare]));
    }

    private static void Take(Delivery delivery, IEnumerable<Input.Read> readings)
    {
        foreach (var reading in readings) delivery.Take(reading);
    }

    private static List<Input.Read> Drive(Moment start, string loads, params string[] vehicles)
    {
        var text = $"""
            {string.Join('\n', vehicles.Select(v => "vehicle " + v))}
            trip national
            seed 3

            journey
            {loads}
            drive 12 km at 70 km/h
            stop 3 min

            findings
            """;
        var result = JourneyText.Read(text, Repository.Vehicle);
        if (result is JourneyResult.Refused refused) Assert.Fail(string.Join('\n', refused.Problems));
        var script = Assert.IsType<JourneyResult.Accepted>(result).Script with { Start = start };
        return [.. JourneyReadings.Of(script, JourneyPlayer.Play(script)).Select(r => new Input.Read(Traffic.Name(vehicles[r.Body]), r.Reading))];
    }

    private static LaneSetup SetupOf(ImmutableArray<LaneMember> members)
    {
        var combination = Assert.IsType<CouplingResult.Coupled>(Combination.Couple([.. members.Select(m => Repository.Vehicle(m.Vehicle.Id)!)])).Combination;
        return LaneSetup.FromHandbook(combination, c => MarginTable.For(combination, c, Repository.Limits, LimitContext.Undeclared));
    }

    private static IEnumerable<HistoryRow> RowsOf(Delivery delivery, VehicleName unit) => delivery.Archive.Rows.Where(r => r.Key.Unit == unit).Select(r =>
    {
        var from = new ByteReader(r.Bytes.Span);
        return HistoryRowCodec.Read(ref from)!;
    });
}

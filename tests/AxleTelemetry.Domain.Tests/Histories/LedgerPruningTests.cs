using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Simulator.Chance;

namespace AxleTelemetry.Domain.Tests.Histories;

/// <summary>A ledger that forgets answers as one that does not, wherever anybody can still ask. Seeds stand in the names.</summary>
public sealed class LedgerPruningTests
{
    private const int Remember = 200;

    private static readonly ImmutableArray<VehicleName> Units = [.. ((string[])["t1", "t2", "t3", "t4"]).Select(Traffic.Name)];
    private static readonly ImmutableArray<VehicleName> Trailers = [.. ((string[])["a", "b", "c"]).Select(Traffic.Name)];

    public static TheoryData<ulong> Seeds => [.. Enumerable.Range(1, 16).Select(i => (ulong)i)];

    [Theory, MemberData(nameof(Seeds))]
    public void It_answers_as_one_that_keeps_everything(ulong seed)
    {
        var random = new SeededRandom(seed);
        var (whole, pruned) = (new FleetLedger(0, _ => true), new FleetLedger(Remember, _ => true));
        var oldest = Units.ToDictionary(u => u, _ => long.MinValue);
        var forgotten = 0;
        for (var now = 0L; now < 900; now += random.Whole(1, 3))
        {
            if (random.Chance(0.5)) Say(1000 * now, random.Pick(Units.AsSpan()));
            // What came late, some of it behind what its unit can be run again from. Each moment once.
            if (random.Chance(0.1)) Say(1000 * Math.Max(0, now - random.Whole(1, Remember)) + now % 999 + 1, random.Pick(Units.AsSpan()));
            if (random.Chance(0.1)) Set(now, random.Chance(0.5) ? random.Pick(Units.AsSpan()) : random.Pick(Trailers.AsSpan()));
            if (random.Chance(0.3)) Forget(now);
        }

        Assert.True(forgotten > 100, $"seed {seed}: {forgotten} forgotten");
        return;

        void Say(long at, VehicleName by)
        {
            ImmutableArray<VehicleName> hung = random.Chance(0.3) ? [] : random.Chance(0.7) ? [random.Pick(Trailers.AsSpan())] : [Trailers[0], Trailers[random.Whole(1, 2)]];
            var statement = new CouplingStatement(by, new Moment(at), hung);
            whole.Enter(statement);
            pruned.Enter(statement);
            Compare();
        }

        void Set(long at, VehicleName of)
        {
            var version = new SettingsVersion(of, new Moment(1000 * at), (int)at + 1);
            whole.Enter(version);
            pruned.Enter(version);
        }

        void Forget(long now)
        {
            var unit = random.Pick(Units.AsSpan());
            // The fourth is heard seldom.
            if (unit == Units[3] && random.Chance(0.9)) return;
            oldest[unit] = Math.Max(oldest[unit], 1000 * (now - random.Whole(20, 60)));
            var before = Length(pruned);
            foreach (var vehicle in Trailers.Append(unit)) pruned.Prune(vehicle, v => oldest.GetValueOrDefault(v, long.MaxValue));
            if (Length(pruned) < before) forgotten += (before - Length(pruned)) / 12;
            Compare();
        }

        void Compare()
        {
            foreach (var unit in Units) Assert.Equal(Course(whole, unit, oldest[unit]), Course(pruned, unit, oldest[unit]));
            foreach (var trailer in Trailers)
                for (var at = 0L; at <= 900_000; at += 25_000)
                    if ((whole.UnitOf(trailer, at), pruned.UnitOf(trailer, at)) is var (a, b) && a != b)
                        Assert.True((a is not { } x || at < oldest[x]) && (b is not { } y || at < oldest[y]), $"seed {seed}: {trailer} at {at}");
        }
    }

    [Fact]
    public void What_is_forgotten_and_said_again_changes_nothing()
    {
        var ledger = Swapped(out var last);
        ledger.Prune(Units[0], _ => last);
        Assert.InRange(Length(ledger), 1, 400);
        Assert.Equal(FactOutcome.TooLate, ledger.Enter(new CouplingStatement(Units[0], new Moment(5000), [Trailers[1]])));
        Assert.InRange(Length(ledger), 1, 400);
        Assert.Equal(FactOutcome.Repeated, ledger.Enter(new CouplingStatement(Units[0], new Moment(last), [Trailers[1]])));
        Assert.Equal(FactOutcome.TooLate, ledger.Enter(new SettingsVersion(Units[0], new Moment(5000), 5)));
    }

    [Fact]
    public void What_was_kept_is_little_after_a_year_and_comes_back_from_its_bytes()
    {
        var ledger = Swapped(out var last);
        var length = Length(ledger);
        ledger.Prune(Units[0], _ => last);
        Assert.True(Length(ledger) < length / 50);
        var (bytes, back) = (new ByteWriter(), new FleetLedger(0, _ => true));
        ledger.Write(Units[0], bytes);
        var from = new ByteReader(bytes.Written);
        back.Read(Units[0], ref from);
        Assert.True(from.EndedWell);
        Assert.Equal(Course(ledger, Units[0], last), Course(back, Units[0], last));
    }

    [Theory, InlineData(3ul), InlineData(4ul), InlineData(9ul)]
    public void A_history_that_forgets_facts_leaves_the_same_rows(ulong seed)
    {
        var inputs = Traffic.Draw(seed);
        var (kept, forgotten) = (Delivered(inputs, 1e9), Delivered(inputs, 0));
        Assert.True(kept.Corrections > 3);
        Assert.Equal(kept.Corrections, forgotten.Corrections);
        Assert.Equal(kept.Rows(), forgotten.Rows());
        var tractor = Traffic.Name("tractor-4x2");
        Assert.True(FactsOf(kept, tractor) > 3000);
        Assert.True(FactsOf(forgotten, tractor) < FactsOf(kept, tractor) / 2);
    }

    /// <summary>The tractor says every half minute what it pulls; every hundredth reading comes five minutes late.</summary>
    private static Delivery Delivered(List<Input> inputs, double remember)
    {
        var delivery = Delivery.Begin(Traffic.Settings with { Horizon = 900, SnapshotEvery = 60, RememberFacts = remember });
        var (tractor, trailer, random) = (Traffic.Name("tractor-4x2"), Traffic.Name("semi-tridem-lift-first"), new SeededRandom(7));
        var (next, late) = (inputs[0].At, new Queue<Input>());
        foreach (var input in inputs)
        {
            if (input is Input.Read && random.Chance(0.0005)) late.Enqueue(input);
            else delivery.Take(input);
            if (input.At < next) continue;
            next = input.At + 30_000;
            delivery.Take(new CouplingStatement(tractor, new Moment(input.At), random.Chance(0.9) ? [trailer] : []));
            foreach (var unit in delivery.History.Units.ToList()) delivery.Release(unit, input.At);
            while (late.TryPeek(out var first) && first.At < input.At - 300_000) delivery.Take(late.Dequeue());
            delivery.Correct(random);
        }

        delivery.End();
        return delivery;
    }

    private static int FactsOf(Delivery delivery, VehicleName vehicle)
    {
        var bytes = new ByteWriter();
        delivery.History.WriteFacts(vehicle, bytes);
        return bytes.Written.Length;
    }

    private static FleetLedger Swapped(out long last)
    {
        var ledger = new FleetLedger(0, _ => true);
        last = 0;
        for (var i = 0; i < 1000; i++)
        {
            last = 1000 * i;
            ledger.Enter(new CouplingStatement(Units[0], new Moment(last), [Trailers[i % 2]]));
            ledger.Enter(new SettingsVersion(Units[0], new Moment(last), i));
        }

        return ledger;
    }

    /// <summary>A unit's vehicles from a moment on, each change with its moment.</summary>
    private static List<string> Course(FleetLedger ledger, VehicleName unit, long from)
    {
        List<string> course = [];
        for (long? at = from; at is { } moment; at = ledger.Next(unit, moment))
        {
            var members = string.Join(' ', ledger.MembersAt(unit, moment).Select(m => $"{m.Vehicle.Id}/{m.Version}"));
            if (course.Count == 0 || !course[^1].EndsWith(": " + members, StringComparison.Ordinal)) course.Add($"{(moment == from ? "from" : moment)}: {members}");
        }

        return course;
    }

    private static int Length(FleetLedger ledger)
    {
        var bytes = new ByteWriter();
        foreach (var vehicle in Units.AddRange(Trailers)) ledger.Write(vehicle, bytes);
        return bytes.Written.Length;
    }
}

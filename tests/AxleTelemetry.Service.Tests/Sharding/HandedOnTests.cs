using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A loaded trailer is brought by one tractor and taken by another: what is aboard of it comes with it, in memory and in a journal, after a stop, a kill, or late.</summary>
public sealed class HandedOnTests : IDisposable
{
    private static readonly VehicleName First = new("north", "TR-04"), Second = new("north", "TP-05");
    private static readonly ImmutableArray<RecordedMessage> Brought = Haul.Of("14 t at 6.0 m", 2, "tractor-4x2", "semi-bare");
    private static readonly Moment Start = Brought[0].Received!.Value, Taken = Start.Plus(7200);
    private static readonly ImmutableArray<RecordedMessage> Fetched = Haul.Of(Taken, "14 t at 6.0 m", 2, "tractor-6x2-pusher", "semi-bare");

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-handed-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void It_is_stated_at_once_with_its_age_and_no_new_load_begins()
    {
        var (run, store) = ShardRun.InMemory(Start);
        Feed(run, Brought);
        Feed(run, Fetched[..3]);
        run.End();
        var rows = Rows(store);
        var parted = Assert.Single(rows.OfType<HistoryRow.Parted>());
        var trailer = Assert.Single(parted.Trailers);
        Assert.Equal((First, new VehicleName("north", "SB-07")), (parted.Key.Unit, trailer.Trailer.Vehicle));
        var state = run.Shard.State.Find(Second)!.View!;
        Assert.Equal((LoadStanding.Earlier, new Moment(trailer.Payload.MeasuredAt)), (state.Standing, state.MeasuredAt));
        Assert.InRange(14_000, state.Payloads[0].Load.Low, state.Payloads[0].Load.High);

        Feed(run, Fetched[3..]);
        run.End();
        Assert.DoesNotContain(Rows(store), r => r is HistoryRow.LoadBegun && r.Key.Unit == Second);
        Assert.Contains(Rows(store), r => r is HistoryRow.Load { Standing: LoadStanding.Settled } && r.Key.Unit == Second);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void A_journal_that_is_opened_again_knows_it(bool clean)
    {
        var expected = InOrder();
        var (run, store) = Open();
        run.Configure(Start);
        Feed(run, Brought);
        // Nobody has taken it yet; then the next tractor has, and has measured nothing.
        (run, store) = Again(run, store, clean);
        Feed(run, Fetched[..3]);
        (run, store) = Again(run, store, clean);
        Feed(run, Fetched[3..]);
        run.End();
        using (store)
        using (var reader = store.Journal.Reader())
            Assert.Equal(expected, reader.Digest());
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Who_fetched_it_first_as_messages_come_is_corrected_when_it_becomes_known(bool killed)
    {
        var (run, store) = Open();
        run.Configure(Start);
        Feed(run, Fetched);
        if (killed) (run, store) = Again(run, store, clean: false);
        var late = Fetched[^1].Received!.Value.Plus(10);
        Feed(run, Brought.Select(m => m with { Received = late }));
        if (killed) (run, store) = Again(run, store, clean: false);
        run.End();
        using (store)
        using (var reader = store.Journal.Reader())
            Assert.Equal(InOrder(), reader.Digest());
    }

    private static string InOrder()
    {
        var (run, store) = ShardRun.InMemory(Start);
        Feed(run, Brought);
        Feed(run, Fetched);
        run.End();
        return store.Digest();
    }

    private (ShardRun Run, JournalStore Store) Again(ShardRun run, JournalStore store, bool clean)
    {
        var now = run.Now;
        if (clean) run.Close();
        store.Dispose();
        var opened = Open();
        opened.Run.Pass(now);
        return opened;
    }

    private (ShardRun Run, JournalStore Store) Open()
    {
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_folder.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        return (new ShardRun(opened.Shard), opened.Store);
    }

    private static void Feed(ShardRun run, IEnumerable<RecordedMessage> messages)
    {
        foreach (var some in messages.Chunk(20)) run.Append(some);
    }

    private static List<HistoryRow> Rows(MemoryStore store) => [.. store.History.Select(r =>
    {
        var from = new ByteReader(r.Bytes.AsSpan());
        return HistoryRowCodec.Read(ref from)!;
    })];
}

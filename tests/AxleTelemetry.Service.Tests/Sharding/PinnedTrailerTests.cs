using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Opening;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>Raw messages grow older than they are kept while a unit's history waits to be run again: what that needs stays, also of its trailer.</summary>
public sealed class PinnedTrailerTests : IDisposable
{
    private static readonly VehicleName Tractor = new("north", "TR-04"), Trailer = new("north", "ST-06");

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-pinned-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void A_stopped_combination_that_goes_on_months_later_has_the_history_it_would_have_had()
    {
        var messages = Haul.Of("12 t at 6.0 m", 200, "tractor-4x2", "semi-tridem-lift-first");
        var (undisturbed, whole) = ShardRun.InMemory(messages[0].Received!.Value);
        Feed(undisturbed, messages);
        undisturbed.End();

        var broken = false;
        var options = new ShardOptions { BeforeStep = unit => { if (broken && unit == Tractor) throw new InvalidOperationException("a rule broke"); } };
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_folder.FullName, "main", new JournalOptions { ReserveBytes = 0 }, options));
        using var store = opened.Store;
        var run = new ShardRun(opened.Shard);
        run.Configure(messages[0].Received!.Value);
        // From here on no episode keeps anything: the lane stands still.
        var stops = messages[0].Received!.Value.Plus(3600);
        Feed(run, messages.Where(m => m.Received < stops));
        broken = true;
        Feed(run, messages.Where(m => m.Received >= stops));
        run.End();
        Assert.Equal(Tractor, Assert.Single(run.Shard.State.Stopped).Key);

        var house = new HouseKeeping(store.Journal, new Bounds { RawDays = 1 }, opened.Shard.State.History.NeededAgain);
        var trailer = Inputs(store, Trailer);
        var later = messages[^1].Received!.Value.Plus(100 * 86_400);
        Keep(house, later);
        Assert.Equal(trailer, Inputs(store, Trailer));

        broken = false;
        Assert.True(run.Shard.Resume(Tractor, run.Now));
        run.Write();
        run.End();
        using var reader = store.Journal.Reader();
        Assert.Equal(whole.Digest(), reader.Digest());
        Keep(house, later.Plus(5000));
        Assert.True(Inputs(store, Trailer) < trailer, "nobody needs them any more");
    }

    private static void Keep(HouseKeeping house, Moment from)
    {
        for (var i = 0; i < 400; i++) house.Keep(from.Plus(10 * i));
    }

    private static void Feed(ShardRun run, IEnumerable<RecordedMessage> messages)
    {
        foreach (var some in messages.Chunk(50)) run.Append(some);
    }

    private static int Inputs(JournalStore store, VehicleName vehicle) =>
        store.Inputs(new InputQuery(Codes.Of(vehicle), new SampleSpan(new(0), new(long.MaxValue))) { Kind = Codes.MessageInput, Limit = 100_000 }).Length;
}

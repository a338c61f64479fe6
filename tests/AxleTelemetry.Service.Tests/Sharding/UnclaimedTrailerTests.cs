using System.Globalization;
using System.Text;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A trailer whose bellows feel the road while no vehicle says that it pulls it.</summary>
public sealed class UnclaimedTrailerTests : IDisposable
{
    private static readonly VehicleName Trailer = new("north", "ST-06");
    private static readonly Moment Start = new(1_772_431_200_000);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-unclaimed-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    public void It_is_told_once_and_ends_when_a_vehicle_says_that_it_pulls_it(int batch)
    {
        var store = new TellingStore();
        var run = new ShardRun(Shard.Begin(store, new ShardOptions()));
        run.Configure(Start);
        Feed(run, Rolling(0, 240), batch);
        Assert.Empty(Alerts(run));
        Feed(run, Rolling(240, 900), batch);
        var alert = Assert.Single(Alerts(run));
        Assert.Equal((Trailer, AlertPriority.Low, true, 1), (alert.Id.Vehicle, alert.Priority, alert.Holds, alert.Count));
        Assert.InRange(alert.Id.Since.SecondsSince(Start), 0, 30);
        var told = store.Told.Single(t => t.Vehicle == Trailer.Id);
        Assert.Equal("The trailer is heard rolling, and no vehicle says that it pulls it: its loads are not stated. State the coupling.", told.Sentence);

        run.Append(Message("TR-04", "coupling", $$"""{"samples":[{"t":{{Start.Plus(910).UnixMilliseconds}},"trailers":["ST-06"]}]}""", 910));
        Assert.Equal(Start.Plus(910), Assert.Single(Alerts(run)).Ended);
        Feed(run, Rolling(911, 1600), batch);
        Assert.Single(Alerts(run));
    }

    [Fact]
    public void One_that_is_parked_is_not_told_and_one_that_falls_silent_no_more()
    {
        var (run, _) = ShardRun.InMemory(Start);
        Feed(run, Rolling(0, 3600, noise: 0), 10);
        Assert.Empty(Alerts(run));
        Feed(run, Rolling(3600, 4200), 10);
        Assert.True(Assert.Single(Alerts(run)).Holds);
        run.Pass(Start.Plus(5 * 86_400));
        Assert.Equal(Start.Plus(4200), Assert.Single(Alerts(run)).Ended);
        Assert.Contains(run.Shard.State.Alerts.Alerts, a => a.Id.Vehicle == Trailer && a.Id.Subject == AlertSubject.VehicleSilent && a.Holds);
    }

    [Fact]
    public void A_restart_forgets_nothing_of_it()
    {
        var opened = Open();
        var run = new ShardRun(opened.Shard);
        run.Configure(Start);
        Feed(run, Rolling(0, 240), 5);
        // Not closed: what a batch left is all there is.
        opened.Store.Dispose();
        opened = Open();
        using var store = opened.Store;
        run = new ShardRun(opened.Shard);
        Feed(run, Rolling(240, 360), 5);
        Assert.InRange(Assert.Single(Alerts(run)).Id.Since.SecondsSince(Start), 0, 30);
    }

    private ShardOpening.Opened Open() => Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_folder.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));

    private static IEnumerable<Alert> Alerts(ShardRun run) => run.Shard.State.Alerts.Alerts.Where(a => a.Id.Subject.Finding is { Kind: FindingKind.TrailerUnclaimed });

    private static void Feed(ShardRun run, IEnumerable<RecordedMessage> messages, int batch)
    {
        foreach (var some in messages.Chunk(batch)) run.Append(some);
    }

    /// <summary>A pressure each second, sent every thirty; the road is a wave of its own.</summary>
    private static IEnumerable<RecordedMessage> Rolling(int from, int to, double noise = 2)
    {
        for (var first = from + 1; first <= to; first += 30)
        {
            var samples = Enumerable.Range(first, Math.Min(30, to - first + 1)).Select(second => string.Create(CultureInfo.InvariantCulture,
                $$$"""{"t":{{{Start.Plus(second).UnixMilliseconds}}},"kpa":{"bogie":{{{300 + noise * Math.Sin(2.1 * second):0.00}}}}}"""));
            yield return Message("ST-06", "pressure", $$"""{"samples":[{{string.Join(',', samples)}}]}""", Math.Min(first + 29, to));
        }
    }

    private static RecordedMessage Message(string vehicle, string stream, string payload, int received) =>
        new($"axles/v1/north/{vehicle}/{stream}", Encoding.UTF8.GetBytes(payload), Start.Plus(received));
}

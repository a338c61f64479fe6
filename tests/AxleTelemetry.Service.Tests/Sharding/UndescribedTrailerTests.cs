using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>A tractor pulls a trailer that nobody described, until somebody does.</summary>
public sealed class UndescribedTrailerTests : IDisposable
{
    private static readonly VehicleName Tractor = new("north", "TR-04");
    private static readonly ImmutableArray<RecordedMessage> Messages = Haul.Of("12 t at 6.0 m", 20, "tractor-4x2", "semi-tridem-lift-first");

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-undescribed-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void It_is_followed_by_a_stated_default_and_told_until_its_file_comes()
    {
        var (run, store) = ShardRun.InMemory(Messages[0].Received!.Value, WithoutTrailer());
        Feed(run, Messages.Take(Messages.Length / 2), 20);
        var state = run.Shard.State.Find(Tractor)!;
        Assert.Equal(["TR-04", "ST-06"], state.Members.Select(m => m.Id));
        Assert.Null(state.NotCoupled);
        var document = VehicleWriting.Of(state);
        Assert.Equal(["ST-06"], document.Undescribed);
        Assert.Equal(["assumed", "assumed", "assumed"], document.Axles.Where(a => a.Vehicle == "ST-06").Select(a => a.Basis));
        var found = Assert.Single(document.Findings, f => f.Finding.StartsWith(nameof(FindingKind.TrailerUndescribed), StringComparison.Ordinal));
        Assert.Contains("ST-06 has no description", found.Sentence, StringComparison.Ordinal);
        Assert.NotNull(document.Gross);
        var alert = Assert.Single(run.Shard.State.Alerts.Alerts, a => IsOurs(a.Id.Subject));
        Assert.Equal((AlertPriority.Low, true), (alert.Priority, alert.Holds));
        Assert.True(run.Shard.State.Unknown.Messages > 0, "what the trailer says itself is nobody's yet");

        run.Shard.Configure(RandomFleet.Configuration, run.Now);
        run.Write();
        Feed(run, Messages.Skip(Messages.Length / 2), 20);
        run.End();
        Assert.Empty(run.Shard.State.Stopped);
        Assert.Empty(VehicleWriting.Of(run.Shard.State.Find(Tractor)!).Undescribed);
        Assert.DoesNotContain(run.Shard.State.Alerts.Alerts, a => IsOurs(a.Id.Subject) && a.Holds);
        // What stood in before holds no longer: the description is the trailer's own, of whatever day.
        Assert.DoesNotContain(Episodes(store), e => e.Key.Finding.Kind == FindingKind.TrailerUndescribed && e.ClosedAt is null);
    }

    [Fact]
    public void It_ends_when_it_is_uncoupled()
    {
        var (run, store) = ShardRun.InMemory(Messages[0].Received!.Value, WithoutTrailer());
        Feed(run, Messages, 20);
        var solo = run.Now;
        run.Append(new RecordedMessage("axles/v1/north/TR-04/coupling", System.Text.Encoding.UTF8.GetBytes($$"""{"samples":[{"t":{{solo.UnixMilliseconds}},"trailers":[]}]}"""), solo));
        run.End();
        var episode = Assert.Single(Episodes(store), e => e.Key.Finding.Kind == FindingKind.TrailerUndescribed);
        Assert.Equal(solo, episode.ClosedAt);
        // Its combination can still be named, long after it was parted.
        Assert.Equal(["TR-04", "ST-06"], CombinationShelf.Make(episode.Members, [WithoutTrailer()])!.Vehicles.Select(v => v.Id));
    }

    [Fact]
    public void History_is_the_same_in_any_batches_and_after_a_restart()
    {
        var digests = new HashSet<string>();
        foreach (var batch in (int[])[20, 7])
        {
            var (run, store) = ShardRun.InMemory(Messages[0].Received!.Value, WithoutTrailer());
            Whole(run, batch);
            Assert.Empty(run.Shard.State.Stopped);
            digests.Add(store.Digest());
        }

        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_folder.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        var begun = new ShardRun(opened.Shard);
        begun.Configure(Messages[0].Received!.Value, WithoutTrailer());
        Feed(begun, Messages.Take(Messages.Length / 3), 20);
        begun.Close();
        opened.Store.Dispose();
        opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_folder.FullName, "main", new JournalOptions { ReserveBytes = 0 }, new ShardOptions()));
        using var again = opened.Store;
        var run2 = new ShardRun(opened.Shard);
        Assert.Equal(["TR-04", "ST-06"], opened.Shard.State.Find(Tractor)!.Members.Select(m => m.Id));
        Feed(run2, Messages.Skip(Messages.Length / 3).Take(Messages.Length / 2 - Messages.Length / 3), 20);
        run2.Configure(run2.Now);
        Feed(run2, Messages.Skip(Messages.Length / 2), 20);
        run2.End();
        using var reader = again.Journal.Reader();
        digests.Add(reader.Digest());
        Assert.Single(digests);
    }

    private static void Whole(ShardRun run, int batch)
    {
        Feed(run, Messages.Take(Messages.Length / 2), batch);
        run.Configure(run.Now);
        Feed(run, Messages.Skip(Messages.Length / 2), batch);
        run.End();
    }

    private static bool IsOurs(AlertSubject subject) => subject.Finding is { Kind: FindingKind.TrailerUndescribed };

    private static IEnumerable<HistoryRow.Episode> Episodes(MemoryStore store) => store.History.Select(r =>
    {
        var reader = new ByteReader(r.Bytes.AsSpan());
        return HistoryRowCodec.Read(ref reader);
    }).OfType<HistoryRow.Episode>();

    private static void Feed(ShardRun run, IEnumerable<RecordedMessage> messages, int batch)
    {
        foreach (var some in messages.Chunk(batch)) run.Append(some);
    }

    private static FleetConfiguration WithoutTrailer()
    {
        var sources = RandomFleet.Configuration.Sources;
        ImmutableArray<SourceText> vehicles = [.. sources.Fleets[0].Vehicles.Where(v => !v.Name.EndsWith("semi-tridem-lift-first.json", StringComparison.Ordinal))];
        return Assert.IsType<ConfigurationResult.Built>(FleetConfiguration.Build(sources with { Fleets = [sources.Fleets[0] with { Vehicles = vehicles }] })).Configuration;
    }
}

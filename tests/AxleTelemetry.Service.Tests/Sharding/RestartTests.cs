using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Tests.Sharding;

/// <summary>What a shard takes after a restart in places where little was known before.</summary>
public sealed class RestartTests : IDisposable
{
    private static readonly Moment Start = new(1_772_431_200_000);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-restart-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public void A_late_word_of_a_trailer_is_taken_when_its_tractor_only_ever_said_that_it_hangs_on_it()
    {
        using (var before = Open(out var run))
        {
            run.Configure(Start);
            run.Append(Message("TR-04", "coupling", 60, "\"trailers\":[\"ST-06\"]"));
        }

        using var after = Open(out var again);
        again.Append(Message("ST-06", "lift", 0, "\"axles\":{\"trailer-1\":\"raised\"}"));
        Assert.Equal(1, again.Shard.State.Find(new VehicleName("north", "ST-06"))!.Readings.Taken);
    }

    private JournalStore Open(out ShardRun run)
    {
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(_folder.FullName, "main", new JournalOptions(), new ShardOptions()));
        run = new ShardRun(opened.Shard);
        return opened.Store;
    }

    private static RecordedMessage Message(string vehicle, string stream, int second, string said) => new($"axles/v1/north/{vehicle}/{stream}",
        Encoding.UTF8.GetBytes(FormattableString.Invariant($$"""{"samples":[{"t":{{Start.Plus(second).UnixMilliseconds}},{{said}}}]}""")), Start.Plus(90));
}

using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Simulator.Journeys;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>A rule of ours that breaks stops the lane it breaks in, and no other. A configuration by which coupled vehicles cannot be coupled breaks none.</summary>
public sealed class BrokenLaneTests(ITestOutputHelper output)
{
    private static readonly VehicleName Tractor = new("north", "TR-04"), Trailer = new("north", "ST-06"), Rigid = new("north", "RT-01");
    private static readonly SampleSpan Ever = new(new(0), new(long.MaxValue));

    private readonly ImmutableArray<RecordedMessage> _messages = [.. Journey("tractor-4x2", "semi-tridem-lift-first").Concat(Journey("rigid-6x2-tag")).OrderBy(m => m.Received)];

    [Fact]
    public void Only_its_unit_stops_and_says_why_and_its_messages_are_kept()
    {
        var broken = true;
        var (run, store) = Begun(new ShardOptions { BeforeStep = unit => { if (broken && unit == Tractor) throw new InvalidOperationException("the sum of axles is not the gross"); } });
        Feed(run, _messages, 20);
        run.End();
        var (unit, why) = Assert.Single(run.Shard.State.Stopped);
        output.WriteLine($"{unit}: {why}");
        Assert.Equal(Tractor, unit);
        Assert.Contains("the sum of axles is not the gross", why, StringComparison.Ordinal);
        Assert.Equal(why, run.Shard.State.Find(Tractor)!.StoppedBy);
        Assert.Contains((Tractor, why), LoopFigures.Of(run.Shard).Stopped);
        Assert.Null(run.Shard.State.Find(Rigid)!.StoppedBy);

        var (undisturbed, whole) = Begun(new ShardOptions());
        Feed(undisturbed, _messages, 20);
        undisturbed.End();
        Assert.Empty(undisturbed.Shard.State.Stopped);
        foreach (var vehicle in (VehicleName[])[Tractor, Trailer, Rigid]) Assert.Equal(Inputs(whole, vehicle), Inputs(store, vehicle));
        Assert.Equal(Rows(whole, Rigid), Rows(store, Rigid));
        Assert.True(Rows(store, Tractor).Count < Rows(whole, Tractor).Count);

        // Told to go on once it is mended, it has the history it would have had.
        broken = false;
        Assert.True(run.Shard.Resume(Tractor, run.Now));
        run.Write();
        Assert.Empty(run.Shard.State.Stopped);
        run.End();
        Assert.Equal(whole.Digest(), store.Digest());
    }

    [Fact]
    public void Vehicles_that_no_longer_fit_together_are_followed_apart_until_they_fit_again()
    {
        var digests = new HashSet<string>();
        foreach (var batch in (int[])[20, 7])
        {
            var (run, store) = Begun(new ShardOptions());
            var third = _messages.Length / 3;
            Feed(run, _messages.Take(third), batch);
            Assert.Equal([Tractor, Trailer], run.Shard.State.Find(Tractor)!.Members);

            run.Shard.Configure(WithoutFifthWheel(), run.Now);
            run.Write();
            Feed(run, _messages.Skip(third).Take(third), batch);
            Assert.Equal("'ST-06' has a drawbar: it does not couple to the fifth wheel of 'TR-04'.", run.Shard.State.Find(Tractor)!.NotCoupled);
            Assert.Equal([Tractor], run.Shard.State.Find(Tractor)!.Members);

            var known = run.Shard.State.History.CouplingsTaken;
            run.Shard.Configure(RandomFleet.Configuration, run.Now);
            run.Write();
            // Who is in the unit is looked up anew: what was remembered lacks the trailer.
            Assert.Contains(Trailer, run.Shard.State.History.MembersOf(Tractor));
            Assert.NotEqual(known, run.Shard.State.History.CouplingsTaken);
            Feed(run, _messages.Skip(2 * third), batch);
            run.End();
            Assert.Empty(run.Shard.State.Stopped);
            Assert.Equal([Tractor, Trailer], run.Shard.State.Find(Tractor)!.Members);
            Assert.Null(run.Shard.State.Find(Tractor)!.NotCoupled);
            digests.Add(store.Digest());
        }

        Assert.Single(digests);
    }

    private (ShardRun Run, MemoryStore Store) Begun(ShardOptions options) => ShardRun.InMemory(_messages[0].Received!.Value, options: options);

    private static void Feed(ShardRun run, IEnumerable<RecordedMessage> messages, int batch)
    {
        foreach (var some in messages.Chunk(batch)) run.Append(some);
    }

    private static List<string> Inputs(MemoryStore store, VehicleName vehicle) =>
        [.. store.Inputs(new InputQuery(Codes.Of(vehicle), Ever) { Limit = int.MaxValue }).Select(i => Convert.ToHexString(i.Row.Bytes.AsSpan()))];

    private static List<string> Rows(MemoryStore store, VehicleName unit) =>
        [.. store.History.Where(r => r.Key.Vehicle == Codes.Of(unit)).Select(r => $"{r.Key} {Convert.ToHexString(r.Bytes.AsSpan())}")];

    /// <summary>The trailer is described anew, as one that hangs on a drawbar.</summary>
    private static FleetConfiguration WithoutFifthWheel()
    {
        var sources = RandomFleet.Configuration.Sources;
        var centreAxle = File.ReadAllText(ExampleFiles.Of("trailer-centre-axle.json")).Replace("CA-08", "ST-06", StringComparison.Ordinal);
        ImmutableArray<SourceText> vehicles = [.. sources.Fleets[0].Vehicles.Where(v => !v.Name.EndsWith("trailer-centre-axle.json", StringComparison.Ordinal))
            .Select(v => v.Name.EndsWith("semi-tridem-lift-first.json", StringComparison.Ordinal) ? v with { Bytes = [.. Encoding.UTF8.GetBytes(centreAxle)] } : v)];
        return Assert.IsType<ConfigurationResult.Built>(FleetConfiguration.Build(sources with { Fleets = [sources.Fleets[0] with { Vehicles = vehicles }] })).Configuration;
    }

    private static IEnumerable<RecordedMessage> Journey(params string[] vehicles)
    {
        var text = $"""
            {string.Join('\n', vehicles.Select(v => "vehicle " + v))}
            trip national
            seed 1

            journey
            load 12 t at {(vehicles.Length == 1 ? "4.3" : "6.0")} m in 5 min
            drive 8 km at 70 km/h
            stop 2 min
            drive 6 km at 70 km/h
            stop 2 min

            findings
            """;
        var script = Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(text, Described)).Script;
        return JourneyRecording.Of(script, JourneyPlayer.Play(script), "north");
    }

    private static Domain.Vehicles.VehicleDescription? Described(string name) =>
        Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(ExampleFiles.Of(name + ".json")))).Vehicle;
}

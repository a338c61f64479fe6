using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Checking;
using AxleTelemetry.Service.Tests.Sharding;
using AxleTelemetry.Storage.Opening;

namespace AxleTelemetry.Service.Tests.Exporting;

/// <summary>Settings with the example vehicles, and a journal as a stopped service leaves it.</summary>
internal sealed class KeptFleet : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("kept-");

    public KeptFleet(params string[] fleets)
    {
        var vehicles = Directory.CreateDirectory(Path.Combine(_folder.FullName, "vehicles"));
        foreach (var name in (string[])["rigid-6x2-tag.json", "tractor-4x2.json", "semi-tridem-lift-first.json"]) File.Copy(ExampleFiles.Of(name), Path.Combine(vehicles.FullName, name));
        var others = Directory.CreateDirectory(Path.Combine(_folder.FullName, "others"));
        File.Copy(ExampleFiles.Of("rigid-6x2-pusher.json"), Path.Combine(others.FullName, "rigid-6x2-pusher.json"));
        string[] names = fleets.Length == 0 ? ["example"] : fleets;
        File.WriteAllText(Settings, $$"""
            { "data_directory": "data", "fleets": { {{string.Join(", ", names.Select(f => $$"""
              "{{f}}": { "vehicles": "{{(f == names[0] ? "vehicles" : "others")}}" }
              """))}} }, "http": { "listen": "127.0.0.1:{{Watching.Mosquitto.FreePort()}}" },
              "embedded_broker": { "listen": "127.0.0.1:{{Watching.Mosquitto.FreePort()}}" } }
            """);
    }

    public string Settings => Path.Combine(_folder.FullName, "axletelemetry.json");

    public string Data => Path.Combine(_folder.FullName, "data");

    public string Journal => Path.Combine(Data, "main.db");

    /// <summary>The shipped journey.</summary>
    public static ImmutableArray<RecordedMessage> Journey()
    {
        using var stream = File.OpenRead(ExampleFiles.Of("journey.ndjson"));
        return [.. new RecordingReader(stream).Entries().OfType<RecordingEntry.Read>().Select(e => e.Message)];
    }

    /// <summary>Opens the journal as a service does: it is held until the store is disposed of.</summary>
    public (ShardRun Run, JournalStore Store) Open(ShardOptions? options = null)
    {
        var opened = Assert.IsType<ShardOpening.Opened>(ShardOpening.Open(Data, "main", new JournalOptions { ReserveBytes = 0 }, options ?? new ShardOptions()));
        return (new ShardRun(opened.Shard), opened.Store);
    }

    /// <summary>A service's life: takes messages under the settings as they are, and ends well.</summary>
    public void Serve(params IEnumerable<RecordedMessage> messages) => Serve(new ShardOptions(), messages);

    /// <summary>The same, with a shard that works otherwise.</summary>
    public void Serve(ShardOptions options, IEnumerable<RecordedMessage> messages)
    {
        var (run, store) = Open(options);
        using (store)
        {
            Take(run, [.. messages]);
            run.End();
            run.Close();
        }
    }

    /// <summary>Takes messages in batches under the settings as they are.</summary>
    public void Take(ShardRun run, ImmutableArray<RecordedMessage> messages)
    {
        run.Configure(messages[0].Received!.Value, Configuration());
        foreach (var batch in messages.Chunk(20)) run.Append(batch);
    }

    /// <summary>Runs a command with these settings.</summary>
    public Invocation Run(params string[] arguments) => Invocation.Apart([.. arguments, "--settings", Settings]);

    /// <summary>Every file beneath it with its length.</summary>
    public string[] Files() => [.. _folder.EnumerateFiles("*", SearchOption.AllDirectories).Select(f => $"{f.FullName} {f.Length}").Order(StringComparer.Ordinal)];

    public FleetConfiguration Configuration() => Assert.IsType<ServiceResult.Loaded>(ServiceReading.Read(Settings)).Configuration.Fleets;

    public void Dispose() => _folder.Delete(recursive: true);
}

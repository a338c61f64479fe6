using System.Globalization;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Sharding;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Tests.Crashing;

/// <summary>Settings and data of a service that is started, killed and started again.</summary>
internal sealed class Premises : IDisposable
{
    private static readonly string Program = Path.Combine(AppContext.BaseDirectory, "axletelemetry");

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("axle-crash-");
    private readonly string _settings;
    private int _runs;

    /// <param name="broker">The part of the settings that says where messages come from.</param>
    /// <param name="data">The data directory; one of its own where none is given.</param>
    public Premises(string broker, string? data = null)
    {
        Data = data ?? Path.Combine(_folder.FullName, "data");
        _settings = Path.Combine(_folder.FullName, "axletelemetry.json");
        // Raw messages are kept however old their samples are: the recording is of a day long ago.
        File.WriteAllText(_settings, FormattableString.Invariant($$"""
            { "data_directory": "{{Data}}", {{broker}}, "http": { "listen": "127.0.0.1:{{Mosquitto.FreePort()}}" },
              "fleets": { "north": { "vehicles": "{{ExampleFiles.Of("")}}", "tickets": ["{{ExampleFiles.Tickets}}"] } },
              "bounds": { "raw_days": 3650, "register_years": 30 }, "allowed_clock_skew_s": 60 }
            """));
    }

    /// <summary>Where the journal is.</summary>
    public string Data { get; }

    public static Premises At(Mosquitto broker) => new($$"""
        "broker": { "host": "127.0.0.1", "port": {{broker.Port.ToString(CultureInfo.InvariantCulture)}} }
        """);

    public static Premises WithBrokerInside(int port, string? data = null) => new($$"""
        "embedded_broker": { "listen": "127.0.0.1:{{port.ToString(CultureInfo.InvariantCulture)}}" }
        """, data);

    /// <summary>Starts the service; with a step at which it is to stand still.</summary>
    public ServiceProcess Serve(string? holdAt = null)
    {
        var trace = Path.Combine(_folder.FullName, FormattableString.Invariant($"trace-{++_runs}"));
        string[] hold = holdAt is null ? [] : ["--hold-at", holdAt];
        return new ServiceProcess(Run(["serve", "--trace", trace, .. hold]), new TraceLog(trace));
    }

    /// <summary>Runs a command with these settings.</summary>
    public RunningProgram Run(params string[] arguments) => RunningProgram.Start(Program, [.. arguments, "--settings", _settings]);

    /// <summary>Waits until nothing is to be corrected any more and the digest is the one expected.</summary>
    public Task UntilSettledAs(string digest) => Eventually.Holds(
        () => Read(journal => journal.Corrections().IsEmpty && journal.Digest() == digest),
        () => Read(journal => $"digest {journal.Digest()}, expected {digest}, {journal.Corrections().Length} to be corrected, {Kept(journal).Count} messages kept"),
        TimeSpan.FromMilliseconds(50));

    /// <summary>What the command says of the history.</summary>
    public async Task<string> Digest()
    {
        await using var command = Run("digest");
        Assert.Equal(0, await command.Exit());
        return Assert.Single(command.Output.All)["main ".Length..];
    }

    /// <summary>Messages in the journal: topic and payload, in ordinal order.</summary>
    public List<string> Kept() => Read(Kept);

    public void Dispose() => _folder.Delete(recursive: true);

    private T Read<T>(Func<JournalReader, T> read)
    {
        using var reader = Assert.IsType<ReaderOpening.Opened>(JournalReader.Open(Data, "main")).Reader;
        return read(reader);
    }

    private static List<string> Kept(JournalReader journal) =>
        [.. journal.Inputs(Position.Start, int.MaxValue).Where(i => i.Row.Kind == Codes.MessageInput || i.Row.Kind == Codes.WideMessageInput).Select(i => Message.Text(TopicOf(i.Row), i.Row.Bytes.AsSpan())).Order(StringComparer.Ordinal)];

    private static string TopicOf(InputRow row) => $"{Topic.Root}{row.Vehicle.Fleet}/{row.Vehicle.Vehicle}/{UpStreamNames.All[row.Stream.Code]}";
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Tests.Series;
using AxleTelemetry.Service.Tests.Serving;
using AxleTelemetry.Storage.Series;

namespace AxleTelemetry.Service.Tests.Dashboards;

/// <summary>A real InfluxDB that the writer filled, in time and by corrections afterwards, and the history that is in force.</summary>
public sealed class FilledInflux : IAsyncLifetime
{
    private const int Seed = 5;

    private readonly DirectoryInfo _data = Directory.CreateTempSubdirectory("axle-dashboards-");
    private InfluxServer? _server;
    private SecondVersion? _second;
    private HistoryFacts? _history;

    internal InfluxServer Server => _server ?? throw new InvalidOperationException("There is no server.");

    internal HistoryFacts History => _history ?? throw new InvalidOperationException("Nothing was carried.");

    /// <summary>First and last moment that anything was received.</summary>
    internal (Moment First, Moment Last) Span { get; private set; }

    public async ValueTask InitializeAsync()
    {
        if (!InfluxServer.IsInstalled) return;
        var recording = RandomFleet.Recording(Seed);
        Span = (recording[0].Received!.Value, recording[^1].Received!.Value);
        _server = await InfluxServer.StartAsync(_data.FullName);
        _second = await SecondVersion.StartAsync(_server.Address);
        // A part comes when the rest was carried long ago, so that points are written over and taken back.
        var late = new Random(Seed);
        var parts = recording.ToLookup(_ => late.Next(12) == 0);
        var fleet = new CarriedFleet(_data.CreateSubdirectory("journal").FullName, recording);
        await fleet.RunAsync(Writer(), parts[false]);
        _history = new HistoryFacts(await fleet.RunAsync(Writer(), parts[true]));
    }

    /// <summary>The writer, to a database of the server.</summary>
    internal SeriesClient Writer(string database = InfluxServer.Database) => new(new SeriesTarget(_second!.Address, "fleet", database), "a-token-that-is-not-asked-for");

    public async ValueTask DisposeAsync()
    {
        if (_second is not null) await _second.DisposeAsync();
        if (_server is not null) await _server.DisposeAsync();
        _data.Delete(recursive: true);
    }
}

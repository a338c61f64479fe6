using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>The tests that share a demonstration.</summary>
[CollectionDefinition(Name)]
public sealed class DemonstrationTests : ICollectionFixture<Demonstration>
{
    public const string Name = "demonstration";
}

/// <summary>The demonstration, run as a process that stands in a directory which is not its own, and a browser. DEMO names what one that runs already has said: a file.</summary>
public sealed class Demonstration : IAsyncLifetime
{
    private readonly DirectoryInfo _elsewhere = Directory.CreateTempSubdirectory("axle-web-");
    private RunningProgram? _program;
    private Chromium? _browser;

    public string Address { get; private set; } = "";

    /// <summary>Directory of its files.</summary>
    public string Files { get; private set; } = "";

    public int BrokerPort { get; private set; }

    public async ValueTask InitializeAsync()
    {
        if (!Chromium.IsInstalled) return;
        _browser = await Chromium.StartAsync();
        if (Environment.GetEnvironmentVariable("DEMO") is { Length: > 0 } running)
        {
            Read(await File.ReadAllTextAsync(running));
            return;
        }

        _program = RunningProgram.StartIn(_elsewhere.FullName, RunningProgram.Built, ["demo", "--listen", $"127.0.0.1:{FreePort()}"]);
        // Hour by hour: on a busy machine the seven take longer than one may wait for a line.
        for (var hour = 1; hour <= 7; hour++) await _program.Output.Until(FormattableString.Invariant($"{hour} h of 7"));
        Read(string.Join('\n', _program.Output.All));
    }

    /// <summary>Looks at a page of it. Skips where no browser is.</summary>
    public async Task<Visit> VisitAsync(string page, Screen screen)
    {
        if (_browser is null) Assert.Skip($"No browser at {Chromium.Path}: install the package 'chromium', or name one in CHROMIUM.");
        var visit = await Visit.BeginAsync(_browser, screen);
        await visit.GoAsync(Address + page);
        return visit;
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        if (_program is not null) await _program.DisposeAsync();
        _elsewhere.Delete(recursive: true);
    }

    private void Read(string said)
    {
        Address = Regex.Match(said, @"http://[\d.]+:\d+").Value;
        Files = Regex.Match(said, @"add its file in (\S+?),").Groups[1].Value;
        BrokerPort = int.Parse(Regex.Match(said, @"send to 127\.0\.0\.1:(\d+)").Groups[1].Value, CultureInfo.InvariantCulture);
    }

    public static int FreePort()
    {
        using var probe = new TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return ((IPEndPoint)probe.LocalEndpoint).Port;
    }
}

using System.Text.RegularExpressions;
using AxleTelemetry.Service.Tests.Watching;
using AxleTelemetry.Web.Tests.Browsing;

namespace AxleTelemetry.Web.Tests.People;

/// <summary>The service as a newcomer starts it: the example settings, on free ports, nothing there before.</summary>
internal sealed partial class FreshService : IAsyncDisposable
{
    private readonly DirectoryInfo _root = Directory.CreateTempSubdirectory("axle-fresh-");
    private RunningProgram _program;

    private FreshService(Func<string, string> set)
    {
        Address = FormattableString.Invariant($"http://127.0.0.1:{Demonstration.FreePort()}");
        BrokerPort = Demonstration.FreePort();
        var broker = FormattableString.Invariant($"127.0.0.1:{BrokerPort}");
        var examples = Path.Combine(AppContext.BaseDirectory, "examples");
        foreach (var file in Directory.EnumerateFiles(examples, "*", SearchOption.AllDirectories))
        {
            var copy = Path.Combine(_root.FullName, Path.GetRelativePath(examples, file));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.WriteAllText(copy, File.ReadAllText(file).Replace("127.0.0.1:8080", Address["http://".Length..], StringComparison.Ordinal).Replace("127.0.0.1:1883", broker, StringComparison.Ordinal));
        }

        var settings = Path.Combine(_root.FullName, "service", "axletelemetry.json");
        File.WriteAllText(settings, set(File.ReadAllText(settings)));
        _program = Run();
    }

    public string Address { get; }

    public int BrokerPort { get; }

    /// <summary>The link that its first start wrote.</summary>
    public string Link { get; private set; } = "";

    /// <param name="set">Changes the text of the settings; <c>null</c> to leave it.</param>
    public static async Task<FreshService> StartAsync(Func<string, string>? set = null)
    {
        var service = new FreshService(set ?? (text => text));
        await service._program.Output.Until("one-time?code=");
        service.Link = LinkOf().Match(string.Join('\n', service._program.Output.All)).Value;
        return service;
    }

    /// <summary>Ends it as a failure of power would.</summary>
    public Task KillAsync() => _program.Kill();

    /// <summary>Starts it again, with what it has kept.</summary>
    public async Task AgainAsync()
    {
        await _program.DisposeAsync();
        _program = Run();
    }

    private RunningProgram Run() => RunningProgram.StartIn(_root.FullName, RunningProgram.Built, ["serve", "--settings", "service/axletelemetry.json"]);

    public async ValueTask DisposeAsync()
    {
        await _program.DisposeAsync();
        _root.Delete(recursive: true);
    }

    [GeneratedRegex(@"http://\S+one-time\?code=\S+")]
    private static partial Regex LinkOf();
}

using System.Text.RegularExpressions;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Web.Tests.Browsing;

/// <summary>A program that is published and started from another directory serves every script and style whole: an empty one starts nothing and reports nothing.</summary>
public sealed class PublishedTests
{
    [Fact]
    public async Task Published_and_started_from_elsewhere_it_serves_every_script_and_style_whole()
    {
        var (published, elsewhere) = (Directory.CreateTempSubdirectory("axle-published-"), Directory.CreateTempSubdirectory("axle-elsewhere-"));
        try
        {
            await using (var publish = RunningProgram.StartIn(Root, "dotnet", ["publish", "src/AxleTelemetry.Service", "-c", "Release", "--no-build", "-o", published.FullName, "-nologo", "-v", "quiet"]))
                Assert.True(await publish.Exit() == 0, string.Join('\n', publish.Output.All));
            await using var program = RunningProgram.StartIn(elsewhere.FullName, Path.Combine(published.FullName, "axletelemetry"), ["demo", "--listen", $"127.0.0.1:{Demonstration.FreePort()}", "--vehicles", "1"]);
            await program.Output.Until("Open http");
            using var client = new HttpClient { BaseAddress = new Uri(Regex.Match(string.Join('\n', program.Output.All), @"http://[\d.]+:\d+").Value) };
            var page = await client.GetStringAsync(new Uri("/now", UriKind.Relative), TestContext.Current.CancellationToken);
            var named = Regex.Matches(page, "(?:src|href)=\"((?:_content|_framework)/[^\"]+)\"").Select(m => m.Groups[1].Value).ToList();
            Assert.Contains(named, n => n.StartsWith("_framework/blazor.web.", StringComparison.Ordinal));
            foreach (var file in named.Concat(Modules()).Append("_content/Vizor.ECharts/js/vizor-echarts-bundle-min.js"))
            {
                var bytes = await client.GetByteArrayAsync(new Uri($"/{file}", UriKind.Relative), TestContext.Current.CancellationToken);
                Assert.True(bytes.Length > 500, $"{file} has {bytes.Length} bytes.");
            }
        }
        finally
        {
            published.Delete(recursive: true);
            elsewhere.Delete(recursive: true);
        }
    }

    private static string Root
    {
        get
        {
            var directory = new DirectoryInfo(AppContext.BaseDirectory);
            while (!File.Exists(Path.Combine(directory.FullName, "AxleTelemetry.sln"))) directory = directory.Parent ?? throw new InvalidOperationException("The solution is not above the tests.");
            return directory.FullName;
        }
    }

    private static IEnumerable<string> Modules() =>
        Directory.EnumerateFiles(Path.Combine(Root, "src", "AxleTelemetry.Web", "wwwroot"), "*.js").Select(f => $"_content/AxleTelemetry.Web/{Path.GetFileName(f)}");
}

using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using System.Text.RegularExpressions;
using AxleTelemetry.Service.Tests.Checking;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Demonstrating;

public sealed partial class DemoCommandTests : IDisposable
{
    private readonly DirectoryInfo _directory = Directory.CreateTempSubdirectory("demo-tests-");
    private readonly string _listen = FormattableString.Invariant($"127.0.0.1:{Mosquitto.FreePort()}");

    public void Dispose() => _directory.Delete(recursive: true);

    [Fact]
    public async Task It_shows_vehicles_writes_the_truth_and_leaves_nothing_behind()
    {
        await using var demo = RunningProgram.Build("demo", "--vehicles", "3", "--listen", _listen, "--truth", In("truth.ndjson"));
        await demo.Output.Until("7 h of 7");
        using (var vehicles = await Asked("/api/v1/vehicles"))
            Assert.Contains(vehicles.RootElement.GetProperty("vehicles").EnumerateArray(), v => v.GetProperty("heard_at").ValueKind == JsonValueKind.String);
        await demo.Signal("TERM");
        Assert.Equal(0, await demo.Exit());

        Assert.Empty(demo.Errors.All);
        Assert.Contains(demo.Output.All, l => l.StartsWith("This fleet is invented", StringComparison.Ordinal));
        Assert.Contains(demo.Output.All, l => l == $"Open http://{_listen}/now");
        Assert.All(File.ReadLines(In("truth.ndjson")), l => JsonDocument.Parse(l).Dispose());
        Assert.NotEmpty(File.ReadLines(In("truth.ndjson")));
        var place = PlaceOf().Match(string.Join('\n', demo.Output.All)).Groups[1].Value;
        Assert.NotEmpty(place);
        Assert.False(Directory.Exists(place), place);
    }

    [Fact]
    public async Task A_directory_that_was_named_stays_and_is_not_begun_in_twice()
    {
        await using (var demo = RunningProgram.Build("demo", "--vehicles", "1", "--listen", _listen, "--data", In("kept")))
        {
            await demo.Output.Until("7 h of 7");
            await demo.Signal("TERM");
            Assert.Equal(0, await demo.Exit());
        }

        Assert.Equal(0, Invocation.Of("check", Path.Combine(In("kept"), "axletelemetry.json")).ExitCode);
        var again = Invocation.Of("demo", "--listen", _listen, "--data", In("kept"));
        Assert.Equal(2, again.ExitCode);
        Assert.Contains("begins in an empty directory", again.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void An_address_that_is_taken_is_told_with_its_option()
    {
        using var other = new TcpListener(IPEndPoint.Parse(_listen));
        other.Start();
        var told = Invocation.Of("demo", "--vehicles", "1", "--listen", _listen);
        Assert.Equal(2, told.ExitCode);
        Assert.Contains("--listen", told.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", told.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--seed", "a whole number", "x")]
    [InlineData("--vehicles", "from 1 to 500", "0")]
    [InlineData("--listen", "an address and a port", "8080")]
    [InlineData("--listen", "this machine alone", "0.0.0.0:8080")]
    public void Bad_input_is_told_with_its_option(string option, string words, string value)
    {
        var told = Invocation.Of("demo", option, value);
        Assert.Equal(2, told.ExitCode);
        Assert.Contains(option, told.Output, StringComparison.Ordinal);
        Assert.Contains(words, told.Output, StringComparison.Ordinal);
    }

    private string In(string name) => Path.Combine(_directory.FullName, name);

    private async Task<JsonDocument> Asked(string path)
    {
        using var client = new HttpClient();
        return JsonDocument.Parse(await client.GetStringAsync(new Uri($"http://{_listen}{path}"), TestContext.Current.CancellationToken));
    }

    [GeneratedRegex(@"its file in (.+), which is deleted")]
    private static partial Regex PlaceOf();
}

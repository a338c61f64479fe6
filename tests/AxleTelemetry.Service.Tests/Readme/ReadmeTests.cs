using System.Globalization;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Messages.VehicleFiles;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Tests.Watching;

namespace AxleTelemetry.Service.Tests.Readme;

/// <summary>What the README says to type is typed.</summary>
public sealed class ReadmeTests
{
    private const string Publisher = "mosquitto_pub", Serve = ReadmeText.Program + "serve ", Demo = ReadmeText.Program + "demo";

    /// <summary>Lines that are not run here, by how they begin, and why.</summary>
    private static readonly Dictionary<string, string> NotRun = new()
    {
        ["dotnet test "] = "it would run this test, which would run it",
    };

    public static TheoryData<string> Commands => [.. ReadmeText.CodeLines.Where(l => l.StartsWith(ReadmeText.Program, StringComparison.Ordinal) && !Stays(l))];

    public static TheoryData<string> Published => [.. ReadmeText.CodeLines.Where(l => l.StartsWith(Publisher, StringComparison.Ordinal))];

    public static TheoryData<string> Samples => [.. ReadmeText.Samples];

    [Fact]
    public void Every_line_of_code_is_run_by_a_test_or_listed_with_its_reason()
    {
        Assert.NotEmpty(ReadmeText.CodeLines);
        Assert.All(ReadmeText.CodeLines, line => Assert.True(
            line.StartsWith(ReadmeText.Program, StringComparison.Ordinal) || line.StartsWith(Publisher, StringComparison.Ordinal) || line.StartsWith('{')
            || NotRun.Keys.Any(begin => line.StartsWith(begin, StringComparison.Ordinal)), $"Nobody runs: {line}"));
        Assert.All(NotRun.Keys, begin => Assert.Contains(ReadmeText.CodeLines, line => line.StartsWith(begin, StringComparison.Ordinal)));
        Assert.Contains(ReadmeText.CodeLines, line => line.StartsWith(Serve, StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Commands))]
    public async Task A_command_does_what_it_is_shown_for(string line)
    {
        using var folder = new ReadmeFolder();
        await using var run = folder.Run(line);
        Assert.True(await run.Exit() == 0, string.Join('\n', run.Output.All.Concat(run.Errors.All)));
        Assert.NotEmpty(run.Output.All);
    }

    [Fact]
    public async Task The_service_answers_at_its_address_and_stops_as_asked()
    {
        using var folder = new ReadmeFolder();
        await using var service = folder.Run(ReadmeText.CodeLines.First(l => l.StartsWith(Serve, StringComparison.Ordinal)));
        await folder.Answers("/sign-in", page => page.Contains("AxleTelemetry", StringComparison.Ordinal));
        await folder.Answers("/health", _ => true);
        await service.Output.Until("/one-time?code=");
        await service.Signal("TERM");
        Assert.Equal(0, await service.Exit());
    }

    [Fact]
    public async Task The_demonstration_shows_vehicles_at_its_address_and_stops_as_asked()
    {
        using var folder = new ReadmeFolder();
        var line = ReadmeText.CodeLines.FirstOrDefault(l => l.StartsWith(Demo, StringComparison.Ordinal)) ?? Demo;
        await using var demo = folder.Run(line, "--listen", folder.Pages);
        await folder.Answers("/", page => page.Contains("AxleTelemetry", StringComparison.Ordinal));
        await folder.Answers("/api/v1/vehicles", vehicles => vehicles.Contains("\"rolling\"", StringComparison.Ordinal));
        await demo.Signal("TERM");
        Assert.Equal(0, await demo.Exit());
    }

    [Theory]
    [MemberData(nameof(Published))]
    public async Task What_is_published_arrives(string line)
    {
        Mosquitto.SkipUnlessInstalled();
        using var folder = new ReadmeFolder();
        await using var service = folder.Run(ReadmeText.CodeLines.First(l => l.StartsWith(Serve, StringComparison.Ordinal)));
        await folder.Answers("/health", _ => true);
        var words = ReadmeText.Words(line);
        await using var publisher = RunningProgram.Start(words[0], [.. words.Skip(1), "-p", folder.Broker.ToString(CultureInfo.InvariantCulture)]);
        Assert.Equal(0, await publisher.Exit());
        Assert.Empty(publisher.Errors.All);

        var topic = Named(words[words.IndexOf("-t") + 1]);
        await folder.Answers($"/api/v1/vehicles/{topic.Fleet}/{topic.Vehicle}", vehicle => !vehicle.Contains("\"heard_at\":null", StringComparison.Ordinal));
        await folder.Answers("/api/v1/refusals", refused => JsonDocument.Parse(refused).RootElement.GetProperty("refusals").GetArrayLength() == 0);
    }

    [Theory]
    [MemberData(nameof(Samples))]
    public void A_sample_is_what_the_contract_asks(string json)
    {
        using var document = JsonDocument.Parse(json);
        var line = ReadmeText.CodeLines.FirstOrDefault(l => l.StartsWith(Publisher, StringComparison.Ordinal) && ReadmeText.Words(l).Contains(json));
        if (line is null) return;
        var topic = Named(ReadmeText.Words(line)[ReadmeText.Words(line).IndexOf("-t") + 1]);
        var vehicle = Assert.IsType<VehicleFileResult.Accepted>(VehicleFile.Parse(File.ReadAllBytes(Example(topic.Vehicle)))).Vehicle;
        var received = new Moment(document.RootElement.GetProperty("samples")[0].GetProperty("t").GetDateTimeOffset().ToUnixTimeMilliseconds()).Plus(1);
        var decoded = new DecodedMessage();
        PayloadDecoder.Decode(Encoding.UTF8.GetBytes(json), new Envelope(topic, new Described(vehicle).Keys, received, TimeSpan.FromMinutes(1)), decoded);
        Assert.Equal(0, decoded.Refusals.Total);
        Assert.NotEqual(0, decoded.Readings.Length);
    }

    // Those that run until they are told to stop have tests of their own.
    private static bool Stays(string line) => line.StartsWith(Serve, StringComparison.Ordinal) || line.StartsWith(Demo, StringComparison.Ordinal);

    private static Topic Named(string topic) => Assert.IsType<TopicResult.Named>(Topic.Parse(topic)).Topic;

    private static string Example(string vehicle) => Directory.EnumerateFiles(Path.Combine(AppContext.BaseDirectory, "examples"), "*.json")
        .First(f => File.ReadAllText(f).Contains($"\"id\": \"{vehicle}\"", StringComparison.Ordinal));
}

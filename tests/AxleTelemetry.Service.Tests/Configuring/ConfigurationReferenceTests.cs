using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using AxleTelemetry.Messages.Settings;
using AxleTelemetry.Service.Commands;
using Json.Schema;

namespace AxleTelemetry.Service.Tests.Configuring;

/// <summary>The page that says every key of the settings is the one that the schema and the command would write now.</summary>
public sealed partial class ConfigurationReferenceTests
{
    private const string Refresh = "UPDATE_CONFIGURATION";

    [Fact]
    public async Task The_page_says_every_key_as_it_is_read()
    {
        using var schema = JsonDocument.Parse(SettingsFile.OpenSchema());
        var written = new ConfigurationReference(schema.RootElement).Write(ServeCommand.Create());
        var file = Path.Combine(Root(), "docs", "configuration.md");
        if (Environment.GetEnvironmentVariable(Refresh) == "1") await File.WriteAllTextAsync(file, written, TestContext.Current.CancellationToken);
        var kept = File.Exists(file) ? (await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken)).ReplaceLineEndings("\n") : "";
        Assert.True(kept == written, $"Settings changed. Where that was wanted, run this test with {Refresh}=1 and read the difference in {file}.");
    }

    [Fact]
    public void Every_example_is_right()
    {
        using var schema = JsonDocument.Parse(SettingsFile.OpenSchema());
        var parts = JsonNode.Parse(schema.RootElement.GetProperty("$defs").GetRawText())!;
        var seen = 0;
        foreach (var key in Keys(schema.RootElement))
            foreach (var example in key.GetProperty("examples").EnumerateArray())
            {
                var own = JsonNode.Parse(key.GetRawText())!;
                own["$defs"] = parts.DeepClone();
                Assert.True(JsonSchema.FromText(own.ToJsonString()).Evaluate(example).IsValid, $"{example.GetRawText()} is no example of {key.GetProperty("description")}");
                seen++;
            }

        Assert.True(seen > 10, $"{seen} examples");
    }

    [Fact]
    public void Every_variable_of_the_environment_that_is_read_is_told()
    {
        var read = Directory.EnumerateFiles(Path.Combine(Root(), "src"), "*.cs", SearchOption.AllDirectories)
            .SelectMany(f => Variable().Matches(File.ReadAllText(f))).Select(m => m.Groups[1].Value).Distinct();
        // TERM is the terminal's, for the display of 'watch'.
        Assert.Equal(read.Where(v => v != "TERM").Order(), ConfigurationReference.Variables.Select(v => v.Name).Order());
    }

    private static IEnumerable<JsonElement> Keys(JsonElement of) => of.ValueKind != JsonValueKind.Object ? []
        : of.EnumerateObject().SelectMany(p => Keys(p.Value)).Concat(of.TryGetProperty("examples", out var list) && list.ValueKind == JsonValueKind.Array ? [of] : []);

    private static string Root()
    {
        var at = new DirectoryInfo(AppContext.BaseDirectory);
        while (at is not null && !File.Exists(Path.Combine(at.FullName, "AxleTelemetry.sln"))) at = at.Parent;
        return at?.FullName ?? throw new InvalidOperationException("The repository is not above the tests.");
    }

    [GeneratedRegex("GetEnvironmentVariable\\(\"([A-Z_]+)\"")]
    private static partial Regex Variable();
}

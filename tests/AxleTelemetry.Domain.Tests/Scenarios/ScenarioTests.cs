using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Domain.Tests.Scenarios;

/// <summary>
/// Journeys in plain text with what is found. UPDATE_SCENARIOS=1 in the environment writes what is found into the files
/// instead of comparing; read the difference before keeping it.
/// </summary>
public sealed class ScenarioTests
{
    private const string Divider = "findings";

    public static TheoryData<string> All => [.. Repository.Names];

    [Theory, MemberData(nameof(All))]
    public void A_journey_gives_its_findings(string name)
    {
        var path = Path.Combine(Repository.Scenarios, name + ".txt");
        var text = File.ReadAllText(path);
        var (script, golden) = Read(name, text);
        var found = new Scenario(script).Play();
        if (Environment.GetEnvironmentVariable("UPDATE_SCENARIOS") == "1") File.WriteAllText(path, WithFindings(text, found));
        else if (Difference.Of(golden, found) is { } difference) Assert.Fail($"{name}.txt: not what was found before (- before, + now):\n{difference}");
    }

    [Theory, MemberData(nameof(All))]
    public void What_is_told_as_sure_is_true(string name)
    {
        var (script, _) = Read(name, File.ReadAllText(Path.Combine(Repository.Scenarios, name + ".txt")));
        var scenario = new Scenario(script);
        scenario.Play();
        foreach (var (output, truth) in scenario.Said)
            if (output is LaneOutput.Episode { Level: Level.Surely, Change: EpisodeChange.Opened or EpisodeChange.Rose, Detail: FindingDetail.Excess excess })
                Assert.True(truth.Excess(excess.Verdict.Margin) > 0, $"{output}");
    }

    private static (JourneyScript Script, ImmutableArray<string> Golden) Read(string name, string text)
    {
        var result = JourneyText.Read(text, Repository.Vehicle);
        if (result is JourneyResult.Refused refused) Assert.Fail($"{name}.txt:\n{string.Join('\n', refused.Problems)}");
        var accepted = Assert.IsType<JourneyResult.Accepted>(result);
        return (accepted.Script, [.. accepted.Findings.Where(line => line.Length > 0)]);
    }

    private static string WithFindings(string text, ImmutableArray<string> found)
    {
        var lines = text.ReplaceLineEndings("\n").Split('\n').TakeWhile(line => line != Divider).ToList();
        while (lines.Count > 0 && lines[^1].Length == 0) lines.RemoveAt(lines.Count - 1);
        return string.Join('\n', [.. lines, "", Divider, .. found, ""]);
    }
}

using AxleTelemetry.Domain.Tests.Scenarios;
using AxleTelemetry.Simulator.Journeys;

namespace AxleTelemetry.Simulator.Tests.Journeys;

/// <summary>Short ways to a journey.</summary>
internal static class Journey
{
    public static JourneyScript Read(string text) => Assert.IsType<JourneyResult.Accepted>(JourneyText.Read(text, Repository.Vehicle)).Script;

    public static JourneyScript Named(string name) => Read(File.ReadAllText(Path.Combine(Repository.Scenarios, name + ".txt")));

    public static string[] ProblemsOf(string text) =>
        [.. Assert.IsType<JourneyResult.Refused>(JourneyText.Read(text, Repository.Vehicle)).Problems.Select(p => p.ToString())];
}

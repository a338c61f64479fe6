using System.Text.Json;
using AxleTelemetry.Service.Register;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Exporting;

/// <summary>Episodes as JSON, one object a line, as the interface gives them.</summary>
internal static class EpisodeJson
{
    public static void Write(IEnumerable<EpisodeDocument> episodes, TextWriter output)
    {
        foreach (var episode in episodes) output.WriteLine(JsonSerializer.Serialize(episode, JsonText.Options));
    }
}

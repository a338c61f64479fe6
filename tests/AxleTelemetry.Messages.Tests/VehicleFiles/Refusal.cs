using System.Text;
using System.Text.Json.Nodes;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Tests.VehicleFiles;

/// <summary>A file with one thing wrong or odd, and what is to be said of it.</summary>
public sealed record Refusal(ProblemKind Kind, string Path, byte[] Text)
{
    /// <summary>An example with one change.</summary>
    public static Refusal Of(ProblemKind kind, string path, string example, Action<JsonNode> change)
    {
        var vehicle = JsonNode.Parse(Examples.Bytes(example + ".json"))!;
        change(vehicle);
        return new Refusal(kind, path, Encoding.UTF8.GetBytes(vehicle.ToJsonString()));
    }

    public override string ToString() => $"{Kind} at {Path}";
}

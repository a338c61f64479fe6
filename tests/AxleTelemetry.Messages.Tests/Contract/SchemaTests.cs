using System.Text.Json;
using AxleTelemetry.Messages.Tests.Payloads;
using AxleTelemetry.Messages.Topics;
using Json.Schema;

namespace AxleTelemetry.Messages.Tests.Contract;

/// <summary>The schemas of the document, judged by a JSON Schema library, take and refuse what the codec takes and refuses.</summary>
public class SchemaTests
{
    private static readonly Dictionary<UpStream, JsonSchema> Schemas = Enum.GetValues<UpStream>().ToDictionary(
        stream => stream,
        stream => JsonSchema.FromText(ContractDocument.At("components", "messages", stream.Name(), "payload").ToJsonString(), new BuildOptions { Dialect = Dialect.Draft07 }));

    [Theory]
    [InlineData(UpStream.Pressure, """{"samples":[]}""")]
    [InlineData(UpStream.Pressure, """{"x":1,"samples":[{"t":"2026-03-02T06:14:05Z","y":null}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":"2026-03-02T06:14:05.123456+00:00","kpa":{"tag":-5,"drive":1600}}]}""")]
    [InlineData(UpStream.Position, """{"samples":[{"t":0,"speed_mps":60}]}""")]
    [InlineData(UpStream.Coupling, """{"samples":[{"t":0}]}""")]
    [InlineData(UpStream.Frame, """{"samples":[{"t":0,"lat":-90,"lon":180,"mode":"traction"}]}""")]
    public void Both_take(UpStream stream, string payload)
    {
        Assert.True(IsValid(stream, payload));
        Assert.Equal(0, Decoded.From(stream, payload).Refusals.Total);
    }

    [Theory]
    [InlineData(UpStream.Pressure, "{}")]
    [InlineData(UpStream.Pressure, "[]")]
    [InlineData(UpStream.Pressure, """{"samples":null}""")]
    [InlineData(UpStream.Pressure, """{"samples":[7]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"kpa":{}}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":-1}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":1.5}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":"2026-03-02"}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":"2026-03-02T06:14:05+01:00"}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":0,"kpa":7}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":0,"kpa":{"tag":null}}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":0,"kpa":{"tag":-5.01}}]}""")]
    [InlineData(UpStream.Pressure, """{"samples":[{"t":0,"kpa":{"tag":1600.01}}]}""")]
    [InlineData(UpStream.Pressure, """{"seq":-1,"samples":[]}""")]
    [InlineData(UpStream.Pressure, """{"boot":"","samples":[]}""")]
    [InlineData(UpStream.Pressure, """{"boot":"a b","samples":[]}""")]
    [InlineData(UpStream.Pressure, """{"vehicle":"no vehicle","samples":[]}""")]
    [InlineData(UpStream.Lift, """{"samples":[{"t":0,"axles":{"tag":"up"}}]}""")]
    [InlineData(UpStream.Condition, """{"samples":[{"t":0,"ride":"high"}]}""")]
    [InlineData(UpStream.Condition, """{"samples":[{"t":0,"pto":1}]}""")]
    [InlineData(UpStream.Condition, """{"samples":[{"t":0,"fuel_l":-1}]}""")]
    [InlineData(UpStream.Position, """{"samples":[{"t":0,"lat":46}]}""")]
    [InlineData(UpStream.Position, """{"samples":[{"t":0,"lat":46,"lon":180.1}]}""")]
    [InlineData(UpStream.Frame, """{"samples":[{"t":0,"lon":14}]}""")]
    [InlineData(UpStream.Coupling, """{"samples":[{"t":0,"trailers":["a","a"]}]}""")]
    [InlineData(UpStream.Coupling, """{"samples":[{"t":0,"trailers":[""]}]}""")]
    [InlineData(UpStream.Coupling, """{"samples":[{"t":0,"trailers":["1","2","3","4","5","6","7","8","9"]}]}""")]
    [InlineData(UpStream.Presence, """{"t":0}""")]
    [InlineData(UpStream.Presence, """{"online":"yes"}""")]
    public void Both_refuse(UpStream stream, string payload)
    {
        Assert.False(IsValid(stream, payload));
        Assert.NotEqual(0, Decoded.From(stream, payload).Refusals.Total);
    }

    [Fact]
    public void The_schemas_take_the_examples_of_the_document()
    {
        foreach (var stream in Enum.GetValues<UpStream>())
        {
            foreach (var example in ContractDocument.At("components", "messages", stream.Name())["examples"]!.AsArray())
            {
                Assert.True(IsValid(stream, example!["payload"]!.ToJsonString()), $"{stream} {example["name"]}");
            }
        }
    }

    private static bool IsValid(UpStream stream, string payload)
    {
        using var document = JsonDocument.Parse(payload);
        return Evaluate(Schemas[stream], document.RootElement);
    }

    private static bool Evaluate(JsonSchema schema, JsonElement payload) => schema.Evaluate(payload).IsValid;
}

using System.Text;
using System.Text.Json.Nodes;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Tests.Payloads;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Tests.Contract;

/// <summary>The document and the codec say the same.</summary>
public class ContractTests
{
    public static TheoryData<UpStream> Streams { get; } = [.. Enum.GetValues<UpStream>()];

    // What goes out is held to the document where it is written.
    private static readonly string[] Down = ["advice", "alerts"];

    [Fact]
    public void Document_and_codec_know_the_same_streams()
    {
        Assert.Equal("3.0.0", ContractDocument.Root["asyncapi"]!.GetValue<string>());
        var names = UpStreamNames.All.Concat(Down).Order();
        Assert.Equal(names, ContractDocument.At("channels").Select(channel => channel.Key).Order());
        Assert.Equal(names, ContractDocument.At("components", "messages").Select(message => message.Key).Order());
        Assert.Equal(UpStreamNames.All.Order(), Addressed("receive"));
        Assert.Equal(Down, Addressed("send"));
    }

    private static IEnumerable<string> Addressed(string action) => ContractDocument.At("operations").Where(o => o.Value!["action"]!.GetValue<string>() == action)
        .Select(o => o.Value!["channel"]!["address"]!.GetValue<string>().Split('/')[^1]).Order();

    [Theory]
    [MemberData(nameof(Streams))]
    public void A_channel_has_the_address_that_the_topic_parser_takes(UpStream stream)
    {
        var address = ContractDocument.At("channels", stream.Name())["address"]!.GetValue<string>();
        var topic = address.Replace("{fleet}", "north", StringComparison.Ordinal).Replace("{vehicle}", "T-01", StringComparison.Ordinal);
        Assert.Equal(new Topic("north", "T-01", stream), Assert.IsType<TopicResult.Named>(Topic.Parse(topic)).Topic);
    }

    [Theory]
    [MemberData(nameof(Streams))]
    public void Document_and_codec_know_the_same_fields(UpStream stream)
    {
        Assert.Equal(Names(stream, FieldLevel.Message), Properties(stream, FieldLevel.Message).Select(property => property.Key).Order());
        Assert.Equal(Names(stream, FieldLevel.Sample), Properties(stream, FieldLevel.Sample).Select(property => property.Key).Order());
    }

    [Theory]
    [MemberData(nameof(Streams))]
    public void Document_and_codec_know_the_same_ranges(UpStream stream)
    {
        foreach (var field in ContractFields.Of(stream).Where(field => field.Unit.Length > 0))
        {
            var schema = Properties(stream, field.Level)[field.Name]!.AsObject();
            var number = (schema["additionalProperties"] ?? schema).AsObject();
            Assert.Equal((field.Name, field.Least, field.Greatest), (field.Name, (double)number["minimum"]!.GetValue<long>(), (double)number["maximum"]!.GetValue<long>()));
        }
    }

    [Fact]
    public void Document_and_codec_know_the_same_words_and_bounds()
    {
        var schemas = ContractDocument.At("components", "schemas");
        Assert.Equal(Words.Lift.Names, Strings(schemas["axles"]!["additionalProperties"]!["enum"]!));
        Assert.Equal(Words.Reason.Names, Strings(schemas["reason"]!["enum"]!));
        Assert.Equal(Words.Ride.Names, Strings(schemas["ride"]!["enum"]!));
        Assert.Equal(ContractLimits.MaxTrailers, schemas["trailers"]!["maxItems"]!.GetValue<long>());
        Assert.Equal(TimeText.Last, schemas["t"]!["oneOf"]![1]!["maximum"]!.GetValue<long>());
        foreach (var stream in UpStreamNames.All.Where(name => name != "presence"))
        {
            var samples = ContractDocument.At("components", "messages", stream, "payload", "properties", "samples");
            Assert.Equal(ContractLimits.MaxSamples, samples["maxItems"]!.GetValue<long>());
        }
    }

    [Theory]
    [MemberData(nameof(Streams))]
    public void Every_example_decodes_without_refusal_to_every_value_in_it(UpStream stream)
    {
        var examples = ContractDocument.At("components", "messages", stream.Name())["examples"]!.AsArray();
        Assert.NotEmpty(examples);
        foreach (var example in examples)
        {
            var payload = example!["payload"]!;
            var message = Decoded.From(stream, Encoding.UTF8.GetBytes(payload.ToJsonString()));
            Assert.Equal(0, message.Refusals.Total);
            Assert.Equal(ReadingsIn(payload), message.Readings.Length);
            Assert.Equal(payload["samples"]?.AsArray().Count ?? 0, message.Samples);
            Assert.Equal(stream == UpStream.Coupling ? message.Samples : 0, message.Couplings.Length);
            Assert.Equal(stream == UpStream.Presence, message.Presence is not null);
            Assert.Equal(payload["boot"]?.GetValue<string>(), message.Boot?.ToString());
        }
    }

    private static int ReadingsIn(JsonNode payload) => (payload["samples"]?.AsArray() ?? []).Sum(sample => sample!.AsObject().Sum(field => field.Key switch
    {
        "t" or "by" or "reason" or "trailers" => 0,
        "kpa" or "axles" => field.Value!.AsObject().Count,
        _ => 1,
    }));

    private static IEnumerable<string> Names(UpStream stream, FieldLevel level) =>
        ContractFields.Of(stream).Where(field => field.Level == level).Select(field => field.Name).Order();

    private static JsonObject Properties(UpStream stream, FieldLevel level)
    {
        var properties = ContractDocument.At("components", "messages", stream.Name(), "payload", "properties");
        if (level == FieldLevel.Message) return properties;
        return properties["samples"]?["items"]?["properties"]?.AsObject() ?? [];
    }

    private static IEnumerable<string> Strings(JsonNode list) => list.AsArray().Select(item => item!.GetValue<string>());
}

using System.Globalization;
using System.Text.Json.Nodes;
using AxleTelemetry.Messages.Payloads;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace AxleTelemetry.Messages.Tests.Contract;

/// <summary>The contract document as JSON, with every reference replaced by what it refers to.</summary>
internal static class ContractDocument
{
    public static JsonObject Root { get; } = Load();

    public static JsonObject At(params string[] path) => path.Aggregate(Root, (node, name) => node[name]!.AsObject());

    private static JsonObject Load()
    {
        using var text = new StreamReader(typeof(PayloadDecoder).Assembly.GetManifestResourceStream("asyncapi.yaml")!);
        var yaml = new YamlStream();
        yaml.Load(text);
        var raw = ToJson(yaml.Documents[0].RootNode)!.AsObject();
        return Resolve(raw, raw)!.AsObject();
    }

    private static JsonNode? ToJson(YamlNode node) => node switch
    {
        YamlMappingNode map => new JsonObject(map.Children.Select(pair => KeyValuePair.Create(((YamlScalarNode)pair.Key).Value!, ToJson(pair.Value)))),
        YamlSequenceNode list => new JsonArray([.. list.Children.Select(ToJson)]),
        YamlScalarNode { Style: ScalarStyle.Plain } plain => Plain(plain.Value!),
        YamlScalarNode quoted => JsonValue.Create(quoted.Value),
        _ => throw new InvalidOperationException($"A {node.NodeType} in the document."),
    };

    private static JsonValue Plain(string text)
    {
        if (text is "true" or "false") return JsonValue.Create(text == "true");
        if (long.TryParse(text, CultureInfo.InvariantCulture, out var whole)) return JsonValue.Create(whole);
        return decimal.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) ? JsonValue.Create(number) : JsonValue.Create(text);
    }

    private static JsonNode? Resolve(JsonNode? node, JsonObject root)
    {
        if (node is JsonArray list) return new JsonArray([.. list.Select(item => Resolve(item, root))]);
        if (node is not JsonObject map) return node?.DeepClone();
        if (map["$ref"] is not { } reference) return new JsonObject(map.Select(pair => KeyValuePair.Create(pair.Key, Resolve(pair.Value, root))));
        var path = reference.GetValue<string>().Split('/')[1..];
        var target = path.Aggregate((JsonNode?)root, (at, name) => at?[name]) ?? throw new InvalidOperationException($"Nothing at {reference}.");
        return Resolve(target, root);
    }
}

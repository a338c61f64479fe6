using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Serving;

/// <summary>How everything that leaves as JSON is written: snake_case names, times in UTC to the millisecond, words for what is one of a list.</summary>
internal static class JsonText
{
    public static JsonSerializerOptions Options { get; } = Made();

    /// <summary>The same for an options object that someone else owns.</summary>
    public static void Apply(JsonSerializerOptions options)
    {
        options.PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower;
        options.DictionaryKeyPolicy = null;
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        options.NumberHandling = JsonNumberHandling.Strict;
        options.Converters.Add(new MomentJson());
    }

    /// <summary>One of a list, for a program: <c>surely</c>, <c>own_sensor</c>.</summary>
    public static string Word<T>(T value) where T : struct, Enum => JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString());

    private static JsonSerializerOptions Made()
    {
        var options = new JsonSerializerOptions();
        Apply(options);
        return options;
    }

    private sealed class MomentJson : JsonConverter<Moment>
    {
        public override Moment Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
            DateTimeOffset.TryParse(reader.GetString(), CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var at)
                ? new Moment(at.ToUnixTimeMilliseconds())
                : throw new JsonException("No time.");

        public override void Write(Utf8JsonWriter writer, Moment value, JsonSerializerOptions options) => writer.WriteStringValue(value.ToString());
    }
}

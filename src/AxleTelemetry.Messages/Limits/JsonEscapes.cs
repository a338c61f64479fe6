using System.Text.Json;

namespace AxleTelemetry.Messages.Limits;

/// <summary>Texts that are right by the grammar of JSON and yet no text: half a surrogate pair, or bytes that are no UTF-8.</summary>
internal static class JsonEscapes
{
    /// <summary>False where some name or text cannot be read. A mistake in the grammar is left to the parser: true.</summary>
    public static bool AreWhole(ReadOnlySpan<byte> json)
    {
        var reader = new Utf8JsonReader(json);
        try
        {
            while (reader.Read())
                if (reader.TokenType is JsonTokenType.String or JsonTokenType.PropertyName)
                    reader.GetString();
            return true;
        }
        catch (JsonException)
        {
            return true;
        }
        catch (InvalidOperationException)
        {
            return false;
        }
    }
}

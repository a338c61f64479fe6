using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Inspecting;

/// <summary>Messages as they came.</summary>
/// <param name="Fleet">Whose.</param>
/// <param name="Vehicle">Whose.</param>
/// <param name="From">Beginning of the span asked for, by the vehicle's clock.</param>
/// <param name="To">Its end.</param>
/// <param name="Messages">Those with a sample in it, by their earliest sample.</param>
/// <param name="More">There are more than are given here.</param>
internal sealed record RawMessages(string Fleet, string Vehicle, Moment From, Moment To, ImmutableArray<RawMessage> Messages, bool More);

/// <summary>One message as it came.</summary>
/// <param name="Position">Its place in the journal: <c>batch.row</c>.</param>
/// <param name="ReceivedAt">When it was received, by our clock.</param>
/// <param name="Stream">What it was sent as.</param>
/// <param name="FirstSampleAt">Its earliest sample, by the vehicle's clock.</param>
/// <param name="LastSampleAt">Its latest sample.</param>
/// <param name="Text">The payload; absent where it is no UTF-8.</param>
/// <param name="Base64">The payload where it is no UTF-8.</param>
internal sealed record RawMessage(string Position, Moment ReceivedAt, string Stream, Moment FirstSampleAt, Moment LastSampleAt, string? Text, string? Base64)
{
    public static RawMessage Of(LoggedInput input)
    {
        var text = TextOf(input.Row.Bytes);
        return new RawMessage(
            PositionText(input.Position), input.Row.Received, StreamOf(input.Row.Stream), input.Row.Samples.Least, input.Row.Samples.Greatest,
            text, text is null ? Convert.ToBase64String(input.Row.Bytes.AsSpan()) : null);
    }

    public static string PositionText(Position position) => string.Create(CultureInfo.InvariantCulture, $"{position.Batch}.{position.Row}");

    /// <summary>Bytes as text; <c>null</c> where they are no UTF-8: what is shown must be what came.</summary>
    public static string? TextOf(ImmutableArray<byte> bytes)
    {
        try
        {
            return Strict.GetString(bytes.AsSpan());
        }
        catch (DecoderFallbackException)
        {
            return null;
        }
    }

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private static string StreamOf(StreamCode code) => code.Code >= 0 && code.Code < UpStreamNames.All.Length ? UpStreamNames.All[code.Code] : "unknown";
}

using System.Text.Json;
using System.Text.Unicode;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// Decodes the JSON payloads of every stream. Pure: the same bytes and envelope give the same result. Never throws on what
/// a device sends; allocates nothing for good input but the ids of a coupling, once the buffer has its size.
/// </summary>
/// <remarks>
/// What JSON leaves open is settled so. A payload is one value in UTF-8 (RFC 8259) without byte order mark, comments, trailing
/// commas or anything behind it, at most <see cref="ContractLimits.MaxDepth"/> levels deep; else nothing of it counts. Escapes
/// in names count as the characters they stand for; one that stands for half a character matches no name. A name given twice: of a
/// reading, both are emitted, lesser first, and the greater counts as for every identity; <c>samples</c>: both lists count; of
/// <c>t</c>, <c>trailers</c>, <c>seq</c>, <c>boot</c>, <c>online</c>: the same value is no harm, another refuses them. <c>null</c> is a wrong type: a
/// value that is not there is left out. Numbers are the nearest double; minus zero is zero; what is nearest to no finite double is refused.
/// </remarks>
public static class PayloadDecoder
{
    // Longer than any name, word, id or time of the contract, even with every character escaped.
    private const int MaxEscapedName = 512;

    /// <summary>Decodes a payload into a buffer, which is emptied first.</summary>
    public static void Decode(ReadOnlySpan<byte> payload, in Envelope envelope, DecodedMessage into)
    {
        ArgumentNullException.ThrowIfNull(into);
        into.Clear();
        if (BeforeReading(payload) is { } refusal)
        {
            into.RefuseWhole(refusal);
            return;
        }

        var reading = new MessageReading(payload, envelope, into, stackalloc byte[MaxEscapedName]);
        try
        {
            reading.Run();
        }
        catch (JsonException problem)
        {
            into.RefuseWhole(reading.Explain(payload, problem));
        }
    }

    private static Refusal? BeforeReading(ReadOnlySpan<byte> payload)
    {
        if (payload.Length > ContractLimits.MaxBytes)
        {
            return Whole(RefusalReason.TooLong, $"{payload.Length} bytes", $"at most {ContractLimits.MaxBytes} bytes");
        }

        if (payload.StartsWith("\uFEFF"u8)) return Whole(RefusalReason.NotJson, "byte order mark", "JSON without a byte order mark");
        return Utf8.IsValid(payload) ? null : Whole(RefusalReason.NotUtf8, Excerpt.Of(payload), "text in UTF-8");
    }

    private static Refusal Whole(RefusalReason reason, string excerpt, string right) => new(reason, "payload", excerpt, right);
}

using System.Collections.Immutable;
using System.Text.Json;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>Names and texts of the JSON, and the words for what is refused.</summary>
internal ref partial struct MessageReading
{
    /// <summary>Says why the JSON reader gave up.</summary>
    public readonly Refusal Explain(ReadOnlySpan<byte> payload, JsonException problem)
    {
        var at = Math.Min((int)json.BytesConsumed, payload.Length);
        while (at < payload.Length && payload[at] is (byte)' ' or (byte)'\n' or (byte)'\r' or (byte)'\t' or (byte)',' or (byte)':') at++;
        var depth = json.CurrentDepth + (json.TokenType is JsonTokenType.StartArray or JsonTokenType.StartObject ? 1 : 0);
        var isTooDeep = depth >= ContractLimits.MaxDepth && at < payload.Length && payload[at] is (byte)'{' or (byte)'[';
        var place = FormattableString.Invariant($"line {problem.LineNumber + 1}, byte {problem.BytePositionInLine + 1}");
        var excerpt = payload.IsEmpty ? "nothing" : $"{Excerpt.Of(payload[at..])} ({place})";
        return isTooDeep
            ? new Refusal(RefusalReason.TooDeep, "payload", excerpt, $"at most {ContractLimits.MaxDepth} levels")
            : new Refusal(RefusalReason.NotJson, "payload", excerpt, "one JSON object");
    }

    /// <summary>The text here without escapes; empty when it is too long for any name or stands for half a character.</summary>
    private readonly ReadOnlySpan<byte> Text()
    {
        if (!json.ValueIsEscaped) return json.ValueSpan;
        if (json.ValueSpan.Length > scratch.Length) return default;
        try
        {
            return scratch[..json.CopyString(scratch)];
        }
        catch (InvalidOperationException)
        {
            // The reader's answer to an unpaired surrogate. Nothing of ours has such a name.
            return default;
        }
    }

    private readonly string Shown() => json.TokenType switch
    {
        JsonTokenType.StartObject => "an object",
        JsonTokenType.StartArray => "a list",
        JsonTokenType.EndObject => "not there",
        _ => Excerpt.Of(json.ValueSpan),
    };

    private readonly string Path(string field, ReadOnlySpan<char> key)
    {
        var place = sample.Index < 0 ? "" : FormattableString.Invariant($"samples[{sample.Index}]");
        var dot = place.Length > 0 && field.Length > 0 ? "." : "";
        return key.IsEmpty ? $"{place}{dot}{field}" : $"{place}{dot}{field}.{key}";
    }

    /// <summary>Refuses the value that the reader stands on.</summary>
    private readonly void Refuse(RefusalReason reason, string field, string right, ReadOnlySpan<char> key = default)
    {
        if (into.Refusals.WantsDetail) into.Refusals.Add(new Refusal(reason, Path(field, key), Shown(), right));
        else into.Refusals.Count(reason, 1);
    }

    private readonly void RefuseRange(RefusalReason reason, ContractField field, ReadOnlySpan<char> key) =>
        Refuse(reason, field.Name, into.Refusals.WantsDetail ? field.Range : "", key);

    private readonly void RefuseWord(RefusalReason reason, string field, ImmutableArray<string> known, ReadOnlySpan<char> key = default) =>
        Refuse(reason, field, into.Refusals.WantsDetail ? "one of " + string.Join(", ", known) : "", key);

    /// <summary>Refuses the sample being read, its readings with it.</summary>
    private void RefuseSample(RefusalReason reason, string field, string right)
    {
        sample.IsRefused = true;
        Refuse(reason, field, right);
    }

    private readonly void RefuseWhole(RefusalReason reason, string field, string excerpt, string right) =>
        into.RefuseWhole(new Refusal(reason, Path(field, default), excerpt, right));
}

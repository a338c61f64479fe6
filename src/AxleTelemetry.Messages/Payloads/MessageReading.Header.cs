using System.Text.Json;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>Fields of the message itself. A wrong one costs itself, not the samples.</summary>
internal ref partial struct MessageReading
{
    private const string SequenceRule = "a whole number from 0 to 9223372036854775807";

    private void ReadSequence(ref HeaderState header)
    {
        if (json.TokenType != JsonTokenType.Number)
        {
            Refuse(RefusalReason.WrongType, "seq", SequenceRule);
            header.IsSequenceRefused = true;
        }
        else if (!json.TryGetInt64(out var sequence) || sequence < 0)
        {
            Refuse(RefusalReason.OutOfRange, "seq", SequenceRule);
            header.IsSequenceRefused = true;
        }
        else
        {
            if (into.Sequence is { } other && other != sequence)
            {
                Refuse(RefusalReason.Contradiction, "seq", "one value");
                header.IsSequenceRefused = true;
            }

            into.Sequence = sequence;
        }

        if (header.IsSequenceRefused) into.Sequence = null;
        json.Skip();
    }

    private void ReadBoot(ref HeaderState header)
    {
        var boot = json.TokenType == JsonTokenType.String ? BootId.From(Text()) : null;
        if (boot is null)
        {
            Refuse(json.TokenType == JsonTokenType.String ? RefusalReason.BadId : RefusalReason.WrongType, "boot", BootId.Rule);
            header.IsBootRefused = true;
        }
        else if (into.Boot is { } other && other != boot)
        {
            Refuse(RefusalReason.Contradiction, "boot", "one value");
            header.IsBootRefused = true;
        }

        into.Boot = header.IsBootRefused ? null : boot;
        json.Skip();
    }

    private void ReadOnline(ref HeaderState header)
    {
        if (json.TokenType is not (JsonTokenType.True or JsonTokenType.False))
        {
            Refuse(RefusalReason.WrongType, "online", "true or false");
            header.IsOnlineRefused = true;
            json.Skip();
            return;
        }

        var online = json.TokenType == JsonTokenType.True;
        if (header.Online is { } other && other != online)
        {
            Refuse(RefusalReason.Contradiction, "online", "one value");
            header.IsOnlineRefused = true;
        }

        header.Online = online;
    }
}

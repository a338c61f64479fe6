using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>
/// One pass over one payload. Methods that return a bool return false when the whole message is refused and the pass is
/// over; what is broken as JSON throws <see cref="JsonException"/> out of the reader, caught by the decoder.
/// </summary>
internal ref partial struct MessageReading
{
    private readonly Envelope envelope;
    private readonly DecodedMessage into;
    private readonly StreamFields fields;
    private readonly long latest;
    private readonly Span<byte> scratch;
    private Utf8JsonReader json;
    private SampleState sample;

    public MessageReading(ReadOnlySpan<byte> payload, in Envelope envelope, DecodedMessage into, Span<byte> scratch)
    {
        this.envelope = envelope;
        this.into = into;
        this.scratch = scratch;
        fields = ContractFields.Table(envelope.Topic.Stream);
        latest = envelope.Received.UnixMilliseconds + (long)envelope.AllowedSkew.TotalMilliseconds;
        json = new Utf8JsonReader(payload, new JsonReaderOptions { MaxDepth = ContractLimits.MaxDepth });
        sample = SampleState.OutsideOf;
    }

    public void Run()
    {
        json.Read();
        if (json.TokenType != JsonTokenType.StartObject)
        {
            // Broken bytes further on are the stronger reason, so look before judging the type.
            var found = Shown();
            ReadToEnd();
            RefuseWhole(RefusalReason.WrongType, "payload", found, "an object");
            return;
        }

        var header = default(HeaderState);
        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            var field = fields.OfMessage(Text());
            json.Read();
            if (field is null) json.Skip();
            else if (!ReadOfMessage(field, ref header)) return;
        }

        ReadToEnd();
        Close(header);
    }

    private void ReadToEnd()
    {
        while (json.Read())
        {
        }
    }

    private bool ReadOfMessage(ContractField field, ref HeaderState header)
    {
        switch (field.Kind)
        {
            case FieldKind.Sequence:
                ReadSequence(ref header);
                return true;
            case FieldKind.Boot:
                ReadBoot(ref header);
                return true;
            case FieldKind.Vehicle:
                return ReadVehicle();
            case FieldKind.Samples:
                header.HasSamples = true;
                return ReadSamples();
            case FieldKind.Online:
                ReadOnline(ref header);
                return true;
            case FieldKind.Time:
                ReadTime();
                return true;
            default:
                throw new InvalidOperationException($"No message holds a {field.Kind}.");
        }
    }

    private bool ReadVehicle()
    {
        if (json.TokenType == JsonTokenType.String && IsVehicle(Text())) return true;
        RefuseWhole(RefusalReason.OtherVehicle, "vehicle", Shown(), $"no such field, or {envelope.Topic.Vehicle} as in the topic");
        return false;
    }

    private readonly bool IsVehicle(ReadOnlySpan<byte> text)
    {
        var vehicle = envelope.Topic.Vehicle;
        if (text.Length != vehicle.Length) return false;
        for (var i = 0; i < text.Length; i++)
        {
            if (text[i] != vehicle[i]) return false;
        }

        return true;
    }

    private void Close(in HeaderState header)
    {
        if (fields.HasSamples)
        {
            if (!header.HasSamples) RefuseWhole(RefusalReason.MissingField, "samples", "not there", "a list of samples");
        }
        else
        {
            ClosePresence(header);
        }
    }

    private void ClosePresence(in HeaderState header)
    {
        if (sample.IsRefused || header.IsOnlineRefused) return;
        if (header.Online is { } online) into.Presence = new PresenceStatement(online, sample.At is { } at ? new Moment(at) : null);
        else RefuseWhole(RefusalReason.MissingField, "online", "not there", "true or false");
    }
}

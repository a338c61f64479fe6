using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>Single values of a sample. A bad one costs itself.</summary>
internal ref partial struct MessageReading
{
    private void ReadTime()
    {
        if (TryTime(out var at))
        {
            if (sample.At is { } other && other != at) RefuseSample(RefusalReason.Contradiction, "t", "one value");
            else if (at > latest) RefuseSample(RefusalReason.TimeAhead, "t", AtMostLatest());
            sample.At = at;
        }
        else
        {
            var isKind = json.TokenType is JsonTokenType.String or JsonTokenType.Number;
            RefuseSample(isKind ? RefusalReason.BadTime : RefusalReason.WrongType, "t", TimeText.Rule);
        }

        json.Skip();
    }

    private readonly string AtMostLatest() => into.Refusals.WantsDetail ? $"not after {new Moment(latest)}" : "";

    private bool TryTime(out long at)
    {
        at = 0;
        if (json.TokenType == JsonTokenType.Number) return json.TryGetInt64(out at) && at is >= 0 and <= TimeText.Last;
        if (json.TokenType != JsonTokenType.String || !TimeText.TryRead(Text(), out var moment)) return false;
        at = moment.UnixMilliseconds;
        return true;
    }

    private void ReadNumber(ContractField field, ReadingKind kind)
    {
        if (TryNumber(field, default, out var value))
        {
            Emit(kind, field.Key, value);
            if (kind == ReadingKind.Position) NotePosition((PositionKey)field.Key);
        }

        json.Skip();
    }

    private void NotePosition(PositionKey key)
    {
        if (key == PositionKey.Latitude) sample.HasLatitude = true;
        if (key == PositionKey.Longitude) sample.HasLongitude = true;
    }

    /// <summary>The number that stands here, or a refusal. <paramref name="key"/> names it within the field.</summary>
    private bool TryNumber(ContractField field, ReadOnlySpan<char> key, out double value)
    {
        value = 0;
        if (json.TokenType != JsonTokenType.Number)
        {
            RefuseRange(RefusalReason.WrongType, field, key);
            return false;
        }

        if (!DecimalText.TryRead(json.ValueSpan, out value) && !(json.TryGetDouble(out value) && double.IsFinite(value)))
        {
            RefuseRange(RefusalReason.NotFinite, field, key);
            return false;
        }

        if (value >= field.Least && value <= field.Greatest) return true;
        RefuseRange(RefusalReason.OutOfRange, field, key);
        return false;
    }

    private void ReadFlag(ContractField field)
    {
        if (json.TokenType is JsonTokenType.True or JsonTokenType.False)
        {
            Emit(ReadingKind.Condition, field.Key, json.TokenType == JsonTokenType.True ? 1 : 0);
            return;
        }

        Refuse(RefusalReason.WrongType, field.Name, "true or false");
        json.Skip();
    }

    private void ReadWord(ContractField field)
    {
        var isRide = field.Kind == FieldKind.Ride;
        if (json.TokenType != JsonTokenType.String)
        {
            Refuse(RefusalReason.WrongType, field.Name, "a word");
            json.Skip();
            return;
        }

        var word = Text();
        var index = isRide ? Words.Ride.Find(word) : envelope.Keys.FindMode(word);
        if (index >= 0) Emit(ReadingKind.Condition, field.Key, isRide ? Math.Min(index, 1) : index);
        else if (isRide) RefuseWord(RefusalReason.UnknownWord, field.Name, Words.Ride.Names);
        else RefuseWord(RefusalReason.UnknownMode, field.Name, envelope.Keys.Modes);
    }

    // Adding zero makes minus zero plain zero, so that equal values have equal bits.
    private readonly void Emit(ReadingKind kind, int key, double value) => into.Add(new Reading(default, kind, (ushort)key, value + 0.0));
}

using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>Values by key of the description, and the list of trailers.</summary>
internal ref partial struct MessageReading
{
    private void ReadPressures(ContractField field)
    {
        if (!IsObject(field, "an object of sensor keys and numbers")) return;
        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            var sensor = envelope.Keys.FindSensor(Text());
            if (sensor < 0)
            {
                RefuseKey(RefusalReason.UnknownSensor, field.Name, envelope.Keys.Sensors);
                continue;
            }

            json.Read();
            if (TryNumber(field, envelope.Keys.Sensors[sensor], out var kilopascals)) Emit(ReadingKind.Pressure, sensor, kilopascals);
            json.Skip();
        }
    }

    private void ReadLifts(ContractField field)
    {
        if (!IsObject(field, "an object of axle keys and states")) return;
        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            var axle = envelope.Keys.FindAxle(Text());
            if (axle < 0)
            {
                RefuseKey(RefusalReason.UnknownAxle, field.Name, envelope.Keys.Axles);
                continue;
            }

            json.Read();
            ReadLift(field, axle);
            json.Skip();
        }
    }

    private void ReadLift(ContractField field, int axle)
    {
        var isText = json.TokenType == JsonTokenType.String;
        var state = isText ? Words.Lift.Find(Text()) : -1;
        if (state >= 0) Emit(ReadingKind.Lift, axle, state);
        else RefuseWord(isText ? RefusalReason.UnknownWord : RefusalReason.WrongType, field.Name, Words.Lift.Names, envelope.Keys.Axles[axle]);
    }

    // Whatever else stands there is no error: the field was there before it was read.
    private void ReadBy()
    {
        if (json.TokenType == JsonTokenType.String) sample.By = (LiftBy)(Words.By.Find(Text()) + 1);
        else json.Skip();
    }

    private void ReadReason(ContractField field)
    {
        var isText = json.TokenType == JsonTokenType.String;
        var reason = isText ? Words.Reason.Find(Text()) : -1;
        if (reason >= 0) sample.Reason = (LiftReason)(reason + 1);
        else RefuseWord(isText ? RefusalReason.UnknownWord : RefusalReason.WrongType, field.Name, Words.Reason.Names);
        json.Skip();
    }

    private bool IsObject(ContractField field, string right)
    {
        if (json.TokenType == JsonTokenType.StartObject) return true;
        Refuse(RefusalReason.WrongType, field.Name, right);
        json.Skip();
        return false;
    }

    private void RefuseKey(RefusalReason reason, string field, ImmutableArray<string> known)
    {
        RefuseWord(reason, field, known);
        json.Read();
        json.Skip();
    }

    // The order of trailers carries meaning, so one bad id refuses the statement.
    private void ReadTrailers(ContractField field)
    {
        if (json.TokenType != JsonTokenType.StartArray)
        {
            RefuseSample(RefusalReason.WrongType, field.Name, "a list of trailer ids, empty for solo");
            json.Skip();
            return;
        }

        var trailers = ImmutableArray.CreateBuilder<string>();
        while (json.Read() && json.TokenType != JsonTokenType.EndArray)
        {
            AddTrailer(field, trailers);
            json.Skip();
        }

        if (sample.IsRefused) return;
        var isOther = !sample.Trailers.IsDefault && !sample.Trailers.SequenceEqual(trailers, StringComparer.Ordinal);
        if (isOther) RefuseSample(RefusalReason.Contradiction, field.Name, "one list");
        else sample.Trailers = trailers.ToImmutable();
    }

    private void AddTrailer(ContractField field, ImmutableArray<string>.Builder trailers)
    {
        if (sample.IsRefused) return;
        if (json.TokenType != JsonTokenType.String)
        {
            RefuseSample(RefusalReason.WrongType, field.Name, "trailer ids: " + Id.Rule);
            return;
        }

        var utf8 = Text();
        var id = Id.IsValid(utf8) ? Encoding.ASCII.GetString(utf8) : null;
        if (id is null) RefuseSample(RefusalReason.BadId, field.Name, "trailer ids: " + Id.Rule);
        else if (trailers.Contains(id)) RefuseSample(RefusalReason.Contradiction, field.Name, "each trailer once");
        else if (trailers.Count == ContractLimits.MaxTrailers) RefuseSample(RefusalReason.OutOfRange, field.Name, $"at most {ContractLimits.MaxTrailers} trailers");
        else trailers.Add(id);
    }
}

using System.Text.Json;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Payloads;

/// <summary>The list of samples, and each sample as a whole.</summary>
internal ref partial struct MessageReading
{
    private bool ReadSamples()
    {
        if (json.TokenType != JsonTokenType.StartArray)
        {
            RefuseWhole(RefusalReason.WrongType, "samples", Shown(), "a list of samples");
            return false;
        }

        while (json.Read() && json.TokenType != JsonTokenType.EndArray)
        {
            if (into.Samples == ContractLimits.MaxSamples)
            {
                RefuseWhole(RefusalReason.TooManySamples, "samples", $"more than {ContractLimits.MaxSamples}", $"at most {ContractLimits.MaxSamples} samples");
                return false;
            }

            sample = new SampleState { Index = into.Samples, Start = into.ReadingCount };
            into.Samples++;
            if (!ReadSample()) return false;
        }

        sample = SampleState.OutsideOf;
        return true;
    }

    private bool ReadSample()
    {
        if (json.TokenType != JsonTokenType.StartObject)
        {
            Refuse(RefusalReason.WrongType, "", "an object");
            json.Skip();
            return true;
        }

        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            var field = fields.OfSample(Text());
            json.Read();
            if (field is null) json.Skip();
            else if (!ReadOfSample(field)) return false;
        }

        CloseSample();
        return true;
    }

    private bool ReadOfSample(ContractField field)
    {
        switch (field.Kind)
        {
            case FieldKind.Time:
                ReadTime();
                return true;
            case FieldKind.Vehicle:
                return ReadVehicle();
            case FieldKind.Pressures:
                ReadPressures(field);
                return true;
            case FieldKind.Lifts:
                ReadLifts(field);
                return true;
            case FieldKind.PositionNumber:
                ReadNumber(field, ReadingKind.Position);
                return true;
            case FieldKind.ConditionNumber:
                ReadNumber(field, ReadingKind.Condition);
                return true;
            case FieldKind.Flag:
                ReadFlag(field);
                return true;
            case FieldKind.Ride or FieldKind.Mode:
                ReadWord(field);
                return true;
            case FieldKind.LiftBy:
                ReadBy();
                return true;
            case FieldKind.LiftReason:
                ReadReason(field);
                return true;
            case FieldKind.Trailers:
                ReadTrailers(field);
                return true;
            default:
                throw new InvalidOperationException($"No sample holds a {field.Kind}.");
        }
    }

    private void CloseSample()
    {
        if (!sample.IsRefused && sample.At is null) RefuseSample(RefusalReason.MissingField, "t", TimeText.Rule);
        if (sample.IsRefused)
        {
            into.DropFrom(sample.Start);
            return;
        }

        var at = new Moment(sample.At!.Value);
        if (into.ReadingCount > sample.Start)
        {
            DropHalfPosition();
            if (sample.By != LiftBy.Unsaid || sample.Reason != LiftReason.Unsaid) into.SayOfLifts(sample.Start, sample.By, sample.Reason);
            into.Close(sample.Start, at);
        }

        if (!sample.Trailers.IsDefault) into.Add(new CouplingStatement(at, sample.Trailers));
    }

    private void DropHalfPosition()
    {
        if (sample.HasLatitude == sample.HasLongitude) return;
        var key = sample.HasLatitude ? PositionKey.Latitude : PositionKey.Longitude;
        var removed = into.Remove(sample.Start, ReadingKind.Position, (ushort)key);
        var (field, other) = sample.HasLatitude ? ("lat", "lon") : ("lon", "lat");
        into.Refusals.Add(new Refusal(RefusalReason.HalfPosition, Path(field, default), "alone", $"together with a right {other}"));
        into.Refusals.Count(RefusalReason.HalfPosition, removed - 1);
    }
}

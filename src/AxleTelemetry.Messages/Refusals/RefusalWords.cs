namespace AxleTelemetry.Messages.Refusals;

/// <summary>Reasons in words, for sentences and counts that people read.</summary>
public static class RefusalWords
{
    /// <summary>The reason, as it reads after 'refused': <c>not JSON</c>, <c>unknown sensor</c>.</summary>
    public static string Of(RefusalReason reason) => reason switch
    {
        RefusalReason.BadTopic => "bad topic",
        RefusalReason.UnknownStream => "unknown stream",
        RefusalReason.BadId => "bad name",
        RefusalReason.TooLong => "too long",
        RefusalReason.NotUtf8 => "not UTF-8",
        RefusalReason.NotJson => "not JSON",
        RefusalReason.TooDeep => "nested too deep",
        RefusalReason.OtherVehicle => "names another vehicle",
        RefusalReason.TooManySamples => "too many samples",
        RefusalReason.WrongType => "wrong type",
        RefusalReason.MissingField => "field missing",
        RefusalReason.NotFinite => "number not finite",
        RefusalReason.OutOfRange => "out of range",
        RefusalReason.UnknownSensor => "unknown sensor",
        RefusalReason.UnknownAxle => "unknown axle",
        RefusalReason.UnknownMode => "unknown mode",
        RefusalReason.UnknownWord => "unknown word",
        RefusalReason.BadTime => "bad time",
        RefusalReason.TimeAhead => "time ahead",
        RefusalReason.HalfPosition => "half a position",
        RefusalReason.Contradiction => "contradiction",
        RefusalReason.BadBase64 => "not base64",
        RefusalReason.CannotBeCoupled => "cannot be coupled",
        _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, "Unknown reason."),
    };
}

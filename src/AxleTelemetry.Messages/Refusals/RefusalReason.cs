namespace AxleTelemetry.Messages.Refusals;

/// <summary>Why a topic, a message, a sample or a value was refused. Closed: a new reason is a change of the contract.</summary>
public enum RefusalReason : byte
{
    /// <summary>The topic is not <c>axles/v1/{fleet}/{vehicle}/{stream}</c>.</summary>
    BadTopic,

    /// <summary>The last part of the topic is no stream that a vehicle sends.</summary>
    UnknownStream,

    /// <summary>A name of a fleet, vehicle, trailer or boot has a wrong length or a character that is not allowed.</summary>
    BadId,

    /// <summary>More bytes than a message or a recorded line may have.</summary>
    TooLong,

    /// <summary>Bytes that are no UTF-8.</summary>
    NotUtf8,

    /// <summary>Not one well-formed JSON value: broken, empty, with a comment, with something behind it, or with a byte order mark.</summary>
    NotJson,

    /// <summary>Nested deeper than the contract allows.</summary>
    TooDeep,

    /// <summary>The payload names another vehicle than its topic.</summary>
    OtherVehicle,

    /// <summary>More samples than a message may carry.</summary>
    TooManySamples,

    /// <summary>A field holds another kind of value than the contract says; <c>null</c> is one.</summary>
    WrongType,

    /// <summary>A field that must be there is not.</summary>
    MissingField,

    /// <summary>A number too great for any finite value.</summary>
    NotFinite,

    /// <summary>A number outside the physical range of its field.</summary>
    OutOfRange,

    /// <summary>The vehicle's description has no such sensor.</summary>
    UnknownSensor,

    /// <summary>The vehicle's description has no such axle.</summary>
    UnknownAxle,

    /// <summary>The vehicle's description has no such suspension mode.</summary>
    UnknownMode,

    /// <summary>A word that the contract does not list for this field.</summary>
    UnknownWord,

    /// <summary>A time that is neither RFC 3339 in UTC nor whole milliseconds since 1970.</summary>
    BadTime,

    /// <summary>A time further ahead of the receive time than the allowed skew.</summary>
    TimeAhead,

    /// <summary>A latitude without a longitude or the reverse.</summary>
    HalfPosition,

    /// <summary>One field given twice with different values where only one can hold.</summary>
    Contradiction,

    /// <summary>A recorded payload that is no base64.</summary>
    BadBase64,

    /// <summary>A coupling of vehicles that are not described or do not fit each other.</summary>
    CannotBeCoupled,
}

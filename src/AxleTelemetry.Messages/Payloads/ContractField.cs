namespace AxleTelemetry.Messages.Payloads;

/// <summary>Where a field stands.</summary>
public enum FieldLevel : byte
{
    /// <summary>In the message itself.</summary>
    Message,

    /// <summary>In each sample.</summary>
    Sample,
}

/// <summary>What a field holds.</summary>
public enum FieldKind : byte
{
    /// <summary>Running number of the message.</summary>
    Sequence,

    /// <summary>Mark of the device's start.</summary>
    Boot,

    /// <summary>The vehicle; taken only when it is the topic's.</summary>
    Vehicle,

    /// <summary>The list of samples.</summary>
    Samples,

    /// <summary>Connected or not.</summary>
    Online,

    /// <summary>When the sample held.</summary>
    Time,

    /// <summary>Pressure by sensor.</summary>
    Pressures,

    /// <summary>State by axle.</summary>
    Lifts,

    /// <summary>Who or what moved the axles of the sample.</summary>
    LiftBy,

    /// <summary>Why the axles of the sample are to stay as they are.</summary>
    LiftReason,

    /// <summary>Trailer ids in order.</summary>
    Trailers,

    /// <summary>Word for the ride height.</summary>
    Ride,

    /// <summary>Name of a suspension mode of the description.</summary>
    Mode,

    /// <summary>True or false, a reading of the condition stream.</summary>
    Flag,

    /// <summary>A number in a range, a reading of the condition stream.</summary>
    ConditionNumber,

    /// <summary>A number in a range, a reading of the position stream.</summary>
    PositionNumber,
}

/// <summary>A field that the codec knows. Every other field is ignored.</summary>
/// <param name="Name">Its name in JSON.</param>
/// <param name="Level">Where it stands.</param>
/// <param name="Kind">What it holds.</param>
public sealed record ContractField(string Name, FieldLevel Level, FieldKind Kind)
{
    /// <summary>Key of the reading it becomes: a condition or position key.</summary>
    public ushort Key { get; init; }

    /// <summary>Least value taken; a number or, for pressures, each of them.</summary>
    public double Least { get; init; }

    /// <summary>Greatest value taken.</summary>
    public double Greatest { get; init; }

    /// <summary>Unit of the numbers, empty for other kinds.</summary>
    public string Unit { get; init; } = "";

    /// <summary>The range in words.</summary>
    internal string Range => FormattableString.Invariant($"a number from {Least} to {Greatest} {Unit}");
}

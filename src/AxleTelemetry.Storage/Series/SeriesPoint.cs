using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Storage.Series;

/// <summary>One point of a time series. Points of equal identity are one point: the later one takes the place of the earlier, field by field.</summary>
/// <param name="Identity">Which point.</param>
/// <param name="Fields">Values by name; a name keeps its type for ever.</param>
public sealed record SeriesPoint(PointIdentity Identity, ImmutableArray<(string Name, FieldValue Value)> Fields);

/// <summary>Which point: measurement, tags in a fixed order, moment.</summary>
/// <param name="Measurement">Name of the measurement.</param>
/// <param name="Tags">Tags, each name once; no value is empty.</param>
/// <param name="At">The moment, to the millisecond.</param>
public sealed record PointIdentity(string Measurement, ImmutableArray<(string Name, string Value)> Tags, Moment At)
{
    /// <inheritdoc/>
    public bool Equals(PointIdentity? other) => other is not null && Measurement == other.Measurement && At == other.At && Tags.AsSpan().SequenceEqual(other.Tags.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = default(HashCode);
        hash.Add(Measurement);
        hash.Add(At);
        foreach (var tag in Tags) hash.Add(tag);
        return hash.ToHashCode();
    }
}

/// <summary>A value of a field.</summary>
public abstract record FieldValue
{
    private FieldValue() { }

    /// <summary>A number, finite.</summary>
    public sealed record Number(double Value) : FieldValue;

    /// <summary>A whole number.</summary>
    public sealed record Whole(long Value) : FieldValue;

    /// <summary>True or false.</summary>
    public sealed record Flag(bool Value) : FieldValue;

    /// <summary>A text.</summary>
    public sealed record Text(string Value) : FieldValue;
}

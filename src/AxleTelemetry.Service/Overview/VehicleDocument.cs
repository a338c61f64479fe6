using System.Collections.Immutable;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Overview;

/// <summary>A vehicle as it stands.</summary>
internal sealed record VehicleDocument
{
    public required string Fleet { get; init; }

    public required string Vehicle { get; init; }

    /// <summary>What people call it; may be empty.</summary>
    public required string Name { get; init; }

    /// <summary>Registration plate; may be empty.</summary>
    public required string Plate { get; init; }

    public required string Kind { get; init; }

    /// <summary>When it was last heard, by our clock; absent where it never was.</summary>
    public Moment? HeardAt { get; init; }

    /// <summary>Its newest reading, by its own clock.</summary>
    public Moment? NewestReadingAt { get; init; }

    /// <summary>What it last said of its connection; absent where it never did.</summary>
    public bool? Online { get; init; }

    /// <summary>For a trailer: the vehicle it is behind, whose loads hold its own.</summary>
    public string? Behind { get; init; }

    /// <summary>The vehicles coupled, this one first; empty for a trailer.</summary>
    public required ImmutableArray<string> Members { get; init; }

    /// <summary>Those of them without a description: a stated default stands in their place, and gross is known within tonnes only.</summary>
    public required ImmutableArray<string> Undescribed { get; init; }

    /// <summary><c>standing</c>, <c>rolling</c>, <c>carried</c>, <c>unknown</c>; absent for a trailer.</summary>
    public string? Movement { get; init; }

    /// <summary>How the lifts stand, in words.</summary>
    public string? Lifts { get; init; }

    /// <summary>What the figures are worth: <c>none</c>, <c>provisional</c>, <c>settled</c>, <c>earlier</c>.</summary>
    public string? Standing { get; init; }

    /// <summary>The same in words, with age and reasons.</summary>
    public string? StandingWords { get; init; }

    public Moment? MeasuredAt { get; init; }

    /// <summary>From the measurement of the figures to the newest reading.</summary>
    public double? AgeS { get; init; }

    /// <summary>All that stands on the road.</summary>
    public LoadDocument? Gross { get; init; }

    /// <summary>The axles, front to rear through the combination.</summary>
    public required ImmutableArray<AxleDocument> Axles { get; init; }

    /// <summary>The closest of the limits of axles and gross, as a part of the limit.</summary>
    public LimitDocument? Nearest { get; init; }

    /// <summary>Episodes that are open.</summary>
    public required ImmutableArray<FindingDocument> Findings { get; init; }

    public PositionDocument? Position { get; init; }

    /// <summary>Which country's limits hold; absent where none is known.</summary>
    public CountryDocument? Country { get; init; }

    /// <summary>Why it is followed without a trailer that it says hangs on it; of a trailer, that it is heard and hangs on no vehicle; otherwise absent.</summary>
    public string? NotCoupled { get; init; }

    /// <summary>The history is being corrected from this moment on; absent where it is not.</summary>
    public Moment? CorrectedFrom { get; init; }

    /// <summary>Why its lane stopped by a fault of ours; absent where it runs.</summary>
    public string? StoppedBy { get; init; }
}

/// <summary>A load with the limit that is closest.</summary>
internal sealed record LoadDocument(Interval LoadKg, LimitDocument? Limit);

/// <summary>An axle.</summary>
/// <param name="Vehicle">Whose.</param>
/// <param name="Axle">Its key in the vehicle's description.</param>
/// <param name="Name">For people.</param>
/// <param name="State"><c>loaded</c>, <c>unloaded</c>, <c>raised</c>.</param>
/// <param name="Basis">What its figure rests on: <c>own_sensor</c>, <c>shared_circuit</c>, <c>one_side</c>, <c>inferred</c>; <c>assumed</c> for a trailer without a description.</param>
/// <param name="Load">Absent where no figures are given, or raised.</param>
/// <param name="Reason">Why the driver says it is to stand so: <c>grip</c>, <c>clearance</c>, <c>workshop</c>, <c>other</c>; nobody is told then that it costs. Absent where nothing is said.</param>
internal sealed record AxleDocument(string Vehicle, string Axle, string Name, string State, string Basis, LoadDocument? Load, string? Reason);

/// <summary>An open episode.</summary>
/// <param name="Finding">For programs.</param>
/// <param name="About">For people.</param>
/// <param name="Level">How sure.</param>
/// <param name="Since">When it began.</param>
/// <param name="Sentence">What holds.</param>
internal sealed record FindingDocument(string Finding, string About, string Level, Moment Since, string Sentence);

/// <summary>A place on the earth, WGS 84.</summary>
internal sealed record PositionDocument(double LatitudeDeg, double LongitudeDeg, Moment At)
{
    public static PositionDocument? Of(Domain.Histories.Place? place) => place is { } known ? new(known.Latitude, known.Longitude, known.At) : null;
}

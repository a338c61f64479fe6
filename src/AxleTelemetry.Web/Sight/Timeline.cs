using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Web.Sight;

/// <summary>What a vehicle carried over a span, reduced to what a drawing can show.</summary>
/// <param name="From">Beginning of the span.</param>
/// <param name="To">End of the span.</param>
/// <param name="Stretches">Lines to draw; between two of them is silence, or other vehicles.</param>
/// <param name="Episodes">What was found in the span, oldest first.</param>
public sealed record Timeline(Moment From, Moment To, ImmutableArray<LoadLine> Stretches, ImmutableArray<EpisodeLine> Episodes)
{
    /// <summary>How near the closest limit of a group, a vehicle or a share was, in order of time.</summary>
    public ImmutableArray<SpareAt> Spare { get; init; } = [];

    /// <summary>How fast it was.</summary>
    public SpeedLine Speed { get; init; } = SpeedLine.None;
}

/// <summary>A stretch of time with the same vehicles and without silence.</summary>
/// <param name="Axles">Names of the axles.</param>
/// <param name="Points">In order of time; of each place the least and the greatest are kept.</param>
/// <param name="Lifts">How the lifts stood, from each moment on, in words.</param>
public sealed record LoadLine(ImmutableArray<string> Axles, ImmutableArray<LoadAt> Points, ImmutableArray<(Moment At, string Words)> Lifts)
{
    /// <summary>The limits that held then, from each moment on; empty where they cannot be told any more.</summary>
    public ImmutableArray<LimitsAt> Limits { get; init; } = [];
}

/// <summary>The closest limits of the parts from a moment on, kg; <c>null</c> where none was judged.</summary>
/// <param name="At">From when on.</param>
/// <param name="Gross">Of all that stands on the road.</param>
/// <param name="Axles">Of each axle.</param>
/// <param name="Law">Whose limits they are: <c>AT</c>, <c>AT, permit DEMO-1</c>; empty where no country was known.</param>
public sealed record LimitsAt(Moment At, double? Gross, ImmutableArray<double?> Axles, string Law);

/// <summary>The limit of a group, a vehicle or a share that was closest at a moment.</summary>
/// <param name="At">When.</param>
/// <param name="Excess">By how much it was passed, kg, and at most how uncertain; negative is room to spare, <c>null</c> breaks the line.</param>
/// <param name="Name">What it limits.</param>
public sealed record SpareAt(Moment At, Estimated? Excess, string Name);

/// <summary>Speed over a span, m/s.</summary>
/// <param name="Points">In order of time; of each place the least and the greatest, <c>null</c> where it was silent.</param>
/// <param name="Cover">How much of the span was read.</param>
/// <param name="Until">Up to when; <c>null</c> where that is all of it, or nothing.</param>
public sealed record SpeedLine(ImmutableArray<SpeedAt> Points, SpeedCover Cover, Moment? Until)
{
    public static SpeedLine None { get; } = new([], SpeedCover.Whole, null);
}

/// <summary>Speed at a moment, m/s.</summary>
public readonly record struct SpeedAt(Moment At, double? Speed);

/// <summary>How much of a span was read for its speed.</summary>
public enum SpeedCover
{
    /// <summary>All of it.</summary>
    Whole,

    /// <summary>Its beginning: there are more messages than are read at once.</summary>
    Begun,

    /// <summary>Nothing: it is longer than messages are read for.</summary>
    TooLong,
}

/// <summary>Loads at a moment, kg.</summary>
public sealed record LoadAt(Moment At, Estimated? Gross, ImmutableArray<Estimated?> Axles);

/// <summary>An episode of a finding.</summary>
public sealed record EpisodeLine
{
    public required VehicleName Vehicle { get; init; }

    public required string Plate { get; init; }

    /// <summary>What was found: <c>axle 2 (drive) over its limit</c>.</summary>
    public required string About { get; init; }

    public required FindingKey Finding { get; init; }

    public required Moment Since { get; init; }

    /// <summary>When it ended; <c>null</c> while it is open.</summary>
    public required Moment? Ended { get; init; }

    /// <summary>Highest level it had.</summary>
    public required Level Reached { get; init; }

    /// <summary>What held at its peak.</summary>
    public required string Sentence { get; init; }

    /// <summary>The limit that was passed, kg; <c>null</c> for what has none.</summary>
    public double? Limit { get; init; }

    /// <summary>The limit as it is said: of a share it is that share of the mass of then, an estimate.</summary>
    public string LimitWords => Limit is not { } limit ? "" : Finding.Margin.Kind is MarginKind.DrivingShare or MarginKind.SteeringShare ? Amount.Tonnes(limit) : Amount.Limit(Math.Round(limit));

    /// <summary>Greatest excess, kg.</summary>
    public Estimated? Peak { get; init; }

    /// <summary>Where the limit comes from.</summary>
    public string Source { get; init; } = "";

    /// <summary>The band that it would fall in, in words; empty where there is none. No finding of an authority.</summary>
    public string Band { get; init; } = "";

    /// <summary>How the lifts stood when it opened.</summary>
    public string Lifts { get; init; } = "";

    public double? Latitude { get; init; }

    public double? Longitude { get; init; }

    /// <summary>The vehicles with the versions of what was set for them: <c>RT-01 v2</c>.</summary>
    public string Versions { get; init; } = "";

    /// <summary>Whom it reached and whom it did not, each with when (UTC); empty where that was not asked for or is nobody.</summary>
    public string Contacts { get; init; } = "";
}

/// <summary>A message as it came.</summary>
/// <param name="Received">When, by our clock.</param>
/// <param name="Stream">What it was sent as.</param>
/// <param name="First">Its earliest sample.</param>
/// <param name="Last">Its latest.</param>
/// <param name="Position">Its place in the journal.</param>
/// <param name="Text">The payload; bytes that are no text in Base64.</param>
public sealed record MessageLine(Moment Received, string Stream, Moment First, Moment Last, string Position, string Text);

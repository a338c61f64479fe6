using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Findings;

namespace AxleTelemetry.Web.Sight;

/// <summary>What a vehicle carried over a span, reduced to what a drawing can show.</summary>
/// <param name="From">Beginning of the span.</param>
/// <param name="To">End of the span.</param>
/// <param name="Stretches">Lines to draw; between two of them is silence, or other vehicles.</param>
/// <param name="Episodes">What was found in the span, oldest first.</param>
public sealed record Timeline(Moment From, Moment To, ImmutableArray<LoadLine> Stretches, ImmutableArray<EpisodeLine> Episodes);

/// <summary>A stretch of time with the same vehicles and without silence.</summary>
/// <param name="Axles">Names of the axles.</param>
/// <param name="Points">In order of time; of each place the least and the greatest are kept.</param>
/// <param name="Lifts">How the lifts stood, from each moment on, in words.</param>
public sealed record LoadLine(ImmutableArray<string> Axles, ImmutableArray<LoadAt> Points, ImmutableArray<(Moment At, string Words)> Lifts);

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
}

/// <summary>A message as it came.</summary>
/// <param name="Received">When, by our clock.</param>
/// <param name="Stream">What it was sent as.</param>
/// <param name="First">Its earliest sample.</param>
/// <param name="Last">Its latest.</param>
/// <param name="Position">Its place in the journal.</param>
/// <param name="Text">The payload; bytes that are no text in Base64.</param>
public sealed record MessageLine(Moment Received, string Stream, Moment First, Moment Last, string Position, string Text);

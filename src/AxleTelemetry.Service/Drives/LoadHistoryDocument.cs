using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Telling;

namespace AxleTelemetry.Service.Drives;

/// <summary>A history of loads, reduced for drawing.</summary>
/// <param name="Fleet">Whose.</param>
/// <param name="Vehicle">Whose.</param>
/// <param name="From">Beginning of the span.</param>
/// <param name="To">End of the span.</param>
/// <param name="Stretches">Lines to draw; between two of them is silence, or other vehicles.</param>
/// <param name="Cautions">To be shown once beside the loads.</param>
internal sealed record LoadHistoryDocument(
    string Fleet, string Vehicle, Moment From, Moment To, ImmutableArray<StretchDocument> Stretches, ImmutableArray<string> Cautions);

/// <summary>A stretch with the same vehicles and without silence.</summary>
internal sealed record StretchDocument
{
    public required Moment From { get; init; }

    public required Moment To { get; init; }

    /// <summary>The vehicles, powered one first, with the versions of what was set for them.</summary>
    public required ImmutableArray<MemberDocument> Members { get; init; }

    /// <summary>Names of the axles in the order of the figures.</summary>
    public required ImmutableArray<string> Axles { get; init; }

    /// <summary>What the axles were doing, from each moment on.</summary>
    public required ImmutableArray<ConfiguredDocument> Configurations { get; init; }

    public required ImmutableArray<PointDocument> Points { get; init; }

    public static StretchDocument Of(LoadStretch stretch, Combination? combination)
    {
        var count = stretch.Points[0].Axles.Length;
        // A description changed since may have other axles: then they are told by their place.
        var known = combination is not null && combination.Axles.Length == count ? combination : null;
        var names = new PartNames(known);
        return new StretchDocument
        {
            From = stretch.From,
            To = stretch.To,
            Members = [.. stretch.Members.Select(MemberDocument.Of)],
            Axles = [.. Enumerable.Range(0, count).Select(names.Axle)],
            Configurations = [.. stretch.Configurations.Select(c => ConfiguredDocument.Of(c, known, count))],
            Points = [.. stretch.Points.Select(PointDocument.Of)],
        };
    }
}

/// <summary>A vehicle with the version of what was set for it.</summary>
internal sealed record MemberDocument(string Vehicle, int Version)
{
    public static MemberDocument Of(LaneMember member) => new(member.Vehicle.Id, member.Version);
}

/// <summary>What every axle was doing from a moment on.</summary>
internal sealed record ConfiguredDocument(Moment At, string Words, ImmutableArray<string> States)
{
    public static ConfiguredDocument Of(ConfiguredAt at, Combination? combination, int axles) => new(
        at.At,
        combination is null ? "" : new Sentences(combination).Lifts(at.Configuration),
        [.. Enumerable.Range(0, axles).Select(a => JsonText.Word(at.Configuration[a]))]);
}

/// <summary>What is drawn at one place of a line.</summary>
internal sealed record PointDocument(Moment From, Moment To, int Rows, SpanDocument? GrossKg, ImmutableArray<SpanDocument?> AxlesKg)
{
    public static PointDocument Of(LoadPoint point) => new(point.From, point.To, point.Rows, SpanDocument.Of(point.Gross), [.. point.Axles.Select(SpanDocument.Of)]);
}

/// <summary>Least and greatest, each a mean with its standard deviation and the moment it was.</summary>
internal sealed record SpanDocument(ExtremeDocument Least, ExtremeDocument Greatest)
{
    public static SpanDocument? Of(Extremes extremes) => extremes is { Least: { } least, Greatest: { } greatest }
        ? new(new(extremes.LeastAt, Interval.Rounded(least.Mean), Interval.Rounded(least.Sd)), new(extremes.GreatestAt, Interval.Rounded(greatest.Mean), Interval.Rounded(greatest.Sd)))
        : null;
}

/// <summary>One figure at one moment.</summary>
internal sealed record ExtremeDocument(Moment At, double Mean, double Sd);

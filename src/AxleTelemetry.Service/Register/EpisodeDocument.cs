using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Drives;
using AxleTelemetry.Service.Overview;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Telling;

namespace AxleTelemetry.Service.Register;

/// <summary>An episode as the register shows it.</summary>
internal sealed record EpisodeDocument
{
    public required string Fleet { get; init; }

    public required string Vehicle { get; init; }

    /// <summary>What was found, for programs: <c>Overload:Axle:0:1</c>.</summary>
    public required string Finding { get; init; }

    /// <summary>What was found, for people.</summary>
    public required string About { get; init; }

    /// <summary>Kind of finding.</summary>
    public required string Kind { get; init; }

    /// <summary>Since when it held.</summary>
    public required Moment Since { get; init; }

    /// <summary>When it was seen that it holds.</summary>
    public required Moment OpenedAt { get; init; }

    /// <summary>When it ended; absent while it is open.</summary>
    public Moment? ClosedAt { get; init; }

    /// <summary>Level it has now.</summary>
    public required string Level { get; init; }

    /// <summary>Highest level it had.</summary>
    public required string Reached { get; init; }

    /// <summary>For a limit: what it is and by how much it was passed.</summary>
    public PassedDocument? Limit { get; init; }

    /// <summary>For an overload by law: the band it would fall in.</summary>
    public BandDocument? Band { get; init; }

    /// <summary>For what is measured otherwise: the number with its unit.</summary>
    public MeasuredDocument? Measured { get; init; }

    /// <summary>How the lifts stood when it opened; empty where the vehicles are not known as they were.</summary>
    public required string Lifts { get; init; }

    /// <summary>Where it opened.</summary>
    public PositionDocument? Position { get; init; }

    /// <summary>The vehicles, powered one first, with the versions of what was set for them.</summary>
    public required ImmutableArray<MemberDocument> Members { get; init; }

    /// <summary>What held at its peak, in a sentence.</summary>
    public required string Sentence { get; init; }

    public static EpisodeDocument Of(HistoryRow.Episode row, Combination? combination)
    {
        var key = row.Key.Finding;
        var words = new SubjectWords(new PartNames(combination));
        var limit = row.Subject as EpisodeSubject.Limit;
        AlertFigures? peak = limit is null ? null : new AlertFigures(limit.Peak.Mean, limit.Peak.Sd, limit.Scale);
        return new EpisodeDocument
        {
            Fleet = row.Key.Unit.Fleet,
            Vehicle = row.Key.Unit.Id,
            Finding = new AlertSubject(key).ToString(),
            About = words.Of(key),
            Kind = JsonText.Word(key.Kind),
            Since = row.Key.At,
            OpenedAt = row.OpenedAt,
            ClosedAt = row.ClosedAt,
            Level = JsonText.Word(row.Level),
            Reached = JsonText.Word(row.Reached),
            Limit = limit is null ? null : PassedDocument.Of(limit),
            Band = BandDocument.Of(key, limit, combination),
            Measured = row.Subject is EpisodeSubject.Measured measured ? new(Interval.Rounded(measured.Value), measured.Unit) : null,
            Lifts = combination is null ? "" : new Sentences(combination).Lifts(row.Configuration),
            Position = PositionDocument.Of(row.Place),
            Members = [.. row.Members.Select(MemberDocument.Of)],
            Sentence = words.Sentence(key, row.Reached, peak),
        };
    }
}

/// <summary>A limit that was passed.</summary>
/// <param name="LimitKg">The limit in kg; of a share, that share of the mass of then.</param>
/// <param name="LeastShare">The least share; absent for a mass.</param>
/// <param name="Standing"><c>law</c>, <c>technical</c>, <c>house_rule</c>.</param>
/// <param name="Source">Where it comes from.</param>
/// <param name="Note">What must be known beside it; absent where there is nothing.</param>
/// <param name="LoadKg">What was on the limited thing when it opened.</param>
/// <param name="OpeningExcessKg">Excess when it opened.</param>
/// <param name="PeakExcessKg">Greatest excess.</param>
/// <param name="PeakAt">When that was.</param>
internal sealed record PassedDocument(
    double LimitKg, double? LeastShare, string Standing, SourceDocument Source, string? Note, Interval LoadKg, Interval OpeningExcessKg, Interval PeakExcessKg, Moment PeakAt)
{
    public static PassedDocument Of(EpisodeSubject.Limit limit) => new(
        Interval.Rounded(limit.Scale), limit.Value < 1 ? limit.Value : null, JsonText.Word(limit.Standing), SourceDocument.Of(limit.Source), limit.Note.Length == 0 ? null : limit.Note,
        Interval.Of(limit.Load), Interval.Of(limit.Opening), Interval.Of(limit.Peak), limit.PeakAt);
}

/// <summary>A number with what it is.</summary>
internal sealed record MeasuredDocument(double Value, string Unit);

/// <summary>A page of the register, newest first.</summary>
/// <param name="Episodes">Those of this page.</param>
/// <param name="Next">For 'after' of the next page; absent on the last one.</param>
/// <param name="Cautions">To be shown once beside the loads.</param>
internal sealed record EpisodeList(ImmutableArray<EpisodeDocument> Episodes, string? Next, ImmutableArray<string> Cautions);

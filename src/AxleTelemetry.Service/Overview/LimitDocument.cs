using System.Globalization;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Service.Watching;

namespace AxleTelemetry.Service.Overview;

/// <summary>A limit judged.</summary>
internal sealed record LimitDocument
{
    /// <summary>What it limits, for people: <c>axle 2 (drive)</c>.</summary>
    public required string Limited { get; init; }

    /// <summary>What kind of limit.</summary>
    public required string Kind { get; init; }

    /// <summary>The limit; absent for a share.</summary>
    public double? LimitKg { get; init; }

    /// <summary>The least share; absent for a mass.</summary>
    public double? LeastShare { get; init; }

    /// <summary>By how much it is passed; negative is room to spare.</summary>
    public required Interval ExcessKg { get; init; }

    /// <summary>Room to spare, mean; negative where it is passed.</summary>
    public required double MarginKg { get; init; }

    /// <summary>How sure that it is passed.</summary>
    public required string Level { get; init; }

    /// <summary>The interval is too wide to say.</summary>
    public required bool CannotTell { get; init; }

    /// <summary>Both in words: <c>ok</c>, <c>near the limit</c>, <c>likely over</c>, <c>surely over</c>, <c>cannot tell</c>.</summary>
    public required string Words { get; init; }

    /// <summary><c>law</c>, <c>technical</c>, <c>house_rule</c>.</summary>
    public required string Standing { get; init; }

    /// <summary>Where it comes from.</summary>
    public required SourceDocument Source { get; init; }

    /// <summary>What must be known beside it; absent where there is nothing.</summary>
    public string? Note { get; init; }

    public static LimitDocument Of(Verdict verdict, Names names)
    {
        var margin = verdict.Margin;
        var share = margin.Constant == 0;
        return new LimitDocument
        {
            Limited = names.Limited(margin),
            Kind = JsonText.Word(margin.Key.Kind),
            LimitKg = share ? null : Interval.Rounded(margin.Limit),
            LeastShare = share ? margin.Limit : null,
            ExcessKg = Interval.Of(verdict.Excess),
            MarginKg = Interval.Rounded(-verdict.Excess.Mean),
            Level = JsonText.Word(verdict.Level),
            CannotTell = verdict.CannotTell,
            Words = UnitText.Word(verdict),
            Standing = JsonText.Word(margin.Standing),
            Source = SourceDocument.Of(margin.Source),
            Note = margin.Note.Length == 0 ? null : margin.Note,
        };
    }
}

/// <summary>Where a limit comes from, and how far it may be trusted.</summary>
/// <param name="Place">Title and clause.</param>
/// <param name="Edition">Date of the edition, a permit's first day; absent for a vehicle's papers.</param>
/// <param name="Status"><c>in_force</c>, <c>unverified_edition</c>, <c>known_outdated</c>, <c>vehicle_papers</c>, <c>permit</c>.</param>
internal sealed record SourceDocument(string Place, string? Edition, string Status)
{
    public static SourceDocument Of(LimitSource source) => new(
        LimitText.Place(source), source.AsOf == DateOnly.MinValue ? null : source.AsOf.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), JsonText.Word(source.Status));
}

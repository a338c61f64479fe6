using System.Collections.Immutable;
using System.Text.Json.Serialization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Telling;

/// <summary>One change of an alert, as it is kept in the journal and sent to those who listen. Names and units stay as they are.</summary>
internal sealed record AlertChangeDocument
{
    /// <summary>Version of this form.</summary>
    public int Format { get; init; } = 1;

    /// <summary>Identity of the alert; with '/api/v1/alerts/' before it, its address.</summary>
    public required string Id { get; init; }

    /// <summary>Number within the alert, from 1 without gaps.</summary>
    public required int Number { get; init; }

    /// <summary>When it became known.</summary>
    public required Moment At { get; init; }

    public required string Fleet { get; init; }

    public required string Vehicle { get; init; }

    /// <summary>What the alert is about, for programs.</summary>
    public required string Subject { get; init; }

    /// <summary>What the alert is about, for people.</summary>
    public required string About { get; init; }

    /// <summary>Beginning of the episode as it was first told, by the vehicle's clock.</summary>
    public required Moment Since { get; init; }

    /// <summary>What happened, for programs.</summary>
    public required string Cause { get; init; }

    /// <summary>What happened, for people.</summary>
    public required string Happened { get; init; }

    /// <summary>Whom the alert reached, or did not; absent in all other changes.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public ContactDocument? Contact { get; init; }

    public required StateDocument State { get; init; }

    /// <summary><c>low</c>, <c>medium</c>, <c>high</c>.</summary>
    public required string Priority { get; init; }

    /// <summary>People are to be called.</summary>
    public required bool Rings { get; init; }

    /// <summary>How sure: <c>clear</c>, <c>near</c>, <c>likely</c>, <c>surely</c>.</summary>
    public required string Level { get; init; }

    /// <summary>How often it began.</summary>
    public required int Count { get; init; }

    /// <summary>By how much a limit is passed; absent for what has no limit.</summary>
    public FiguresDocument? Figures { get; init; }

    /// <summary>What else is told with it, for people.</summary>
    public required ImmutableArray<string> With { get; init; }

    /// <summary>What holds or ended, in a sentence, with its remedy where there is one.</summary>
    public required string Sentence { get; init; }

    /// <summary>That remedy by itself, as the sentence ends with it; absent where there is none.</summary>
    public string? Remedy { get; init; }

    /// <summary>The same in other languages, by their codes (BCP 47); absent in what is told in one language.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public ImmutableSortedDictionary<string, AlertWords>? InOtherLanguages { get; init; }

    /// <summary>The input that holds the finding in full: <c>batch.row</c>.</summary>
    public required string Source { get; init; }
}

/// <summary>What people read of a change, in a language.</summary>
/// <param name="About">What the alert is about.</param>
/// <param name="Sentence">What holds or ended, with its remedy where there is one.</param>
internal sealed record AlertWords(string About, string Sentence)
{
    /// <summary>What happened; absent in changes of before it was kept.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public string? Happened { get; init; }

    /// <summary>What else is told with it; absent in changes of before it was kept.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public ImmutableArray<string>? With { get; init; }
}

/// <summary>By how much a limit is passed.</summary>
/// <param name="ExcessKg">Excess; negative is room to spare.</param>
/// <param name="LimitKg">The limit in kg; of a share, that share of the present mass.</param>
internal sealed record FiguresDocument(Interval ExcessKg, double LimitKg)
{
    public static FiguresDocument? Of(AlertFigures? figures) =>
        figures is { } known ? new(Interval.Of(new Domain.Loads.Estimated(known.Excess, known.Sd)), Interval.Rounded(known.Scale)) : null;
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Languages;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Delivering;

/// <summary>Advice for the display of a driver. Names and units stay as they are.</summary>
internal sealed record AdviceDocument
{
    /// <summary>What it is known by; the same while it only goes on.</summary>
    public required string Id { get; init; }

    /// <summary>When it was given, by our clock.</summary>
    public required Moment T { get; init; }

    /// <summary>Not to be shown any more from then on, by the same clock.</summary>
    public required Moment Until { get; init; }

    /// <summary>Axles to lower.</summary>
    public required ImmutableArray<AdvisedAxle> Lower { get; init; }

    /// <summary>Axles to raise; empty unless the vehicle stands.</summary>
    public required ImmutableArray<AdvisedAxle> Raise { get; init; }

    /// <summary>How sure what it rests on is: <c>near</c>, <c>likely</c>, <c>surely</c>.</summary>
    public required string Level { get; init; }

    /// <summary>Why, and what to do, in a sentence, by language.</summary>
    public required ImmutableSortedDictionary<string, string> Why { get; init; }

    /// <summary>How the liftable axles stand for it: where they do not, it does not hold.</summary>
    public required ImmutableArray<AxleStand> Configuration { get; init; }

    /// <summary>To be shown beside it.</summary>
    public required string Caution { get; init; }

    /// <summary>Of advice.</summary>
    /// <param name="id">What it is known by.</param>
    /// <param name="advice">The advice.</param>
    /// <param name="vehicles">What it is about.</param>
    /// <param name="span">From when to when.</param>
    public static AdviceDocument Of(string id, DriverAdvice advice, Combination vehicles, (Moment From, Moment Until) span) => new()
    {
        Id = id,
        T = span.From,
        Until = span.Until,
        Lower = [.. advice.Lower.Select(a => AdvisedAxle.Of(vehicles, a))],
        Raise = [.. advice.Raise.Select(a => AdvisedAxle.Of(vehicles, a))],
        Level = JsonText.Word(advice.Level),
        Why = ImmutableSortedDictionary<string, string>.Empty.Add("en", Sentence(advice, vehicles)).Add("de", new GermanAlerts(vehicles).Holds(advice.About, advice.Finding)),
        Configuration = [.. vehicles.Axles.Where(a => a.Axle.Lift is not null).Select(a => new AxleStand(vehicles.Vehicles[a.Body].Id, a.Axle.Key, JsonText.Word(advice.Present[a.Index])))],
        Caution = Sentences.Caution,
    };

    private static string Sentence(DriverAdvice advice, Combination vehicles)
    {
        var words = new Sentences(vehicles);
        return advice.Finding is { } finding ? words.Of(finding) : words.Of(advice.About, advice.Level, new FindingDetail.None());
    }
}

/// <summary>An axle to be set.</summary>
/// <param name="Vehicle">Id of its vehicle.</param>
/// <param name="Axle">Its key in the vehicle's description.</param>
internal sealed record AdvisedAxle(string Vehicle, string Axle)
{
    /// <summary>Of an axle counted through the combination.</summary>
    public static AdvisedAxle Of(Combination vehicles, int axle) => new(vehicles.Vehicles[vehicles.Axles[axle].Body].Id, vehicles.Axles[axle].Axle.Key);
}

/// <summary>How a liftable axle stands.</summary>
/// <param name="Vehicle">Id of its vehicle.</param>
/// <param name="Axle">Its key in the vehicle's description.</param>
/// <param name="State"><c>loaded</c>, <c>unloaded</c>, <c>raised</c>.</param>
internal sealed record AxleStand(string Vehicle, string Axle, string State);

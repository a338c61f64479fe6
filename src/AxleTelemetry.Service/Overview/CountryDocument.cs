using System.Collections.Immutable;
using System.Globalization;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Places;
using AxleTelemetry.Domain.Wording;
using AxleTelemetry.Service.Serving;

namespace AxleTelemetry.Service.Overview;

/// <summary>The country of the position, and what of the law depends on it.</summary>
/// <param name="Here">Code of ISO 3166-1 alpha-2.</param>
/// <param name="Kind"><c>within</c>; <c>near_border</c>: in it, a border near; <c>undecided</c>: the side of the border cannot be told.</param>
/// <param name="Across">The country across the border; absent where none is near.</param>
/// <param name="BorderKm">Distance to it; absent where none is near.</param>
/// <param name="Permits">Permits of these vehicles that hold here today, and those broken by speed.</param>
/// <param name="Differing">Near a border: limits of law that are others across it, both beside each other. Where the side is undecided neither is counted.</param>
internal sealed record CountryDocument(string Here, string Kind, string? Across, double? BorderKm, ImmutableArray<PermitDocument> Permits, ImmutableArray<DifferingDocument> Differing)
{
    public static CountryDocument? Of(LaneView view, Names names)
    {
        var where = view.Whereabouts;
        return where.Kind == PlaceKind.Nowhere || where.Here.IsNone ? null : new(
            where.Here.Code, JsonText.Word(where.Kind), where.Across.IsNone ? null : where.Across.Code, double.IsNaN(where.BorderMetres) ? null : Math.Round(where.BorderMetres / 1000, 1),
            [.. view.Permits.InForce.Select(p => PermitDocument.Of(p, false)), .. view.Permits.Void.Select(p => PermitDocument.Of(p, true))],
            [.. view.Differing.Select(law => DifferingDocument.Of(law, names))]);
    }
}

/// <summary>A permit.</summary>
/// <param name="Id">Its name.</param>
/// <param name="Authority">Who granted it.</param>
/// <param name="Until">Its last day.</param>
/// <param name="MostSpeedMps">Greatest speed under it; absent where none is named.</param>
/// <param name="Broken">That speed was passed with the load aboard: it holds no more, until another load is.</param>
/// <param name="Obligations">What else it asks; nobody checks it here.</param>
internal sealed record PermitDocument(string Id, string Authority, string Until, double? MostSpeedMps, bool Broken, ImmutableArray<string> Obligations)
{
    public static PermitDocument Of(Permit permit, bool broken) => new(
        permit.Id, permit.Authority, permit.Until.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture), permit.MostSpeed is { } speed ? Math.Round(speed, 2) : null, broken, permit.Obligations);
}

/// <summary>A limit that is another across the border.</summary>
/// <param name="Limited">What it limits, for people.</param>
/// <param name="Here">On this side; absent where there is none.</param>
/// <param name="Across">On the other side; absent where there is none.</param>
internal sealed record DifferingDocument(string Limited, LimitDocument? Here, LimitDocument? Across)
{
    public static DifferingDocument Of(DifferingLaw law, Names names) => new(names.Limited((law.Here ?? law.Across)!.Value.Margin), Of(law.Here, names), Of(law.Across, names));

    private static LimitDocument? Of(Verdict? verdict, Names names) => verdict is { } judged ? LimitDocument.Of(judged, names) : null;
}

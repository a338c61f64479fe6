using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;

namespace AxleTelemetry.Service.Overview;

/// <summary>A page of vehicles.</summary>
/// <param name="At">When it was asked, by our clock.</param>
/// <param name="Total">All vehicles that fit, over all pages.</param>
/// <param name="Vehicles">Those of this page, by fleet and id.</param>
/// <param name="Next">For 'after' of the next page; absent on the last one.</param>
/// <param name="Unknown">Vehicles that sent messages and are not described.</param>
/// <param name="UnknownMessages">All their messages, of names beyond those listed too.</param>
/// <param name="Cautions">To be shown once beside the loads.</param>
internal sealed record VehicleList(
    Moment At, int Total, ImmutableArray<VehicleDocument> Vehicles, string? Next,
    ImmutableArray<UnknownDocument> Unknown, long UnknownMessages, ImmutableArray<string> Cautions);

/// <summary>A vehicle that nobody described.</summary>
internal sealed record UnknownDocument(string Fleet, string Vehicle, long Messages);

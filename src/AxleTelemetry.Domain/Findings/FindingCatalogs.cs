using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Findings;

/// <summary>Keeps one of the catalogs that are equal: vehicles of one shape under one law have the same, however different they weigh.</summary>
public sealed class FindingCatalogs
{
    private const int Most = 256;

    private readonly KeptRow<FindingCatalog> _kept = new(Most);

    /// <summary>The catalog, or an equal one that is kept.</summary>
    public FindingCatalog Of(FindingCatalog catalog) => _kept.Keep(catalog, static (a, b) => a.IsSame(b));
}

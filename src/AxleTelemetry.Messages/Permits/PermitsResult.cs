using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Permits;

/// <summary>What came of reading a file of permits.</summary>
public abstract record PermitsResult
{
    private PermitsResult() { }

    /// <summary>The permits, in the order of the text.</summary>
    public sealed record Accepted(ImmutableArray<Permit> Permits) : PermitsResult;

    /// <summary>They cannot be taken, and every reason why, in the order of the text.</summary>
    public sealed record Refused(ImmutableArray<Problem> Problems) : PermitsResult;
}

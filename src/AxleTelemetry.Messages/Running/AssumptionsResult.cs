using System.Collections.Immutable;
using AxleTelemetry.Domain.Running;
using AxleTelemetry.Messages.VehicleFiles;

namespace AxleTelemetry.Messages.Running;

/// <summary>What came of reading a file of assumptions.</summary>
public abstract record AssumptionsResult
{
    private AssumptionsResult() { }

    /// <summary>They can be reckoned with; where the file says nothing, what was there before holds.</summary>
    public sealed record Accepted(Assumptions Assumptions) : AssumptionsResult;

    /// <summary>They cannot, and every reason why, in the order of the text.</summary>
    public sealed record Refused(ImmutableArray<Problem> Problems) : AssumptionsResult;
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Limits;

namespace AxleTelemetry.Messages.Limits;

/// <summary>What came of reading a file of limits.</summary>
public abstract record LimitSetResult
{
    private LimitSetResult() { }

    /// <summary>The table.</summary>
    public sealed record Parsed(LimitSet Set) : LimitSetResult;

    /// <summary>All that is wrong, in the order of the file.</summary>
    public sealed record Refused(ImmutableArray<LimitFileError> Errors) : LimitSetResult;
}

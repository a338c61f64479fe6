namespace AxleTelemetry.Messages.Limits;

/// <summary>One thing that is wrong in a file of limits.</summary>
/// <param name="Path">Where, as a JSON path: <c>$.rules[3].kg</c>.</param>
/// <param name="Found">What stands there, as written; <c>nothing</c> where a value is missing.</param>
/// <param name="Expected">What would be right.</param>
public sealed record LimitFileError(string Path, string Found, string Expected)
{
    /// <inheritdoc/>
    public override string ToString() => $"{Path}: found {Found}, expected {Expected}";
}

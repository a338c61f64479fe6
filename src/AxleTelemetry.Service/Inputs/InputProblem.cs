namespace AxleTelemetry.Service.Inputs;

/// <summary>One thing that is wrong, or odd, in what a command was given, said so that a person can put it right.</summary>
/// <param name="Source">The file with line and column where known, the option, or <c>combination</c>.</param>
/// <param name="Path">Place in the source; empty for the whole of it.</param>
/// <param name="Found">What stands there; empty where nothing does.</param>
/// <param name="Right">What would be right.</param>
internal sealed record InputProblem(string Source, string Path, string Found, string Right)
{
    /// <inheritdoc/>
    public override string ToString()
    {
        var place = Path.Length == 0 ? Source : $"{Source}: {Path}";
        return Found.Length == 0 ? $"{place}: {Right}" : $"{place}: found {Found}. {Right}";
    }
}

namespace AxleTelemetry.Messages.Refusals;

/// <summary>One thing that was not taken, and what to change so that it will be.</summary>
/// <param name="Reason">The reason, of a closed list.</param>
/// <param name="Field">Where: <c>topic</c>, <c>payload</c> or a path such as <c>samples[3].kpa.tag</c>.</param>
/// <param name="Excerpt">The beginning of what stood there, at most <see cref="Refusals.Excerpt.MaxCharacters"/> printable characters.</param>
/// <param name="Right">What would be right, in words.</param>
public sealed record Refusal(RefusalReason Reason, string Field, string Excerpt, string Right)
{
    /// <summary>One line for a person or a log.</summary>
    public override string ToString() => $"{RefusalWords.Of(Reason)} at {Field}: {Excerpt}. Right would be: {Right}.";
}

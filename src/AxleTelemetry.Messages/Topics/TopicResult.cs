using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Messages.Topics;

/// <summary>What came of parsing a topic: its parts, or why not. There is no third case.</summary>
public abstract record TopicResult
{
    private TopicResult()
    {
    }

    /// <summary>A topic of ours.</summary>
    public sealed record Named(Topic Topic) : TopicResult;

    /// <summary>No topic of ours.</summary>
    public sealed record Refused(Refusal Refusal) : TopicResult;
}

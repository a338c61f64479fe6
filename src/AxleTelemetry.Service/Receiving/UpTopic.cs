using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Receiving;

/// <summary>The topics that are received, as the subscription filters <c>axles/v1/+/+/{stream}</c> match them: ids are judged later.</summary>
internal static class UpTopic
{
    public static bool Matches(string topic)
    {
        if (!topic.StartsWith(Topic.Root, StringComparison.Ordinal)) return false;
        Span<Range> levels = stackalloc Range[4];
        var rest = topic.AsSpan(Topic.Root.Length);
        return rest.Split(levels, '/') == 3 && UpStreamNames.Find(rest[levels[2]]) is not null;
    }
}

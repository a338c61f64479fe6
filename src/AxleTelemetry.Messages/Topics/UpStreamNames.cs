using System.Collections.Immutable;

namespace AxleTelemetry.Messages.Topics;

/// <summary>The names of the streams as they stand in topics.</summary>
public static class UpStreamNames
{
    /// <summary>Every name, at the index of its <see cref="UpStream"/>.</summary>
    public static ImmutableArray<string> All { get; } =
        ["pressure", "lift", "condition", "position", "frame", "coupling", "presence"];

    /// <summary>The name of a stream.</summary>
    public static string Name(this UpStream stream) => All[(int)stream];

    /// <summary>The stream of a name, or <c>null</c>. Names are case-sensitive, as MQTT topics are.</summary>
    public static UpStream? Find(ReadOnlySpan<char> name)
    {
        for (var i = 0; i < All.Length; i++)
        {
            if (name.SequenceEqual(All[i])) return (UpStream)i;
        }

        return null;
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Messages.Recordings;
using AxleTelemetry.Messages.Topics;
using AxleTelemetry.Service.Configuring;
using AxleTelemetry.Service.Inputs;

namespace AxleTelemetry.Service.Replaying;

/// <summary>A configuration for a recording that comes with vehicle files and no settings: each fleet that it names has them.</summary>
internal static class ReplaySources
{
    /// <summary>What is wrong with a file that no message can be read of.</summary>
    public const string NoMessage = "It holds no message of a vehicle. A recording has one a line: 'axletelemetry check FILE' says what is wrong with it.";

    /// <summary>The configuration; <c>null</c> where anything is in error.</summary>
    public static FleetConfiguration? Read((string File, Stream Stream) recording, InputRequest request, List<InputProblem> errors)
    {
        var fleets = FleetsOf(recording.Stream);
        if (fleets.IsEmpty) errors.Add(new(recording.File, "", "", NoMessage));
        return FleetFiles.Read(request, errors) is { } files && errors.Count == 0 ? files.Of(fleets) : null;
    }

    private static ImmutableSortedSet<string> FleetsOf(Stream recording) => new RecordingReader(recording).Entries().OfType<RecordingEntry.Read>()
        .Select(r => Topic.Parse(r.Message.Topic)).OfType<TopicResult.Named>().Select(n => n.Topic.Fleet).ToImmutableSortedSet(StringComparer.Ordinal);
}

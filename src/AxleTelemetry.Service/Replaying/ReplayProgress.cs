using System.Globalization;
using AxleTelemetry.Messages.Recordings;

namespace AxleTelemetry.Service.Replaying;

/// <summary>Says now and then how far a replay has come: nobody watches a still screen for minutes.</summary>
internal sealed class ReplayProgress(FileStream recording, TextWriter notes, TimeProvider clock)
{
    // Of a file of another kind every line is wrong.
    private const int MostLines = 20;
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(2);

    private readonly long _began = clock.GetTimestamp();
    private long _told = clock.GetTimestamp();
    private long _unreadable;

    /// <summary>A batch is done.</summary>
    public void Tell(Replay replay)
    {
        if (clock.GetElapsedTime(_told) < Every) return;
        _told = clock.GetTimestamp();
        var part = recording.Length == 0 ? 1 : (double)recording.Position / recording.Length;
        notes.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{part:0 %}, {replay.Shard.Messages} messages, up to {replay.Last}"));
    }

    /// <summary>A line holds no message.</summary>
    public void Tell(RecordingEntry.Unreadable unreadable)
    {
        if (++_unreadable <= MostLines) notes.WriteLine(FormattableString.Invariant($"Line {unreadable.Line} is passed over: {unreadable.Refusal}"));
        if (_unreadable == MostLines) notes.WriteLine("Further lines that are passed over are counted only.");
    }

    /// <summary>It is done.</summary>
    public void End() =>
        notes.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Done in {clock.GetElapsedTime(_began).TotalSeconds:0.0} s."));
}

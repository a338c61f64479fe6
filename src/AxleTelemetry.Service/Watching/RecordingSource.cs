using System.Buffers;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Messages.Recordings;

namespace AxleTelemetry.Service.Watching;

/// <summary>Plays a recording into a watch.</summary>
/// <param name="stream">The recording, read to its end.</param>
/// <param name="speed">Times real time by the receive times; <c>null</c>: as fast as it goes.</param>
/// <param name="clock">To wait by.</param>
internal sealed class RecordingSource(Stream stream, double? speed, TimeProvider clock)
{
    private readonly long _started = clock.GetTimestamp();
    private Moment? _first;

    /// <summary>Plays until the end or until cancelled.</summary>
    public async Task RunAsync(FleetWatch watch, CancellationToken cancel)
    {
        foreach (var entry in new RecordingReader(stream).Entries())
        {
            if (cancel.IsCancellationRequested) return;
            switch (entry)
            {
                case RecordingEntry.Read { Message: var message }:
                    if (!await Due(message.Received, cancel)) return;
                    watch.Take(message.Topic, new ReadOnlySequence<byte>(message.Payload), message.Received);
                    break;
                case RecordingEntry.Unreadable unreadable:
                    watch.Refuse(unreadable.Refusal with { Field = unreadable.Refusal.Field == "line" ? FormattableString.Invariant($"line {unreadable.Line}")
                        : FormattableString.Invariant($"{unreadable.Refusal.Field} of line {unreadable.Line}") });
                    break;
                default:
                    throw new InvalidOperationException("An entry of a recording that nobody handles.");
            }
        }
    }

    private async Task<bool> Due(Moment? received, CancellationToken cancel)
    {
        if (speed is not { } times || received is not { } at) return true;
        _first ??= at;
        while (at.SecondsSince(_first.Value) / times - clock.GetElapsedTime(_started).TotalSeconds is > 0 and var ahead)
        {
            try
            {
                await Task.Delay(TimeSpan.FromSeconds(Math.Min(ahead, 0.25)), clock, cancel);
            }
            catch (OperationCanceledException)
            {
                return false;
            }
        }

        return true;
    }
}

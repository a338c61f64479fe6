using System.Collections.Immutable;
using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Messages.Payloads;

internal ref partial struct MessageReading
{
    /// <summary>What is known so far of the message's own fields.</summary>
    private struct HeaderState
    {
        public bool HasSamples;
        public bool IsSequenceRefused;
        public bool IsBootRefused;
        public bool IsOnlineRefused;
        public bool? Online;
    }

    /// <summary>What is known so far of the sample being read. Presence is one sample without a list around it.</summary>
    private struct SampleState
    {
        public int Index;
        public int Start;
        public bool IsRefused;
        public bool HasLatitude;
        public bool HasLongitude;
        public long? At;
        public LiftBy By;
        public LiftReason Reason;
        public ImmutableArray<string> Trailers;

        public static SampleState OutsideOf => new() { Index = -1 };
    }
}

using System.Text;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Messages.Payloads;
using AxleTelemetry.Messages.Refusals;
using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Messages.Tests.Payloads;

/// <summary>The vehicle that the decoder tests speak of, and short ways to decode for it.</summary>
internal static class Decoded
{
    public const string T = "2026-03-02T06:14:05.000Z";

    public static readonly Moment At = new(1772432045000);

    public static readonly KeyTable Keys = new(["drive", "tag", "steer"], ["front", "drive", "tag"], ["normal", "traction"]);

    public static Envelope Envelope(UpStream stream) =>
        new(new Topic("north", "T-01", stream), Keys, At.Plus(3600), TimeSpan.FromMinutes(2));

    public static DecodedMessage From(UpStream stream, ReadOnlySpan<byte> payload)
    {
        var message = new DecodedMessage();
        PayloadDecoder.Decode(payload, Envelope(stream), message);
        return message;
    }

    public static DecodedMessage From(UpStream stream, string payload) => From(stream, Encoding.UTF8.GetBytes(payload));

    /// <summary>One sample at <see cref="At"/> with these further fields.</summary>
    public static DecodedMessage Sample(UpStream stream, string fields) =>
        From(stream, $$"""{"samples":[{"t":"{{T}}",{{fields}}}]}""");

    public static Refusal OnlyRefusal(this DecodedMessage message)
    {
        Assert.Equal(1, message.Refusals.Total);
        return Assert.Single(message.Refusals.Details);
    }

    public static Reading Pressure(int sensor, double kilopascals) => new(At, ReadingKind.Pressure, (ushort)sensor, kilopascals);

    public static Reading Lift(int axle, LiftReport state) => new(At, ReadingKind.Lift, (ushort)axle, (double)state);

    public static Reading Condition(ConditionKey key, double value) => new(At, ReadingKind.Condition, (ushort)key, value);

    public static Reading Position(PositionKey key, double value) => new(At, ReadingKind.Position, (ushort)key, value);
}

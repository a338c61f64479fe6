using System.Collections.Immutable;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Messages.Refusals;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What a refusal's row holds: the message as it came, and what was wrong with it.</summary>
/// <param name="Topic">Its topic.</param>
/// <param name="Refusals">The first refusals in words; empty for a vehicle that nobody described.</param>
/// <param name="Payload">Its bytes.</param>
internal sealed record RefusedBytes(string Topic, ImmutableArray<Refusal> Refusals, ImmutableArray<byte> Payload)
{
    private const byte Version = 1;

    public byte[] Write()
    {
        var to = new ByteWriter();
        to.Byte(Version);
        to.Text(Topic);
        to.Int(Refusals.Length);
        foreach (var refusal in Refusals)
        {
            to.Byte((byte)refusal.Reason);
            to.Text(refusal.Field);
            to.Text(refusal.Excerpt);
            to.Text(refusal.Right);
        }

        return [.. to.Written, .. Payload];
    }

    /// <summary>Reads what was written; <c>null</c> where another version wrote it.</summary>
    public static RefusedBytes? Read(ReadOnlySpan<byte> bytes)
    {
        var from = new ByteReader(bytes);
        if (from.Byte() != Version) return null;
        var topic = from.Text();
        var refusals = ImmutableArray.CreateBuilder<Refusal>();
        for (var left = from.Count(); left > 0; left--)
            refusals.Add(new Refusal((RefusalReason)from.Byte(), from.Text(), from.Text(), from.Text()));
        return from.Failed ? null : new RefusedBytes(topic, refusals.ToImmutable(), [.. bytes[^from.Left..]]);
    }
}

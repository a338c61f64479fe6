using System.Collections.Immutable;
using AxleTelemetry.Domain.Loads;

namespace AxleTelemetry.Domain.Histories;

/// <summary>A trailer that left a unit with what was known to be aboard.</summary>
/// <param name="Trailer">The trailer, in the version that held.</param>
/// <param name="Payload">Its payload.</param>
public readonly record struct PartedTrailer(LaneMember Trailer, BodyPayload Payload)
{
    internal static void Write(ImmutableArray<PartedTrailer> trailers, ByteWriter to)
    {
        to.Int(trailers.Length);
        foreach (var (trailer, payload) in trailers)
        {
            LaneMember.Write(trailer, to);
            foreach (var number in (ReadOnlySpan<double>)[payload.Mass, payload.Moment, payload.MassVariance, payload.Covariance, payload.MomentVariance]) to.Double(number);
            to.Long(payload.MeasuredAt);
        }
    }

    internal static ImmutableArray<PartedTrailer> Read(ref ByteReader from)
    {
        var trailers = ImmutableArray.CreateBuilder<PartedTrailer>();
        for (var count = from.Count(); count > 0; count--)
            trailers.Add(new PartedTrailer(LaneMember.ReadOne(ref from), new BodyPayload
            {
                Mass = from.Double(),
                Moment = from.Double(),
                MassVariance = from.Double(),
                Covariance = from.Double(),
                MomentVariance = from.Double(),
                MeasuredAt = from.Long(),
            }));
        return trailers.ToImmutable();
    }
}

using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Service.Fleet;

/// <summary>A trailer: it has no lane of its own, its readings belong to the lane of whoever pulls it at their moment.</summary>
internal sealed class Trailer(VehicleName name, Described described) : Followed(name, described)
{
    /// <summary>Who said when that it hangs on them.</summary>
    public ClaimLedger Claims { get; } = new();

    /// <summary>Takes off what waits up to a moment and belongs to nobody. Stops at what somebody claims.</summary>
    public void PassOver(long to)
    {
        while (Queue.Waiting > 0 && Queue.Next.At.UnixMilliseconds is var at && at <= to && Claims.At(at) is null)
        {
            Take();
            Counts.NotCoupled++;
        }
    }

    /// <summary>What it last said of its lifts and suspension, as said at a moment: a lane that it joins must not take a raised axle for a lowered one.</summary>
    public IEnumerable<Reading> WordsAt(long at) => Words.Values.Select(word => word with { At = new Moment(at) });
}

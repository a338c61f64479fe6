using System.Collections.Immutable;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Web.Sight;

namespace AxleTelemetry.Service.Drives;

/// <summary>
/// Speeds of a span reduced to what a drawing can show: of each place the least and the greatest. Speed over ground where there is any, else that of the wheels.
/// </summary>
internal sealed class SpeedReduction(Moment from, Moment to, int points)
{
    private readonly double _width = Math.Max(1, (to.UnixMilliseconds - from.UnixMilliseconds) / (double)points);
    private readonly Bucket[] _ground = new Bucket[points + 1], _wheels = new Bucket[points + 1];

    /// <summary>Takes readings in any order.</summary>
    public void Take(IEnumerable<Reading> readings)
    {
        foreach (var reading in readings)
        {
            if (reading.At < from || reading.At > to || Of(reading) is not { } buckets) continue;
            ref var bucket = ref buckets[(int)((reading.At.UnixMilliseconds - from.UnixMilliseconds) / _width)];
            bucket = bucket.With(reading.At, reading.Value);
        }
    }

    /// <summary>The line, broken where it was silent.</summary>
    public ImmutableArray<SpeedAt> Done()
    {
        var line = ImmutableArray.CreateBuilder<SpeedAt>();
        for (var i = 0; i < _ground.Length; i++)
        {
            var bucket = _ground[i].Any ? _ground[i] : _wheels[i];
            if (!bucket.Any) continue;
            if (line.Count > 0 && bucket.First.SecondsSince(line[^1].At) > LoadReduction.SilenceSeconds) line.Add(new(line[^1].At.Plus(0.001), null));
            line.AddRange(bucket.Points);
        }

        return line.ToImmutable();
    }

    private Bucket[]? Of(in Reading reading) => reading.Kind switch
    {
        ReadingKind.Position when (PositionKey)reading.Key == PositionKey.Speed => _ground,
        ReadingKind.Condition when (ConditionKey)reading.Key == ConditionKey.WheelSpeed => _wheels,
        _ => null,
    };

    private readonly record struct Bucket(bool Any, Moment First, SpeedAt Least, SpeedAt Greatest)
    {
        // Of equal ones the earlier: what is drawn does not go by the order in which messages came.
        public Bucket With(Moment at, double speed) => !Any ? new(true, at, new(at, speed), new(at, speed))
            : new(true, at < First ? at : First,
                speed < Least.Speed || speed == Least.Speed && at < Least.At ? new(at, speed) : Least,
                speed > Greatest.Speed || speed == Greatest.Speed && at < Greatest.At ? new(at, speed) : Greatest);

        public IEnumerable<SpeedAt> Points => Least == Greatest ? [Least] : Least.At <= Greatest.At ? [Least, Greatest] : [Greatest, Least];
    }
}

using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;

namespace AxleTelemetry.Domain.Lanes;

/// <summary>
/// A trailer that is heard and that nobody says to pull: whether it rolls all the same, by what it says itself. A parked one is no news, whoever loads it.
/// It rolls where its bellows hold air and its own speed says so; where it tells no speed, where they feel the road under one and the same load.
/// </summary>
public sealed class LooseTrailer
{
    // Couplings are stated at a start or by another device, minutes apart. A queue of traffic is no stop.
    private const double ToldAfter = 300, LongestStand = 180;
    private const double RoadNoiseFrom = 0.3, AirFrom = 45, SameLoad = 20;

    private readonly SensorState[] _sensors;
    private readonly double[] _loaded;
    private Rolling _rolling;

    /// <summary>A trailer that has said nothing.</summary>
    /// <param name="sensors">How many pressure sensors it has.</param>
    public LooseTrailer(int sensors) => (_sensors, _loaded) = (new SensorState[sensors], new double[sensors]);

    /// <summary>How many pressure sensors it has.</summary>
    public int Sensors => _sensors.Length;

    /// <summary>Takes a reading; one that is older than the latest says nothing here. Since when it rolls, once it has done so for long enough to be told; otherwise <c>null</c>.</summary>
    public Moment? Take(in Reading reading)
    {
        var at = reading.At.UnixMilliseconds;
        if (at < _rolling.LatestAt) return null;
        var gap = _rolling.LatestAt == 0 ? 0 : MotionTracker.Seconds(_rolling.LatestAt, at);
        if (reading.Kind == ReadingKind.Pressure && reading.Key < _sensors.Length) PressureTracker.Take(ref _sensors[reading.Key], at, reading.Value);
        else if (IsSpeed(reading)) (_rolling.Speed, _rolling.SpeedAt) = (reading.Value, at);
        if (gap is > 0 and <= MotionTracker.LongestGap && Rolls(at)) Add(gap, at);
        if (_rolling.RolledAt != 0 && MotionTracker.Seconds(_rolling.RolledAt, at) > LongestStand) Forget();
        _rolling.LatestAt = at;
        return _rolling.Seconds >= ToldAfter ? new Moment(_rolling.Since) : null;
    }

    /// <summary>Writes everything.</summary>
    public void Write(ByteWriter to)
    {
        to.Int(_sensors.Length);
        to.Raw<SensorState>(_sensors);
        to.Raw<double>(_loaded);
        to.Raw(new ReadOnlySpan<Rolling>(in _rolling));
    }

    /// <summary>Reads what was written; <c>null</c> where the bytes are not whole.</summary>
    public static LooseTrailer? Read(ref ByteReader from)
    {
        var trailer = new LooseTrailer(from.Count());
        from.Raw<SensorState>(trailer._sensors);
        from.Raw<double>(trailer._loaded);
        from.Raw(new Span<Rolling>(ref trailer._rolling));
        return from.EndedWell ? trailer : null;
    }

    private static bool IsSpeed(in Reading reading) => reading.Kind == ReadingKind.Position && reading.Key == (ushort)PositionKey.Speed
        || reading.Kind == ReadingKind.Condition && reading.Key == (ushort)ConditionKey.WheelSpeed;

    private bool Rolls(long at)
    {
        bool air = false, felt = false, still = false;
        foreach (ref readonly var sensor in _sensors.AsSpan())
        {
            if (!PressureTracker.IsKnown(sensor, at)) continue;
            air |= sensor.Mean >= AirFrom;
            if (MotionTracker.Seconds(sensor.MeanAt, at) > 2 * SensorState.BlockSeconds || sensor.RoadNoise < 0) continue;
            felt |= sensor.RoadNoise >= RoadNoiseFrom;
            still |= sensor.RoadNoise < RoadNoiseFrom;
        }

        if (!air) return false;
        // On a ferry the ground passes and the bellows feel nothing.
        if (_rolling.SpeedAt != 0 && MotionTracker.Seconds(_rolling.SpeedAt, at) <= MotionTracker.LongestGap) return _rolling.Speed > MotionState.StandingSpeed && (felt || !still);
        return felt && IsSameLoad();
    }

    /// <summary>Whoever loads it shakes it too, but the load grows.</summary>
    private bool IsSameLoad()
    {
        if (_rolling.Since == 0) return true;
        for (var s = 0; s < _sensors.Length; s++)
        {
            if (Math.Abs(_sensors[s].Mean - _loaded[s]) <= SameLoad) continue;
            Forget();
            return false;
        }

        return true;
    }

    private void Add(double seconds, long at)
    {
        if (_rolling.Since == 0)
        {
            _rolling.Since = at;
            for (var s = 0; s < _sensors.Length; s++) _loaded[s] = _sensors[s].Mean;
        }

        _rolling.Seconds += seconds;
        _rolling.RolledAt = at;
    }

    private void Forget() => (_rolling.Since, _rolling.RolledAt, _rolling.Seconds) = (0, 0, 0);

    [StructLayout(LayoutKind.Sequential)]
    private struct Rolling
    {
        public long LatestAt;
        public long SpeedAt;
        public double Speed;
        public long Since;
        public long RolledAt;
        public double Seconds;
    }
}

using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Running;

namespace AxleTelemetry.Domain.Histories;

/// <summary>
/// A lane's state as bytes and back, bit by bit. Numbers are written as they lie in memory: for the same processor family
/// and the same <see cref="Version"/>, which is raised whenever a field comes, goes, moves or changes its meaning.
/// </summary>
public static class LaneStateCodec
{
    /// <summary>Version of the state, written ahead of it.</summary>
    public const int Version = 5;

    /// <summary>Writes a state.</summary>
    public static void Write(LaneState state, ByteWriter to)
    {
        to.Int(Version);
        to.Int(LengthOf(state));
        Write(state.Payload, to);
        Write(state.Provisional, to);
        to.Raw<double>(state.Known.Cells);
        to.Raw<SensorState>(state.Sensors);
        to.Raw<AxleReport>(state.Axles);
        to.Raw<ConditionState>(state.Conditions);
        to.Raw<double>(state.SplitCounts);
        to.Raw<Findings.EpisodeState>(state.Episodes);
        to.Raw<byte>(state.Told);
        to.Raw(new ReadOnlySpan<MotionState>(in state.Motion));
        to.Raw(new ReadOnlySpan<WindowState>(in state.Window));
        to.Raw(new ReadOnlySpan<LoadState>(in state.Load));
        to.Raw<AxleTally>(state.AxleTallies);
        to.Raw<BodyPayload>(state.Aboard);
        to.Raw(new ReadOnlySpan<UnitTally>(in state.UnitTally));
        to.Raw(new ReadOnlySpan<AccountState>(in state.Account));
        to.Raw(new ReadOnlySpan<PlaceState>(in state.Place));
    }

    /// <summary>Reads a state into one of the same shape.</summary>
    /// <param name="from">Where it was written.</param>
    /// <param name="into">Receives it; left as it was where it is refused.</param>
    /// <returns><c>null</c> where it was read, else why not.</returns>
    public static StateRefusal? Read(ref ByteReader from, LaneState into)
    {
        if (from.Left < 2 * sizeof(int)) return StateRefusal.CutShort;
        if (from.Int() != Version) return StateRefusal.OtherVersion;
        var length = from.Int();
        if (length != LengthOf(into)) return StateRefusal.OtherShape;
        if (length > from.Left) return StateRefusal.CutShort;
        Read(ref from, into.Payload);
        Read(ref from, into.Provisional);
        from.Raw<double>(into.Known.Cells);
        from.Raw<SensorState>(into.Sensors);
        from.Raw<AxleReport>(into.Axles);
        from.Raw<ConditionState>(into.Conditions);
        from.Raw<double>(into.SplitCounts);
        from.Raw<Findings.EpisodeState>(into.Episodes);
        from.Raw<byte>(into.Told);
        from.Raw(new Span<MotionState>(ref into.Motion));
        from.Raw(new Span<WindowState>(ref into.Window));
        from.Raw(new Span<LoadState>(ref into.Load));
        from.Raw<AxleTally>(into.AxleTallies);
        from.Raw<BodyPayload>(into.Aboard);
        from.Raw(new Span<UnitTally>(ref into.UnitTally));
        from.Raw(new Span<AccountState>(ref into.Account));
        from.Raw(new Span<PlaceState>(ref into.Place));
        return null;
    }

    private static void Write(PayloadEstimate estimate, ByteWriter to)
    {
        to.Raw<double>(estimate.Cells);
        to.Int(estimate.Readings);
        to.Flag(estimate.PlaceIsOpen);
    }

    private static void Read(ref ByteReader from, PayloadEstimate estimate)
    {
        from.Raw<double>(estimate.Cells);
        estimate.Readings = from.Int();
        estimate.PlaceIsOpen = from.Flag();
    }

    private static int LengthOf(LaneState state) =>
        SizeOf(state.Payload) + SizeOf(state.Provisional) + SizeOf(state.Known.Cells) + SizeOf(state.Sensors) + SizeOf(state.Axles)
        + SizeOf(state.Conditions) + SizeOf(state.SplitCounts) + SizeOf(state.Episodes) + SizeOf(state.Told)
        + Unsafe.SizeOf<MotionState>() + Unsafe.SizeOf<WindowState>() + Unsafe.SizeOf<LoadState>()
        + SizeOf(state.AxleTallies) + SizeOf(state.Aboard) + Unsafe.SizeOf<UnitTally>() + Unsafe.SizeOf<AccountState>() + Unsafe.SizeOf<PlaceState>();

    private static int SizeOf(PayloadEstimate estimate) => SizeOf(estimate.Cells) + sizeof(int) + 1;

    private static int SizeOf<T>(T[] values)
        where T : unmanaged => MemoryMarshal.AsBytes(values.AsSpan()).Length;
}

/// <summary>Why stored bytes are not read as a state.</summary>
public enum StateRefusal
{
    /// <summary>Another version of the core wrote them: history of the horizon is to be run again.</summary>
    OtherVersion,

    /// <summary>They belong to a lane of other vehicles, limits or sensors.</summary>
    OtherShape,

    /// <summary>Bytes are missing, or too many.</summary>
    CutShort,
}

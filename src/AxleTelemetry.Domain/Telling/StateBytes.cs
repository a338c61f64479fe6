using System.Buffers;

namespace AxleTelemetry.Domain.Telling;

/// <summary>The state of an alert as bytes: a number for the case, then its data.</summary>
internal static class StateBytes
{
    public static void Put(ArrayBufferWriter<byte> to, AlertState state)
    {
        switch (state)
        {
            case AlertState.Unacknowledged: Bytes.Put(to, (byte)0); break;
            case AlertState.Acknowledged held: Bytes.Put(to, (byte)1); Put(to, held.By); break;
            case AlertState.ReturnedUnacknowledged back: Bytes.Put(to, (byte)2); Bytes.Put(to, back.At); break;
            case AlertState.Unstated owed: Bytes.Put(to, (byte)3); Put(to, owed.By); Bytes.Put(to, owed.At); break;
            case AlertState.Normal normal: Bytes.Put(to, (byte)4); Bytes.Put(to, (byte)normal.As); Bytes.Put(to, normal.At); break;
            case AlertState.Shelved shelf:
                Bytes.Put(to, (byte)5); Put(to, shelf.By); Bytes.Put(to, shelf.Reason); Bytes.Put(to, shelf.Until); Put(to, shelf.State); break;
            case AlertState.SuppressedByDesign quiet: Bytes.Put(to, (byte)6); Bytes.Put(to, (byte)quiet.Why); Put(to, quiet.State); break;
            case AlertState.OutOfService away: Bytes.Put(to, (byte)7); Put(to, away.By); Bytes.Put(to, away.Reason); Put(to, away.State); break;
            default: throw new ArgumentOutOfRangeException(nameof(state), state, "Unknown state.");
        }
    }

    public static AlertState Take(ref ReadOnlySpan<byte> from) => Bytes.Small(ref from) switch
    {
        0 => new AlertState.Unacknowledged(),
        1 => new AlertState.Acknowledged(Act(ref from)),
        2 => new AlertState.ReturnedUnacknowledged(Bytes.Moment(ref from)),
        3 => new AlertState.Unstated(Act(ref from), Bytes.Moment(ref from)),
        4 => new AlertState.Normal((ClosedAs)Bytes.Small(ref from), Bytes.Moment(ref from)),
        5 => new AlertState.Shelved(Act(ref from), Bytes.Text(ref from), Bytes.Moment(ref from), Take(ref from).Behind()),
        6 => new AlertState.SuppressedByDesign((Suppression)Bytes.Small(ref from), Take(ref from).Behind()),
        7 => new AlertState.OutOfService(Act(ref from), Bytes.Text(ref from), Take(ref from).Behind()),
        var other => throw new ArgumentOutOfRangeException(nameof(from), other, "Unknown state."),
    };

    public static void Put(ArrayBufferWriter<byte> to, Act act)
    {
        Bytes.Put(to, act.Who);
        Bytes.Put(to, act.At);
    }

    public static Act Act(ref ReadOnlySpan<byte> from) => new(Bytes.Text(ref from), Bytes.Moment(ref from));
}

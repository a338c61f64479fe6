using System.Collections.Immutable;
using System.Runtime.InteropServices;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Storage.Rows;
using AxleTelemetry.Storage.Sqlite;

namespace AxleTelemetry.Storage.Reading;

/// <summary>How an input that is not sealed yet is read from its row.</summary>
internal static class HotInputs
{
    public const string Columns = "position, kind, stream, received, least, greatest, bytes";

    public static LoggedInput Current(Statement read, VehicleKey vehicle) => new(Position.FromStored(read.Long(0)), new InputRow
    {
        Vehicle = vehicle,
        Kind = new RowKind(read.Int(1)),
        Stream = new StreamCode(read.Int(2)),
        Received = new Moment(read.Long(3)),
        Samples = new SampleSpan(new Moment(read.Long(4)), new Moment(read.Long(5))),
        Bytes = Copy(read, 6),
    });

    public static ImmutableArray<byte> Copy(Statement read, int column) => ImmutableCollectionsMarshal.AsImmutableArray(read.Blob(column).ToArray());
}

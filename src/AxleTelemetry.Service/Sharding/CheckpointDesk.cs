using System.Collections.Immutable;
using System.Text;
using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Readings;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Rows;
using RowKind = AxleTelemetry.Storage.Rows.RowKind;

namespace AxleTelemetry.Service.Sharding;

/// <summary>The states of a shard as rows of the journal and back, vehicle by vehicle and kind by kind.</summary>
internal sealed class CheckpointDesk(ShardState state)
{
    private const int Version = 1;

    private readonly ByteWriter _bytes = new();

    /// <summary>The rows of what a batch touched.</summary>
    public ImmutableArray<CheckpointRow> Rows(BatchDraft draft)
    {
        var rows = ImmutableArray.CreateBuilder<CheckpointRow>(draft.Touched.Count);
        foreach (var (vehicle, kind) in draft.Touched) rows.Add(Row(vehicle, kind, withTrack: false));
        return rows.ToImmutable();
    }

    /// <summary>The row of a unit's lane, whole: for a clean stop.</summary>
    public CheckpointRow Whole(VehicleName unit) => Row(unit, Codes.Unit, withTrack: true);

    /// <summary>Takes back a row. False where its bytes are not whole.</summary>
    public bool Restore(CheckpointRow row)
    {
        var vehicle = Codes.Of(row.Vehicle);
        var from = new ByteReader(row.Bytes.AsSpan());
        if (row.Kind == Codes.Pulse) return RestorePulse(vehicle, ref from);
        if (row.Kind == Codes.Unit) return state.History.ReadUnit(vehicle, ref from);
        if (row.Kind == Codes.Facts) return state.History.ReadFacts(vehicle, ref from);
        if (row.Kind == Codes.Words) return RestoreWords(vehicle, ref from);
        if (row.Kind == Codes.Loose) return state.Loose.Read(vehicle, ref from);
        if (row.Kind == Codes.Alerts) return RestoreAlerts(row.Bytes.AsSpan());
        if (row.Kind != Codes.Stopped) return false;
        if (!row.Bytes.IsEmpty) state.Stopped[vehicle] = Encoding.UTF8.GetString(row.Bytes.AsSpan());
        return true;
    }

    private CheckpointRow Row(VehicleName vehicle, RowKind kind, bool withTrack)
    {
        _bytes.Clear();
        if (kind == Codes.Pulse) WritePulse(vehicle);
        else if (kind == Codes.Unit) state.History.WriteUnit(vehicle, _bytes, withTrack);
        else if (kind == Codes.Facts) state.History.WriteFacts(vehicle, _bytes);
        else if (kind == Codes.Words) WriteWords(vehicle);
        else if (kind == Codes.Loose) state.Loose.Write(vehicle, _bytes);
        else if (kind == Codes.Alerts) return Of(vehicle, kind, AlertBookCodec.Encode(new AlertBook().With(vehicle, state.Alerts)));
        else if (kind == Codes.Stopped) return Of(vehicle, kind, Encoding.UTF8.GetBytes(state.Stopped.GetValueOrDefault(vehicle, "")));
        else throw new ArgumentOutOfRangeException(nameof(kind), kind, "No kind of checkpoint.");
        return Of(vehicle, kind, _bytes.Written);
    }

    private static CheckpointRow Of(VehicleName vehicle, RowKind kind, ReadOnlySpan<byte> bytes) => new(Codes.Of(vehicle), kind, Version, [.. bytes]);

    private void WritePulse(VehicleName vehicle)
    {
        _bytes.Long(state.Followed(vehicle)?.HeardAt?.UnixMilliseconds ?? 0);
        state.History.WritePulse(vehicle, _bytes);
    }

    private bool RestorePulse(VehicleName vehicle, ref ByteReader from)
    {
        var heard = from.Long();
        if (heard != 0 && state.Log.Known(vehicle) is { } described) state.Follow(vehicle, described).HeardAt = new Moment(heard);
        return state.History.ReadPulse(vehicle, ref from);
    }

    private void WriteWords(VehicleName vehicle)
    {
        var words = state.Archive.WordsOf(vehicle);
        _bytes.Int(words.Count);
        foreach (var (kind, key) in words)
        {
            _bytes.Byte((byte)kind);
            _bytes.Int(key);
        }
    }

    private bool RestoreWords(VehicleName vehicle, ref ByteReader from)
    {
        for (var left = from.Count(); left > 0; left--) state.Archive.NoteWord(vehicle, ((ReadingKind)from.Byte(), (ushort)from.Int()));
        return from.EndedWell;
    }

    private bool RestoreAlerts(ReadOnlySpan<byte> bytes)
    {
        if (AlertBookCodec.Decode(bytes) is not BookReading.Read read) return false;
        var book = state.AlertDesk.Book;
        state.AlertDesk.Book = book with { Vehicles = book.Vehicles.SetItems(read.Book.Vehicles) };
        return true;
    }
}

using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Lanes;
using AxleTelemetry.Domain.Loads;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Vehicles;

namespace AxleTelemetry.Domain.Histories;

/// <summary>Rows of history as bytes and back. The same row gives the same bytes on every machine.</summary>
public static class HistoryRowCodec
{
    /// <summary>Version of the encoding, written ahead of every row.</summary>
    public const byte Version = 1;

    /// <summary>Writes a row, key and all.</summary>
    public static void Write(HistoryRow row, ByteWriter to)
    {
        to.Byte(Version);
        row.Key.Write(to);
        to.Long(row.Touched.UnixMilliseconds);
        LaneMember.Write(row.Members, to);
        switch (row)
        {
            case HistoryRow.Load load:
                Write(load, to);
                break;
            case HistoryRow.Episode episode:
                Write(episode, to);
                break;
            case HistoryRow.LoadBegun begun:
                to.Long(begun.Since.UnixMilliseconds);
                Write(begun.Payload, to);
                break;
            case HistoryRow.Account account:
                TallyCodec.Write(account.Unit, to);
                to.Int(account.Axles.Length);
                foreach (var axle in account.Axles) TallyCodec.Write(axle, to);
                break;
            case HistoryRow.Parted parted:
                PartedTrailer.Write(parted.Trailers, to);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(row), row, "Unknown kind of row.");
        }
    }

    /// <summary>A row as bytes.</summary>
    public static byte[] Encode(HistoryRow row)
    {
        var to = new ByteWriter();
        Write(row, to);
        return to.Written.ToArray();
    }

    /// <summary>Reads a row. <c>null</c> where the bytes are none, or of another version.</summary>
    public static HistoryRow? Read(ref ByteReader from)
    {
        if (from.Byte() != Version) return null;
        var key = RowKey.Read(ref from);
        var touched = new Moment(from.Long());
        var members = LaneMember.Read(ref from);
        HistoryRow? row = key.Kind switch
        {
            RowKind.Load => ReadLoad(ref from, key, touched, members),
            RowKind.Episode => ReadEpisode(ref from, key, touched, members),
            RowKind.LoadBegun => new HistoryRow.LoadBegun(key, touched, members, new Moment(from.Long()), Estimated(ref from)),
            RowKind.Account => new HistoryRow.Account(key, touched, members, TallyCodec.Unit(ref from), TallyCodec.Axles(ref from)),
            RowKind.Parted => new HistoryRow.Parted(key, touched, members, PartedTrailer.Read(ref from)),
            _ => null,
        };
        return from.Failed ? null : row;
    }

    private static void Write(HistoryRow.Load load, ByteWriter to)
    {
        to.Byte((byte)load.Standing);
        to.Byte((byte)load.Movement);
        Write(load.Configuration, to);
        to.Int(load.Axles.Length);
        foreach (var axle in load.Axles) Write(axle, to);
        Write(load.Gross, to);
        to.Int(load.Payloads.Length);
        foreach (var payload in load.Payloads) Write(payload, to);
        to.Int(load.Withheld.Length);
        foreach (var reason in load.Withheld) to.Byte((byte)reason);
        Write(load.Place, to);
    }

    private static HistoryRow.Load ReadLoad(ref ByteReader from, RowKey key, Moment touched, ImmutableArray<LaneMember> members)
    {
        var (standing, movement, configuration) = ((LoadStanding)from.Byte(), (Movement)from.Byte(), Configuration(ref from));
        var axles = ImmutableArray.CreateBuilder<Estimated?>();
        for (var count = from.Count(); count > 0; count--) axles.Add(PerhapsEstimated(ref from));
        var gross = PerhapsEstimated(ref from);
        var payloads = ImmutableArray.CreateBuilder<Estimated>();
        for (var count = from.Count(); count > 0; count--) payloads.Add(Estimated(ref from));
        var withheld = ImmutableArray.CreateBuilder<Withheld>();
        for (var count = from.Count(); count > 0; count--) withheld.Add((Withheld)from.Byte());
        return new HistoryRow.Load(key, touched, members)
        {
            Standing = standing,
            Movement = movement,
            Configuration = configuration,
            Axles = axles.ToImmutable(),
            Gross = gross,
            Payloads = payloads.ToImmutable(),
            Withheld = withheld.ToImmutable(),
            Place = PlaceOf(ref from),
        };
    }

    private static void Write(HistoryRow.Episode episode, ByteWriter to)
    {
        to.Long(episode.OpenedAt.UnixMilliseconds);
        to.Flag(episode.ClosedAt is not null);
        to.Long(episode.ClosedAt?.UnixMilliseconds ?? 0);
        to.Byte((byte)episode.Level);
        to.Byte((byte)episode.Reached);
        Write(episode.Configuration, to);
        Write(episode.Place, to);
        EpisodeSubjectCodec.Write(episode.Subject, to);
    }

    private static HistoryRow.Episode ReadEpisode(ref ByteReader from, RowKey key, Moment touched, ImmutableArray<LaneMember> members)
    {
        var opened = new Moment(from.Long());
        var (isClosed, closed) = (from.Flag(), new Moment(from.Long()));
        return new HistoryRow.Episode(key, touched, members)
        {
            OpenedAt = opened,
            ClosedAt = isClosed ? closed : null,
            Level = (Level)from.Byte(),
            Reached = (Level)from.Byte(),
            Configuration = Configuration(ref from),
            Place = PlaceOf(ref from),
            Subject = EpisodeSubjectCodec.Read(ref from),
        };
    }

    internal static void Write(Estimated value, ByteWriter to)
    {
        to.Double(value.Mean);
        to.Double(value.Sd);
    }

    internal static Estimated Estimated(ref ByteReader from) => new(from.Double(), from.Double());

    private static void Write(Estimated? value, ByteWriter to)
    {
        to.Flag(value is not null);
        if (value is { } known) Write(known, to);
    }

    private static Estimated? PerhapsEstimated(ref ByteReader from) => from.Flag() ? Estimated(ref from) : null;

    private static void Write(Configuration value, ByteWriter to)
    {
        to.Int((int)value.Raised);
        to.Int((int)value.Unloaded);
        to.Int((int)value.AtCeiling);
        to.Long((long)value.Modes);
    }

    private static Configuration Configuration(ref ByteReader from) =>
        new((uint)from.Int(), (uint)from.Int(), (uint)from.Int(), (ulong)from.Long());

    private static void Write(Place? value, ByteWriter to)
    {
        to.Flag(value is not null);
        if (value is not { } place) return;
        to.Double(place.Latitude);
        to.Double(place.Longitude);
        to.Long(place.At.UnixMilliseconds);
    }

    private static Place? PlaceOf(ref ByteReader from) => from.Flag() ? new Place(from.Double(), from.Double(), new Moment(from.Long())) : null;
}

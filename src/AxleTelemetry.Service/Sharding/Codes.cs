using AxleTelemetry.Domain.Histories;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Storage.Rows;
using RowKind = AxleTelemetry.Storage.Rows.RowKind;

namespace AxleTelemetry.Service.Sharding;

/// <summary>What the codes in the journal mean. A number is never used for something else.</summary>
internal static class Codes
{
    /// <summary>Input: a message; its bytes are the payload, its stream code the <see cref="Messages.Topics.UpStream"/>.</summary>
    public static readonly RowKind MessageInput = new(1);

    /// <summary>Input of the whole shard: a configuration, canonical bytes.</summary>
    public static readonly RowKind ConfigurationInput = new(2);

    /// <summary>Input: what a person did about an alert, JSON.</summary>
    public static readonly RowKind ActionInput = new(3);

    /// <summary>Input: time went on, and something followed from it.</summary>
    public static readonly RowKind TickInput = new(4);

    /// <summary>Input: a stopped lane runs again.</summary>
    public static readonly RowKind ResumeInput = new(5);

    /// <summary>Input: as <see cref="MessageInput"/>, with samples that lie far apart.</summary>
    public static readonly RowKind WideMessageInput = new(6);

    /// <summary>Input: whom an alert reached or did not, JSON.</summary>
    public static readonly RowKind ContactInput = new(7);

    /// <summary>Telling: a change of an alert, JSON.</summary>
    public static readonly RowKind AlertTold = new(1);

    /// <summary>Refusal: a message of a vehicle that nobody described. All other codes are those of the refusal's reason.</summary>
    public static readonly RowKind UnknownVehicleRefusal = new(1000);

    /// <summary>Checkpoint: what changes with every message of a vehicle.</summary>
    public static readonly RowKind Pulse = new(1);

    /// <summary>Checkpoint: up to when there are snapshots of a unit; after a clean stop its lane too.</summary>
    public static readonly RowKind Unit = new(2);

    /// <summary>Checkpoint: couplings and versions of a vehicle, and what was aboard of trailers that left it.</summary>
    public static readonly RowKind Facts = new(3);

    /// <summary>Checkpoint: the alerts of a vehicle.</summary>
    public static readonly RowKind Alerts = new(4);

    /// <summary>Checkpoint: why a lane stopped, UTF-8; empty once it runs again.</summary>
    public static readonly RowKind Stopped = new(5);

    /// <summary>Checkpoint: of which lifts and conditions a vehicle ever had something to say.</summary>
    public static readonly RowKind Words = new(6);

    /// <summary>Checkpoint: how a trailer rolls that hangs on nobody; empty once it hangs on somebody.</summary>
    public static readonly RowKind Loose = new(7);

    /// <summary>Whose row.</summary>
    public static VehicleKey Of(VehicleName vehicle) => new(vehicle.Fleet, vehicle.Id);

    /// <summary>Whose row it is; not for the shard's own.</summary>
    public static VehicleName Of(VehicleKey vehicle) => new(vehicle.Fleet, vehicle.Vehicle);

    /// <summary>The key of a row of history in the journal.</summary>
    public static HistoryKey Of(RowKey key) => new(Of(key.Unit), new RowKind((int)key.Kind), key.At,
        key.Kind == Domain.Histories.RowKind.Episode ? new AlertSubject(key.Finding).ToString() : "");

    /// <summary>A moment of our clock.</summary>
    public static Moment At(DateTimeOffset at) => new(at.ToUnixTimeMilliseconds());
}

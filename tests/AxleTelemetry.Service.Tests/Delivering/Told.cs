using System.Collections.Immutable;
using AxleTelemetry.Domain.Findings;
using AxleTelemetry.Domain.Limits;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Domain.Telling;
using AxleTelemetry.Domain.Vehicles;
using AxleTelemetry.Service.Delivering;
using AxleTelemetry.Service.Telling;
using AxleTelemetry.Service.Tests.Serving;

namespace AxleTelemetry.Service.Tests.Delivering;

/// <summary>Changes of alerts as the journal keeps them.</summary>
internal static class Told
{
    public static readonly Moment Since = new(1_772_431_200_000);

    private static readonly Combination Rigid = ((CouplingResult.Coupled)Combination.Couple([RandomFleet.Scene.Vehicles[0]])).Combination;

    /// <summary>Of the alert of <see cref="Bytes"/> where nothing else is said.</summary>
    public static string Id => Change().Id.ToString();

    public static ImmutableArray<byte> Bytes(int number = 1) => [.. AlertChangeJson.Write(Change(number: number), Rigid)];

    public static ImmutableArray<byte> Bytes(AlertChange change) => [.. AlertChangeJson.Write(change, Rigid)];

    public static ToldChange Of(AlertChange change) => ToldChange.Read("main", [.. AlertChangeJson.Write(change, Rigid)])!;

    /// <summary>A drive axle surely over its limit.</summary>
    public static AlertChange Change(string fleet = "north", string vehicle = "RT-01", FindingKind? kind = FindingKind.Overload, int number = 1) => new()
    {
        Id = new AlertId(new VehicleName(fleet, vehicle), kind is { } found ? new AlertSubject(new FindingKey(found, found is FindingKind.Overload ? new MarginKey(MarginKind.Axle, 0, 1) : default, found is FindingKind.Overload ? -1 : 0)) : AlertSubject.VehicleSilent, Since),
        Number = number,
        At = Since.Plus(60),
        Position = new LogPosition(1, number),
        Cause = new AlertCause.Began(),
        State = new AlertState.Unacknowledged(),
        Priority = AlertPriority.High,
        Rings = true,
        Level = Level.Surely,
        Count = 1,
        With = [],
        Figures = kind is FindingKind.Overload ? new AlertFigures(900, 250, 11_500) : null,
        Source = new LogPosition(1, 1),
    };
}

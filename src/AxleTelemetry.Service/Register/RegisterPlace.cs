using System.Globalization;
using AxleTelemetry.Domain.Quantities;
using AxleTelemetry.Service.Serving;
using AxleTelemetry.Storage.Reading;
using AxleTelemetry.Storage.Rows;

namespace AxleTelemetry.Service.Register;

/// <summary>Where a page of the register ended, as text for 'after': <c>milliseconds/fleet/vehicle/finding</c>.</summary>
internal static class RegisterPlace
{
    public static string Of(AcrossPlace place) => string.Create(CultureInfo.InvariantCulture, $"{place.Time.UnixMilliseconds}/{place.Vehicle.Fleet}/{place.Vehicle.Vehicle}/{place.Key}");

    public static AcrossPlace? Read(Asked asked)
    {
        if (asked.Text("after") is not { } text) return null;
        return Parse(text) ?? asked.Refuse<AcrossPlace?>("after", text, "'next' of the page before");
    }

    public static AcrossPlace? Parse(string text) =>
        text.Split('/') is [var time, var fleet, var vehicle, var key] && long.TryParse(time, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var at)
            ? new AcrossPlace(new Moment(at), new VehicleKey(fleet, vehicle), key)
            : null;

    /// <summary>The order of the register: newest first.</summary>
    public static int Compare(AcrossPlace a, AcrossPlace b)
    {
        var order = b.Time.CompareTo(a.Time);
        if (order == 0) order = string.CompareOrdinal(b.Vehicle.Fleet, a.Vehicle.Fleet);
        if (order == 0) order = string.CompareOrdinal(b.Vehicle.Vehicle, a.Vehicle.Vehicle);
        return order == 0 ? string.CompareOrdinal(b.Key, a.Key) : order;
    }
}

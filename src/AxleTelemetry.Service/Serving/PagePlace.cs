using AxleTelemetry.Messages.Topics;

namespace AxleTelemetry.Service.Serving;

/// <summary>Where a page by vehicle ended, as text for 'after': <c>fleet/vehicle</c>.</summary>
internal static class PagePlace
{
    public static string Of(VehicleName name) => $"{name.Fleet}/{name.Id}";

    public static VehicleName? Read(Asked asked)
    {
        if (asked.Text("after") is not { } text) return null;
        var parts = text.Split('/');
        return parts.Length == 2 && parts.All(p => Id.IsValid(p))
            ? new VehicleName(parts[0], parts[1])
            : asked.Refuse<VehicleName?>("after", text, "'next' of the page before");
    }
}
